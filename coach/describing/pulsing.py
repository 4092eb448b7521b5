"""How the machine pulses: whether the controller times it, how its power is set, and where to begin.

What is not answered is not known, and is left out of the profile.
"""

from collections.abc import Mapping
from typing import Any

from coach.describing.moving import NO, YES
from coach.describing.usual import UNKNOWN
from coach.errors import InputError, OutOfReach
from coach.machine import LONGEST_PULSE, SHORTEST_PULSE, Pulse

TIMED, MS, PERCENT, POWER = "pulse.timed", "pulse.ms", "pulse.percent", "pulse.power"
CLOSED = {TIMED: (YES, NO, UNKNOWN), PERCENT: (YES, NO, UNKNOWN)}


def matters(key: str, answers: Mapping[str, str]) -> bool:
    """Whether that question has an answer that counts, as the others stand."""
    needs = {MS: TIMED, POWER: PERCENT}
    return key not in needs or answers.get(needs[key]) == YES


def kept(key: str, text: str) -> str:
    """A pulse's time or power as it is kept: "70 ms", "12 %".  Raises InputError, OutOfReach."""
    return f"{_ms(text):g} ms" if key == MS else f"{_power(text):g} %"


def pulse_table(answers: Mapping[str, str]) -> dict[str, Any]:
    """A profile's `pulse`; empty where nothing is known."""
    table: dict[str, Any] = {
        key.rpartition(".")[2]: answers[key] == YES for key in CLOSED if answers.get(key) in (YES, NO)
    }
    if MS in answers and matters(MS, answers):
        table["ms"] = _ms(answers[MS])
    if POWER in answers and matters(POWER, answers):
        table["power"] = _power(answers[POWER])
    return table


def said_of(pulse: Pulse) -> dict[str, str]:
    """The answers that a profile's `pulse` gives."""
    said = {key: YES if known else NO for key, known in ((TIMED, pulse.timed), (PERCENT, pulse.percent))
            if known is not None}  # fmt: skip
    if pulse.ms is not None:
        said |= {TIMED: YES, MS: f"{pulse.ms:g} ms"}
    if pulse.power is not None:
        said |= {PERCENT: YES, POWER: f"{pulse.power:g} %"}
    return said


def _ms(text: str) -> float:
    plain = text.strip().lower().removesuffix("ms").strip()
    amount = _number(plain, "the pulse's time", "70")
    if amount < SHORTEST_PULSE:
        seconds = f"; in seconds, {amount:g} would be {1000 * amount:g} ms" if amount > 0 else ""
        raise OutOfReach(f"A pulse of {amount:g} ms is none{seconds}", expected="its time in ms", example="70")
    if amount > LONGEST_PULSE:
        raise OutOfReach(
            f"A pulse of {amount:g} ms burns tape", expected=f"at most {LONGEST_PULSE:g} ms", example="70"
        )
    return amount


def _power(text: str) -> float:
    amount = _number(text.strip().removesuffix("%").strip(), "the power", "12")
    if not 0 < amount <= 100:
        raise OutOfReach(f"A power of {amount:g} % cannot be", expected="more than 0 and at most 100 %", example="12")
    return amount


def _number(plain: str, what: str, example: str) -> float:
    whole, _, part = plain.replace(",", ".").partition(".")
    if not (plain.isascii() and (whole + part).isdigit() and len(plain) <= 12):
        start = f"{what[:1].upper()}{what[1:]}"
        raise InputError(f"{start}: {plain[:20]!r} cannot be read", expected="a number", example=example)
    return float(f"{whole or '0'}.{part or '0'}")
