"""A reading: where a mark lies, how sure that is, and what should be asked about it.

Doubts are standard uncertainties in mm and add in squares (JCGM 100 §5.1.2); a bare half-width a counts
as a/√3 (§4.3.7).
"""

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass, field, replace
from typing import Literal

from coach.errors import InputError, OutOfReach
from coach.shown import Wording
from coach.units import Unit, parse_length

Entry = str | float
"""A length as typed, or a number that is mm already."""
Face = Literal["outer", "sticky"]
"""Which face of the tape the person looks at."""
Correction = Literal["other face", "to the centre", "in inches", "in mm"]
"""What may have been meant, and can be taken as an answer: the tape's other face, gaps to the mark's centre, numbers
without a unit in the other one."""

CALLIPER_SD = 0.03 / math.sqrt(3)
"""Callipers with inside jaws are allowed ±0.03 mm (DIN 862)."""
RULER_SD = 0.5 / math.sqrt(3)
"""A ruler with whole millimetres is read to the nearest line."""
EDGE_SD = 0.15
"""Judging by eye where a scorch or an imprint's rim ends, or where its middle is (common practice)."""
SPAN_SD = math.hypot(CALLIPER_SD, EDGE_SD, EDGE_SD)
"""A length by callipers between two places that were both judged by eye."""
CARRIED_SD = 1.0
"""The width of the mark before, taken for this one: another dose, focus or tape may make it a millimetre wider or
narrower (assumed, no source)."""
SMALLEST_SD = 0.1
"""No reading is surer than this: the tape may sit a little off and its imprint is soft (common practice)."""
FARTHEST = 200.0
"""No tape reaches further from the aperture's centre, mm."""


class Question(ABC):
    """Something unlikely.  The person answers: take the correction, measure again, it is so, or it is doubtful."""

    @property
    def out_by(self) -> float:
        """By how many mm the questioned value is out."""
        return 0.0

    @property
    def correction(self) -> Correction | None:
        """What may have been meant, if anything is likely."""
        return None

    @abstractmethod
    def sentence(self, wording: Wording) -> str:
        """What is asked."""

    def suggestion(self, wording: Wording) -> str:
        """The correction in a few words; "" where there is none."""
        return ""


@dataclass(frozen=True)
class Reading:
    """A mark's offset from the aperture's centre, mm: u right, v up, facing the tape's outer face."""

    u: float
    v: float
    sd: float
    """One standard uncertainty, for each of u and v, mm."""
    method: str
    width: float | None = None
    """The mark's width, where it follows from what was measured, mm."""
    face: Face = "outer"
    """The face that was looked at; u is right on the outer one whichever it was."""
    questions: tuple[Question, ...] = ()
    looked_twice: bool = False
    """The person looked again and says that it is so: its questions make it no less sure."""
    typed: dict[str, str] = field(default_factory=dict)
    """What was entered, field by field, word for word."""

    def notes(self, wording: Wording) -> tuple[str, ...]:
        """What else is worth saying of it."""
        wide = () if self.width is None else (f"The mark is about {wording.length(self.width)} wide.",)
        swapped = ("Seen from the sticky side: left and right were swapped.",) if self.face == "sticky" else ()
        return (*wide, *swapped)

    def asked(self, *questions: Question | None) -> "Reading":
        """The same reading with these questions added; None stands for nothing to ask."""
        return replace(self, questions=self.questions + tuple(q for q in questions if q is not None))


def entry_mm(entry: Entry, unit: Unit, what: str) -> tuple[float, str]:
    """An entry in mm, and as it was typed.  Text without a unit is in `unit`.  Raises InputError."""
    if isinstance(entry, str):
        return parse_length(entry, unit, what).mm, entry.strip()
    if not math.isfinite(entry):
        raise InputError(f"{what[:1].upper()}{what[1:]} is not a number", expected="a length in mm")
    return float(entry), f"{entry:g} mm"


def within_reach(value: float, what: str, wording: Wording) -> float:
    """The value, if any tape could be that large.  Raises OutOfReach."""
    if abs(value) <= FARTHEST:
        return value
    raise OutOfReach(
        f"{what[:1].upper()}{what[1:]} of {wording.exact(float(f'{value:.6g}'))} cannot be on a tape",
        expected=f"at most {wording.exact(FARTHEST)}",
        example="1.5 mm or 1/16 in",
    )
