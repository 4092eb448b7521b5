"""How lengths and screw turns are said to the person; `coach.units` reads what the person types.

Inside the coach and in its files lengths are mm.  How they are *said* is the person's choice, a `Wording`: whatever
makes words is handed one and makes them with it.
"""

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Literal

from coach.frame import OURS, Frame
from coach.threads import MM_PER_INCH

Unit = Literal["mm", "in"]
Direction = Literal["CLOCKWISE", "COUNTERCLOCKWISE", ""]
TurnsIn = Literal["minutes", "fractions"]

MINUS = "−"
DEGREES_PER_TURN = 360
UNIT_WORDS: dict[Unit, str] = {"mm": "mm", "in": "inches"}
"""The units as a person says them."""
TICKS_PER_TURN = 60
"""Of a clock's face: what a minute hand does in an hour is one turn."""
SPOKEN_PARTS = (64, 60)
"""Turns are spoken as fractions of these many parts, ticks of a clock's face among them; others in decimals."""
FINER_IN_INCHES = 2
"""So many more decimals say about the same in inches."""

_GLYPHS = {
    Fraction(1, 2): "½",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜",
    Fraction(5, 8): "⅝",
    Fraction(7, 8): "⅞",
}
SPELLED = {glyph: f"{part.numerator}/{part.denominator}" for part, glyph in _GLYPHS.items()}
"""Each fraction's one letter, and how it is written without it."""


@dataclass(frozen=True)
class TurnWords:
    """A screw turn as said to the person at the screw, clear without seeing the sign."""

    direction: Direction
    """As seen by someone facing the screw head; empty when there is nothing to turn."""
    fraction: str
    """ "⅛ turn", "3/64 turn", "0.13 turn" or "no turn"; "1/8 turn" without the glyphs."""
    degrees: str
    """ "45°"."""
    amount: str
    """Without its noun and without glyphs: "1/8"."""
    ticks: str
    """Of a clock's face, 60 in a turn: "8 ticks", "7.5 ticks", "1 tick"; minutes are how long things take."""


@dataclass(frozen=True)
class Wording:
    """How this person wants lengths and turns said: passed to whatever makes words, never kept by the program.

    Every method takes mm, or turns with clockwise positive, and gives text.
    """

    unit: Unit = "mm"
    """The unit in which lengths are said, and which a typed length without a unit has."""
    glyphs: bool = True
    """Fractions as one letter (⅛) rather than as 1/8, for terminals that know more than ASCII."""
    turns_in: TurnsIn = "minutes"
    """What is said first of a screw turn: ticks of a clock's face ("minutes" in files), or a fraction of a turn."""
    way_signs: bool = False
    """Whether a direction of turning has its sign before its word in sentences too: where signs are seen."""
    frame: Frame = OURS
    """In whose numbers places of the head are said."""

    def on(self, frame: Frame) -> "Wording":
        """The same where that controller's numbers count: `machine.frame`."""
        return replace(self, frame=frame)

    def signed(self, value: float, places: int = 1) -> str:
        """An offset with its sign: "+1.2 mm", "−0.4 mm", "0.0 mm"; "+0.047 in".  `places` as for mm."""
        digits = self.amount(value, places)
        return f"{'+' if _more_than_nothing(digits) else ''}{digits} {self.unit}"

    def length(self, value: float, places: int = 1) -> str:
        """A size without a plus sign: "18.0 mm", "0.709 in".  `places` as for mm."""
        return f"{self.amount(value, places)} {self.unit}"

    def exact(self, value: float) -> str:
        """A size that somebody set, without needless zeros: "50 mm", "0.5 mm", "0.02 in"."""
        return f"{amount_typed(value, self.unit)} {self.unit}"

    def place(self, u: float, v: float, *, unit: bool = True) -> str:
        """An offset in words: "1.5 mm left, 0.9 mm up", "0.4 mm up", "in the middle".

        Without `unit` the numbers alone, where the unit stands beside them.
        """
        parts = []
        for value, plus, minus in ((u, "right", "left"), (v, "up", "down")):
            digits = self.amount(abs(value), 1)
            if float(digits):
                parts.append(f"{digits}{f' {self.unit}' if unit else ''} {plus if value > 0 else minus}")
        return ", ".join(parts) or "in the middle"

    def head(self, x: float, y: float) -> str:
        """A position of the head, mm in the machine's frame, in the controller's numbers: "X 20, Y 380 mm"."""
        across, along = self.axes(x, y)
        return f"{across}, {along} {self.unit}"

    def axes(self, x: float, y: float) -> tuple[str, str]:
        """The two coordinates of a head position without their unit: "X 20" and "Y 380"."""
        across, along = self.frame.counted(x, y)
        return f"X {self.amount(across, 0)}", f"Y {self.amount(along, 0)}"

    def amount(self, value: float, places: int = 1) -> str:
        """The digits of a length alone, for where the unit stands elsewhere; `places` decimals as for mm."""
        if self.unit == "mm":
            return _digits(value, places)
        return _digits(value / MM_PER_INCH, places + FINER_IN_INCHES)

    def turns(self, turns: float) -> TurnWords:
        """A turn in words.  Exact for multiples of 1/64 and 1/60, else two decimals."""
        return _turn_words(turns, self.glyphs)


IN_MM = Wording()
"""As files, documents and the public interface say it."""


def show_inches(value: float, places: int = 3) -> str:
    """A size in mm, said in inches whatever the shown unit is: "0.709 in"."""
    return f"{_digits(value / MM_PER_INCH, places)} in"


def show_millimetres(value: float, places: int = 1) -> str:
    """A size in mm, said in mm whatever the shown unit is: "18.0 mm"."""
    return f"{_digits(value, places)} mm"


def amount_typed(value: float, unit: Unit) -> str:
    """A length in mm as one would type it in that unit, without the unit: "0.5", "0.02"."""
    return f"{value:g}" if unit == "mm" else f"{round(value / MM_PER_INCH, 4):g}"


def day_words(day: date) -> str:
    """A day as it is said: "3 March 2026"."""
    return f"{day.day} {day:%B %Y}"


def percents(share: float) -> str:
    """A share as it is said: "71 %"."""
    return f"{share:.0%}".replace("%", " %")


def share_within(low: float, share: float, high: float) -> str:
    """A share with its interval: "84 % (80 to 88)"."""
    return f"{percents(share)} ({100 * low:.0f} to {100 * high:.0f})"


def show_degrees(turns: float) -> str:
    """The size of a turn in degrees: "45°", "22.5°"."""
    return f"{abs(turns) * DEGREES_PER_TURN:.1f}".removesuffix(".0") + "°"


def _ticks(size: float) -> str:
    """The ticks of a clock's face in a turn that is not negative: "8 ticks", "7.5 ticks"."""
    ticks = size * TICKS_PER_TURN
    digits = f"{ticks:.1f}".removesuffix(".0") if ticks >= 0.1 else f"{ticks:.2g}"
    return f"{digits} tick{'' if digits == '1' else 's'}"


def _turn_words(turns: float, glyphs: bool) -> TurnWords:
    size = abs(turns)
    if size < 1e-9:
        return TurnWords("", "no turn", "0°" if glyphs else "0 deg", "0", _ticks(0.0))
    direction: Direction = "CLOCKWISE" if turns > 0 else "COUNTERCLOCKWISE"
    degrees = show_degrees(size) if glyphs else show_degrees(size).replace("°", " deg")
    part_of = next((of for of in SPOKEN_PARTS if abs(size * of - round(size * of)) < 1e-6), None)
    if part_of is None:
        # two decimals are finer than a hand; a turn too small for them keeps two digits
        decimal = f"{size:.2f}" if size >= 0.01 else f"{size:.2g}"
        return TurnWords(direction, f"{decimal} turn", degrees, decimal, _ticks(size))
    whole, part = divmod(Fraction(round(size * part_of), part_of), 1)
    noun = " turns" if size > 1 else " turn"
    plain = " ".join(str(piece) for piece in (whole, part) if piece)
    glyph = f"{whole or ''}{_GLYPHS[part]}" if part in _GLYPHS and glyphs else plain
    return TurnWords(direction, glyph + noun, degrees, plain, _ticks(size))


def _more_than_nothing(digits: str) -> bool:
    return digits[0] != MINUS and float(digits) > 0


def _digits(value: float, places: int) -> str:
    """Rounded digits with a typographic minus, and none before a zero."""
    digits = f"{value:.{places}f}"
    return digits.lstrip("-") if float(digits) == 0 else digits.replace("-", MINUS)
