"""A reading: where a mark lies, how sure that is, and what should be asked about it.

Doubts are standard uncertainties in mm and add in squares (JCGM 100 §5.1.2); a bare half-width a counts
as a/√3 (§4.3.7).
"""

import math
from dataclasses import dataclass, field, replace

from coach.errors import InputError, OutOfReach
from coach.shown import show_exact
from coach.units import Unit, parse_length

Entry = str | float
"""A length as typed, or a number that is mm already."""

CALLIPER_SD = 0.03 / math.sqrt(3)
"""Callipers with inside jaws are allowed ±0.03 mm (DIN 862)."""
RULER_SD = 0.5 / math.sqrt(3)
"""A ruler with whole millimetres is read to the nearest line."""
EDGE_SD = 0.15
"""Judging by eye where a scorch or an imprint's rim ends, or where its middle is (common practice)."""
SPAN_SD = math.hypot(CALLIPER_SD, EDGE_SD, EDGE_SD)
"""A length by callipers between two places that were both judged by eye."""
SMALLEST_SD = 0.1
"""No reading is surer than this: the tape may sit a little off and its imprint is soft (common practice)."""
FARTHEST = 200.0
"""No tape reaches further from the aperture's centre, mm."""


@dataclass(frozen=True)
class Question:
    """Something unlikely.  The person answers: take the suggestion, measure again, or keep it."""

    key: str
    """What kind of question this is, for the front end; the same for the same kind."""
    sentence: str
    suggestion: float | None = None
    """A value that may have been meant, mm."""
    suggestion_text: str = ""
    out_by: float = 0.0
    """By how many mm the questioned value is out."""


@dataclass(frozen=True)
class Reading:
    """A mark's offset from the aperture's centre, mm: u right, v up, facing the tape's outer face."""

    u: float
    v: float
    sd: float
    """One standard uncertainty, for each of u and v, mm."""
    method: str
    notes: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    typed: dict[str, str] = field(default_factory=dict)
    """What was entered, field by field, word for word."""

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


def within_reach(value: float, what: str) -> float:
    """The value, if any tape could be that large.  Raises OutOfReach."""
    if abs(value) <= FARTHEST:
        return value
    raise OutOfReach(
        f"{what[:1].upper()}{what[1:]} of {show_exact(float(f'{value:.6g}'))} cannot be on a tape",
        expected=f"at most {show_exact(FARTHEST)}",
        example="1.5 mm or 1/16 in",
    )
