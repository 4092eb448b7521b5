"""What `mark`, `miss` and `nothing` say of the pulse itself: its dose, and what is remarkable in it."""

from argparse import Namespace
from typing import TypedDict

from coach.advice.facts import Shot
from coach.errors import InputError
from coach.session.events import Mark, Pulse
from coach.session.pulse_checks import checked_layers, checked_ms, checked_power
from coach.session.session import Session
from coach.tuning import TUNING
from coach.units import parse_number

SECONDS = 1000.0
"""ms in one."""


class Dose(TypedDict):
    """What a session is told of how a pulse was made."""

    ms: float | None
    power: float | None
    layers: int | None


def dose_of(arguments: Namespace) -> Dose:
    """ms, power and layers as they were typed.  Raises InputError or OutOfReach."""
    return Dose(
        ms=checked_ms(_ms(arguments.ms)),
        power=checked_power(_amount(arguments.power, "the power", "%")),
        layers=checked_layers(_whole(arguments.layers)),
    )


def remarks(session: Session, shot: Shot, before: tuple[Pulse | Mark, ...]) -> list[str]:
    """What is worth saying of the newest pulse beside those before it: no refusal, it has happened."""
    newest = next(e for e in reversed(session.effective) if isinstance(e, Pulse | Mark))
    said = []
    first = next((e.ms for e in before if isinstance(e, Mark) and e.ms), None)
    most = TUNING.doses.most_times
    if first and newest.ms and newest.ms > most * first:
        said.append(
            f"{newest.ms:g} ms is beyond the ceiling, {most:g} times the {first:g} ms that marked first: no more; "
            "does it fire at all?"
        )
    layers = {e.layers for e in before if isinstance(e, Mark)}
    if layers and newest.layers not in layers:
        said.append("The layers of tape are not those of the marks before: their doses are not compared.")
    there = any(isinstance(e, Mark) and (e.x, e.y, e.target) == (shot.x, shot.y, shot.target) for e in before)
    if isinstance(newest, Pulse) and there:
        said.append(
            f"A mark was made at {shot.name} before: if nothing was moved since, this pulse was none, or weak."
        )
    return said


def pulses_of(session: Session) -> tuple[Pulse | Mark, ...]:
    """Every pulse and mark that counts so far."""
    return tuple(e for e in session.effective if isinstance(e, Pulse | Mark))


def _ms(text: str | None) -> float | None:
    if text is None:
        return None
    plain = text.strip().lower()
    if plain.endswith("ms"):
        return _amount(plain.removesuffix("ms"), "the pulse's time", "")
    if plain.endswith("s"):
        seconds = _amount(plain.removesuffix("s"), "the pulse's time", "")
        return None if seconds is None else seconds * SECONDS
    return _amount(plain, "the pulse's time", "")


def _amount(text: str | None, what: str, unit: str) -> float | None:
    return None if text is None else parse_number(text.strip().removesuffix(unit).strip(), what)


def _whole(text: str | None) -> int | None:
    if text is None:
        return None
    if not (text.isascii() and text.isdigit()):
        raise InputError(f"{text[:40]!r} layers of tape", expected="a whole number from 1 to 20", example="2")
    return int(text[:4])
