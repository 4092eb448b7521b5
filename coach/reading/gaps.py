"""Calliper gaps from the imprint's rim to the mark: left, right, top and bottom, any three or all four.

A gap is measured along the horizontal or vertical line through the mark's centre, from the round rim to
the mark.  Off the middle that line is a chord, shorter than the diameter 2R:

    left   = √(R² − v²) + u − r        top    = √(R² − u²) − v − r
    right  = √(R² − v²) − u − r        bottom = √(R² − u²) + v − r

with r the mark's radius for gaps to its near edge and r = 0 for gaps to its centre.  (u, v) and r follow
by least squares; there is always at least one gap more than needed, and that checks the others.  Beside three gaps to
the edges stands the mark's width: measured, or carried over from the mark before, with a doubt of its own.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, TypeGuard

import numpy as np

from coach.errors import InputError, OutOfReach
from coach.reading.face import Face, seen_on
from coach.reading.gap_questions import (
    NARROWEST_MARK,
    WIDEST_MARK,
    GapsDoNotAddUp,
    NoRoomForAMark,
    TypedInOtherUnit,
    UnusualMark,
)
from coach.reading.leastsquares import Fit, Vector, fit
from coach.reading.model import CARRIED_SD, SMALLEST_SD, SPAN_SD, Entry, Question, Reading, entry_mm
from coach.shown import IN_MM, Wording
from coach.threads import MM_PER_INCH
from coach.units import Unit

GapsTo = Literal["edge", "centre"]

OPPOSITE = (("left", "right"), ("top", "bottom"))
CHI_SQUARE_99 = {1: 6.635, 2: 9.210}
"""Upper 0.99 points by degrees of freedom (NIST/SEMATECH handbook §1.3.6.7.4, from memory)."""
ROUNDED = 1.0
"""mm; four gaps in hundredths of an inch may miss a chord by half of this, and their doubt by as much."""
NEAR_RIM = 0.999
"""The chord formulas are held inside this share of R, where their slope stays finite."""


@dataclass(frozen=True)
class _Gaps:
    """What was measured, mm: the gaps by side, the opening's radius, the mark's radius if it was typed."""

    sides: Mapping[str, float]
    rim: float
    target: GapsTo
    mark: float | None
    mark_sd: float = SPAN_SD / 2
    """Of the mark's radius: half a span was measured, so half its doubt; more where it was carried over."""

    def chord(self, off: float) -> tuple[float, float]:
        """Half the chord at a distance from the middle, and its slope."""
        off = min(max(off, -NEAR_RIM * self.rim), NEAR_RIM * self.rim)
        half = math.sqrt(self.rim**2 - off**2)
        return half, -off / half

    def model(self, parameters: Vector) -> tuple[Vector, Vector]:
        """Residuals (formula − measured) and slopes over u, v and, to the edge, r; in doubts."""
        u, v, r = [*parameters, 0.0][:3]
        (across, across_v), (along, along_u) = self.chord(v), self.chord(u)
        rows = {
            "left": (across + u - r, 1.0, across_v, -1.0),
            "right": (across - u - r, -1.0, across_v, -1.0),
            "top": (along - v - r, along_u, -1.0, -1.0),
            "bottom": (along + v - r, along_u, 1.0, -1.0),
        }
        lines = [[(rows[side][0] - gap), *rows[side][1:]] for side, gap in self.sides.items()]
        table = np.array(lines) / SPAN_SD
        if self.mark is not None:
            table = np.vstack([table, np.array([r - self.mark, 0.0, 0.0, 1.0]) / self.mark_sd])
        return table[:, 0], table[:, 1 : 1 + len(parameters)]

    def start(self) -> Vector:
        """Good to the last digit when the gaps are: halves of differences, the rest from the chords."""
        gap, radius = self.sides, self.mark or 0.0
        u = (gap["left"] - gap["right"]) / 2 if "left" in gap and "right" in gap else None
        v = (gap["bottom"] - gap["top"]) / 2 if "top" in gap and "bottom" in gap else None
        if self.target == "edge" and self.mark is None:
            radius = self.chord(v or 0.0)[0] - (gap["left"] + gap["right"]) / 2
        if u is None:
            half = self.chord(v or 0.0)[0] - radius
            u = gap["left"] - half if "left" in gap else half - gap["right"]
        if v is None:
            half = self.chord(u)[0] - radius
            v = gap["bottom"] - half if "bottom" in gap else half - gap["top"]
        return np.array([u, v, radius] if self.target == "edge" else [u, v])


def from_gaps(
    *,
    aperture_diameter: float,
    left: Entry | None = None,
    right: Entry | None = None,
    top: Entry | None = None,
    bottom: Entry | None = None,
    to: GapsTo = "edge",
    mark_diameter: Entry | None = None,
    carried_width: Entry | None = None,
    unit: Unit = "mm",
    face: Face = "outer",
    wording: Wording = IN_MM,
) -> Reading:
    """The mark's offset from three or four gaps, with a question when they do not add up.

    `to` tells whether the gaps end at the mark's near edges or at its centre.  To the near edges three
    gaps need `mark_diameter` as well, or `carried_width`, that of the mark before: nobody measured it on this one, so
    it is much less sure, counts only where the other is missing, and the reading tells no width.  None and blank
    entries were not measured; sides as seen on `face`.
    Raises InputError, OutOfReach for a gap that cannot be.
    """
    sides = {"left": left, "right": right, "top": top, "bottom": bottom}
    entered = _Entered(
        {side: entry for side, entry in sides.items() if _given(entry)}, mark_diameter, to, carried_width
    )
    reading = _read(entered, aperture_diameter, unit, wording)
    if reading.questions:
        reading = reading.asked(_question_unit(reading, entered, aperture_diameter, wording))
    return seen_on(reading, face)


@dataclass(frozen=True)
class _Entered:
    """What was typed, whatever its unit."""

    sides: Mapping[str, Entry]
    mark: Entry | None
    to: GapsTo
    carried: Entry | None = None

    @property
    def needs_carried(self) -> bool:
        """Whether the width of the mark before has to stand in: three gaps to the edges, and no width of this one."""
        return self.to == "edge" and len(self.sides) == 3 and not _given(self.mark) and _given(self.carried)


def _read(entered: _Entered, aperture_diameter: float, unit: Unit, wording: Wording) -> Reading:
    """The reading, lengths without a unit in that one, on the face that was looked at.  Raises InputError."""
    to, typed = entered.to, {"method": "gaps", "to": entered.to, "unit": unit}
    sides: dict[str, float] = {}
    for side, entry in entered.sides.items():
        value, typed[side] = entry_mm(entry, unit, f"the {side} gap")
        sides[side] = _possible(value, f"The {side} gap", aperture_diameter, unit, wording)
    mark = None
    if to == "edge" and _given(entered.mark):
        value, typed["mark_diameter"] = entry_mm(entered.mark, unit, "the mark's diameter")
        mark = _possible(value, "The mark's diameter", aperture_diameter, unit, wording) / 2
    if entered.needs_carried and _given(entered.carried):
        value, typed["carried_width"] = entry_mm(entered.carried, unit, "the width of the mark before")
        mark = value / 2
    _enough(len(sides), to, mark)
    doubt = CARRIED_SD / 2 if entered.needs_carried else SPAN_SD / 2
    gaps = _Gaps(sides, aperture_diameter / 2, to, mark, doubt)
    reading = _reading(gaps, fit(gaps.model, gaps.start()), typed)
    return replace(reading, width=None) if entered.needs_carried else reading


def _question_unit(asked: Reading, entered: _Entered, aperture_diameter: float, wording: Wording) -> Question | None:
    """Asks whether the other unit was meant: there the same numbers fit the opening and leave room for a mark."""
    other: Unit = "mm" if asked.typed["unit"] == "in" else "in"
    try:
        reading = _read(entered, aperture_diameter, other, wording)
    except InputError:
        return None
    if reading.u == asked.u and reading.width == asked.width:
        return None  # every number has its unit behind it
    if any(question.out_by > ROUNDED or question.correction for question in reading.questions):
        return None
    room = entered.to == "centre" or reading.width is not None
    return TypedInOtherUnit(other, reading.width, aperture_diameter) if room else None


def _given(entry: Entry | None) -> TypeGuard[Entry]:
    return entry is not None and not (isinstance(entry, str) and not entry.strip())


def _possible(value: float, what: str, aperture_diameter: float, unit: Unit, wording: Wording) -> float:
    """A length between nothing and the opening.  Raises OutOfReach."""
    if not 0 < aperture_diameter < math.inf:
        raise OutOfReach(f"An opening of {wording.exact(aperture_diameter)}", expected="a diameter above 0")
    if value < 0:
        raise OutOfReach(
            f"{what} is negative",
            expected="the distance from the rim to the mark; for a mark across the rim give its offset",
            example="4.2",
        )
    if value > aperture_diameter + 3 * SPAN_SD:
        opening, same = wording.length(aperture_diameter), value / MM_PER_INCH
        slip = unit == "in" and same <= aperture_diameter
        raise OutOfReach(
            f"{what} of {wording.length(value, 2)} is longer than the opening of {opening}",
            expected=f"{'mm' if slip else 'the right unit'} behind it, or a shorter length",
            example=f"{same:.4g} mm" if slip else "4.2 mm or 0.165 in",
        )
    return value


def _enough(count: int, to: GapsTo, mark: float | None) -> None:
    """Raises InputError when the gaps alone cannot tell where the mark is."""
    if count < 3:
        raise InputError(
            f"Too few gaps were entered ({count})" if count else "No gap was entered",
            expected="at least three of left, right, top and bottom",
            example="left 4.2, right 5.0, top 4.6",
        )
    if count == 3 and to == "edge" and mark is None:
        raise InputError(
            "Three gaps to the mark's edges do not tell how wide the mark is",
            expected="the fourth gap too, or the mark's diameter",
            example="mark diameter 3.5",
        )


def _reading(gaps: _Gaps, best: Fit, typed: dict[str, str]) -> Reading:
    u, v, r = [float(value) for value in [*best.parameters, 0.0][:3]]
    sds = np.sqrt(np.diag(best.covariance))
    sd = max(SMALLEST_SD, float(sds[0]), float(sds[1]))
    wide = gaps.target == "edge" and r > 0
    reading = Reading(u, v, sd, "gaps", width=2 * r if wide else None, typed=typed)
    no_room = gaps.target == "edge" and r < -2 * float(sds[2])
    return reading.asked(
        _question_sum(gaps, best), NoRoomForAMark(2 * gaps.rim) if no_room else _question_width(gaps, r)
    )


def _question_width(gaps: _Gaps, radius: float) -> Question | None:
    """Asks about a mark that is wider or narrower than one short pulse makes it."""
    width = round(max(2 * radius, 0.0), 2)  # finer than anybody measures
    if gaps.target == "centre" or NARROWEST_MARK <= width <= WIDEST_MARK:
        return None
    return UnusualMark(width)


def _question_sum(gaps: _Gaps, best: Fit) -> Question | None:
    """Opposite gaps and the mark together make a chord; asks when they miss it by more than doubt allows."""
    freedom = len(best.residuals) - len(best.parameters)
    if best.chi_square <= CHI_SQUARE_99[freedom]:
        return None
    u, v, r = [float(value) for value in [*best.parameters, 0.0][:3]]
    width = 2 * (r if gaps.mark is None else gaps.mark)
    excess = {
        (one, other): gaps.sides[one] + gaps.sides[other] + width - 2 * gaps.chord(off)[0]
        for (one, other), off in zip(OPPOSITE, (v, u), strict=True)
        if one in gaps.sides and other in gaps.sides
    }
    pair = max(excess, key=lambda sides: abs(excess[sides]))
    out_by = max(0.0, *excess.values()) - min(0.0, *excess.values())
    return GapsDoNotAddUp(pair, excess[pair] > 0, out_by, 2 * gaps.rim)
