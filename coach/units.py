"""Numbers, lengths and screw turns: from what a person types, and back to what a person reads.

Inside the coach and in its files lengths are mm and turns are turns with clockwise positive.  A point and a comma
both mark decimals; what could be read in two ways is refused rather than guessed, always as an `InputError`.
How lengths are said is in `coach.shown`.
"""

import math
import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from coach.errors import InputError, OutOfReach
from coach.shown import DEGREES_PER_TURN, MINUS, TICKS_PER_TURN, Unit
from coach.threads import MM_PER_INCH

__all__ = [
    "Length", "Unit", "finite_number", "given_number", "parse_length", "parse_number", "parse_turns", "with_unit",
]  # fmt: skip

MOST_TURNS_AT_ONCE = 1.0
"""No more than one turn between two retests: the mark could leave the tape."""
LONGEST_ENTRY = 40
"""Characters; nobody types a longer number."""

_PLAIN = re.compile(r"[0-9]+|[0-9]*[.,][0-9]+")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_FRACTION = re.compile(r"(?:([0-9]{1,6})(?:\s+|\s*-\s*))?([0-9]{1,6})\s*/\s*([0-9]{1,6})")
_LENGTH_UNIT = re.compile(r"(.*?)\s*(mm|cm|inches|inch|in\.?|″|”|\"|'')?", re.DOTALL | re.IGNORECASE)
_CW = r"cw|clockwise"
_CCW = r"ccw|(?:counter|anti)[\s-]?clockwise"
_TURN = re.compile(
    rf"(?:(?P<before>{_CCW}|{_CW})\s+)?(?P<amount>.*?)\s*"
    rf"(?:(?P<degrees>°|º|deg\.?|degrees?)|(?P<ticks>ticks?|min\.?|mins|minutes?))?\s*(?:turns?)?"
    rf"(?:\s*(?P<after>{_CCW}|{_CW}))?",
    re.DOTALL,
)


@dataclass(frozen=True)
class Length:
    """A length in mm that remembers how it was typed and in which system of units."""

    mm: float
    typed: str
    unit: Unit


def parse_number(text: str, what: str = "a number") -> float:
    """A plain decimal number: "1.5", "1,5", "+2", "−0,4".  Raises InputError naming `what`."""
    asked = _Asked(text, what, "one number with at most one point or comma", "1.5 or 1,5")
    return float(_signed(text, _decimal, asked)[1])


def parse_length(text: str, unit: Unit = "mm", what: str = "a length") -> Length:
    """A length; a unit typed behind it (mm, cm, in, inch, inches, ″, ") wins over `unit`.

    Inches may be fractions: "3/8 in", "1 1/4 in", "1½ in".  Raises InputError naming `what`.
    """
    asked = _Asked(text, what, "a length in mm, cm or inches", "1.5, 1,5 mm or 3/8 in")
    amount, typed_unit = _split_unit(text)
    system = typed_unit or unit
    if system not in ("mm", "cm"):
        value = _signed(amount, _decimal_or_fraction, asked)[1]
        return Length(float(value * Fraction(str(MM_PER_INCH))), text.strip(), "in")
    if _fraction(_split_sign(amount)[1]) is not None:
        raise InputError(
            f"{asked.start}: {asked.quoted} is a fraction, and fractions are read in inches only",
            expected="a decimal number for mm, or the unit behind the fraction",
            example="9.5 mm or 3/8 in",
        )
    value = _signed(amount, _decimal, asked)[1]
    return Length(float(value * (10 if system == "cm" else 1)), text.strip(), "mm")


def with_unit(text: str, unit: str) -> str:
    """A typed length with that unit behind it, unless a unit stands there already; nothing typed stays nothing."""
    return text if not text.strip() or _split_unit(text)[1] else f"{text.strip()} {unit}"


def parse_turns(text: str, what: str = "a screw turn") -> float:
    """A screw turn in turns, clockwise positive: "1/8", "⅛", "-1/4", "0,125", "45°", "7 ticks", "1/8 ccw".

    Ticks, also typed as minutes, are those of a clock's face, 60 a turn.  A lone ' is none of them: it could mean a
    sixtieth of a degree.
    Raises InputError naming `what`, also when sign and word contradict; OutOfReach above one turn.
    """
    asked = _Asked(
        text,
        what,
        "a part of one turn, ticks of a clock's face or degrees, clockwise positive, or cw or ccw behind it",
        "1/8, 0.125, 7 ticks, 45° or 1/8 ccw",
    )
    parts = _TURN.fullmatch(text.strip().lower())
    if parts is None or (parts["before"] and parts["after"]):
        raise asked.refusal(f"cannot read {asked.quoted}")
    if re.search(r"[0-9]\s*['′’m]$", parts["amount"]):
        raise asked.refusal(f"{asked.quoted} could mean more than one thing; write ticks for those of a clock's face")
    per_turn = DEGREES_PER_TURN if parts["degrees"] else TICKS_PER_TURN if parts["ticks"] else 1
    sign, value = _signed(parts["amount"], _decimal_or_fraction if per_turn == 1 else _decimal, asked)
    turns = value / per_turn
    word = parts["before"] or parts["after"]
    if word:
        clockwise = word in ("cw", "clockwise")
        if sign == ("-" if clockwise else "+"):
            raise asked.refusal(f"the sign and the word of {asked.quoted} contradict each other")
        turns = abs(turns) if clockwise else -abs(turns)
    if abs(turns) > MOST_TURNS_AT_ONCE:
        degrees_meant = "" if per_turn > 1 else "; for ticks of a clock's face write 7 ticks, for degrees 45°"
        expected = f"one turn at most before the next mark{degrees_meant}"
        raise OutOfReach(
            f"{asked.start}: {asked.quoted} is more than one turn", expected=expected, example=asked.example
        )
    return float(turns)


@dataclass(frozen=True)
class _Asked:
    """What was asked for and what came: the material of a refusal."""

    text: str
    what: str
    expected: str
    example: str

    @property
    def start(self) -> str:
        return self.what[:1].upper() + self.what[1:]

    def __post_init__(self) -> None:
        if len(self.text) > LONGEST_ENTRY:
            raise self.refusal(f"{self.quoted} is too long")

    @property
    def quoted(self) -> str:
        text = " ".join(self.text.split())
        return repr(text if len(text) <= 40 else text[:40] + "…")

    def refusal(self, trouble: str) -> InputError:
        return InputError(f"{self.start}: {trouble}", expected=self.expected, example=self.example)


# Values stay exact fractions until they are handed out: 3/8 in is 9.525 mm, and nothing overflows.


def given_number(what: str, value: Any, unit: str, example: str) -> float:
    """A number that a caller of the public interface gave: no text, no yes or no.  Raises InputError."""
    try:
        if isinstance(value, str | bool):
            raise TypeError
        return float(value)
    except (TypeError, ValueError):
        raise InputError(f"{what} is {value!r}, which is not a number", expected=unit, example=example) from None


def finite_number(what: str, value: Any, unit: str, example: str) -> float:
    """The same, neither infinite nor undefined.  Raises InputError."""
    number = given_number(what, value, unit, example)
    if not math.isfinite(number):
        raise InputError(f"{what} is {number}, which is not a finite number", expected=unit, example=example)
    return number


def _signed(amount: str, read: Callable[[str], Fraction | None], asked: _Asked) -> tuple[str, Fraction]:
    """The typed sign ("", "+" or "-") and the signed value of an amount.  Raises InputError."""
    sign, rest = _split_sign(amount)
    if not rest:
        raise asked.refusal("nothing was entered" if not asked.text.strip() else f"no number in {asked.quoted}")
    if _THOUSANDS.fullmatch(rest):
        thousands, decimals = rest.replace(",", ""), rest.replace(",", ".")
        raise asked.refusal(f"{asked.quoted} could mean {thousands} or {decimals}; write the one that is meant")
    value = read(rest)
    if value is None:
        several = len(re.findall("[.,]", rest)) > 1 and not re.search(r"[^0-9.,\s]", rest)
        reason = "has more than one point or comma" if several else "cannot be read"
        raise asked.refusal(f"{asked.quoted} {reason}")
    return sign, -value if sign == "-" else value


def _split_sign(amount: str) -> tuple[str, str]:
    amount = amount.strip()
    if amount[:1] in ("-", MINUS, "–"):
        return "-", amount[1:].lstrip()
    return ("+", amount[1:].lstrip()) if amount[:1] == "+" else ("", amount)


def _split_unit(text: str) -> tuple[str, str]:
    """The amount and the unit typed behind it, in small letters, or "" where none was typed."""
    parts = _LENGTH_UNIT.fullmatch(text.strip())
    return (parts[1], (parts[2] or "").lower()) if parts else (text, "")


def _decimal(rest: str) -> Fraction | None:
    return Fraction(rest.replace(",", ".")) if _PLAIN.fullmatch(rest) else None


def _fraction(rest: str) -> Fraction | None:
    """A fraction such as "1/8", "1 1/4", "1-1/4" or "1½", or None."""
    spread = "".join(
        f" {unicodedata.normalize('NFKC', sign)}" if unicodedata.decomposition(sign).startswith("<frac") else sign
        for sign in rest
    )
    parts = _FRACTION.fullmatch(spread.replace("\N{FRACTION SLASH}", "/").strip())
    if parts is None:
        return None
    whole, above, below = int(parts[1] or 0), int(parts[2]), int(parts[3])
    if below == 0 or (parts[1] and above >= below):
        return None
    return whole + Fraction(above, below)


def _decimal_or_fraction(rest: str) -> Fraction | None:
    value = _decimal(rest)
    return _fraction(rest) if value is None else value
