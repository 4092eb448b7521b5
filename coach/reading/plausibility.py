"""Asks before something unlikely is believed.  Nothing is swallowed: the person decides, and may keep it.

Each function returns a `Question` or None.  A reading that is kept in spite of one carries a wider doubt, unless
somebody looked twice.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coach.reading.model import Correction, Question, Reading
from coach.shown import Wording

CHI_SQUARE_99 = 9.210
"""Upper 0.99 point for two degrees of freedom (NIST/SEMATECH handbook §1.3.6.7.4, from memory)."""
LARGEST_SD = 100.0
"""No doubt wider than this is carried on, mm."""


@dataclass(frozen=True)
class BeyondTape(Question):
    """A mark where the tape cannot be read any more; mm from the opening's centre."""

    distance: float
    readable: float

    @property
    def out_by(self) -> float:
        return self.distance - self.readable

    def sentence(self, wording: Wording) -> str:
        return (
            f"This mark would lie {wording.length(self.distance)} from the centre, but marks can be read only up to "
            f"{wording.length(self.readable)}. Measure again, or say how sure you are."
        )


@dataclass(frozen=True)
class OutsideImprint(Question):
    """A mark whose centre lies outside the imprint; mm from the opening's centre."""

    distance: float
    rim: float

    @property
    def out_by(self) -> float:
        return self.distance - self.rim

    def sentence(self, wording: Wording) -> str:
        return (
            f"This mark's centre would lie {wording.length(self.distance)} from the centre, outside the imprint, "
            f"whose rim is at {wording.length(self.rim)}. Keep it if that is what you see."
        )


def question_outside(u: float, v: float, aperture_diameter: float | None, tape_radius: float) -> Question | None:
    """Asks about a mark whose centre lies outside the imprint, or where the tape cannot be read any more.

    `aperture_diameter` None: the opening is not known, only the tape is looked at.  All in mm.
    """
    distance = math.hypot(u, v)
    if distance > tape_radius:
        return BeyondTape(distance, tape_radius)
    if aperture_diameter is not None and distance > aperture_diameter / 2:
        return OutsideImprint(distance, aperture_diameter / 2)
    return None


@dataclass(frozen=True)
class Rival:
    """Another reading that is likelier wrong than the new one; mm."""

    station: str
    seen: tuple[float, float]
    chance: float
    """That it is wrong, by what all readings say."""


@dataclass(frozen=True)
class FarFromExpected(Question):
    """A reading far from what the belief expected; mm."""

    seen: tuple[float, float]
    expected: tuple[float, float]
    sd: float
    """Of the expected offset and the reading together, along the axis where it is largest."""
    mirror_fits: bool
    """Whether the same offset on the other face of the tape would be as expected."""
    rival: Rival | None = None
    """The reading that is likelier wrong than this one, if one is."""

    @property
    def out_by(self) -> float:
        return math.dist(self.seen, self.expected)

    @property
    def correction(self) -> Correction | None:
        return "other face" if self.mirror_fits else None

    def sentence(self, wording: Wording) -> str:
        return (
            f"Expected {wording.place(*self.expected)} (give or take {wording.length(2 * self.sd)}), "
            f"but seen {wording.place(*self.seen)}: {wording.length(self.out_by)} away."
            f"{' Was the tape looked at from its sticky side?' if self.mirror_fits else ''}"
            f"{self._blamed(wording)} Measure again, or say how sure you are."
        )

    def _blamed(self, wording: Wording) -> str:
        """Which other reading is the likelier culprit."""
        if self.rival is None:
            return ""
        other = self.rival
        return (
            f" Likelier wrong is the mark at {other.station}, {wording.place(*other.seen)} "
            f"({'more than 99' if other.chance > 0.99 else f'{100 * other.chance:.0f}'} %): without it this one fits."
        )

    def suggestion(self, wording: Wording) -> str:
        return f"{wording.place(-self.seen[0], 0.0)}, as seen from the other face" if self.mirror_fits else ""


def question_far(
    u: float,
    v: float,
    expected_u: float,
    expected_v: float,
    cov: NDArray[np.float64] | Sequence[Sequence[float]],
    sd: float,
) -> FarFromExpected | None:
    """Asks about a reading far from what the belief expected.

    Far: δᵀ(C + sd²·I)⁻¹δ above the 0.99 point of χ² with two degrees of freedom; C is the belief's
    covariance of the expected offset, sd the reading's own doubt (above 0).  When the mirrored reading
    would fit, the other face of the tape is suggested.  All in mm.
    """
    spread = np.asarray(cov, dtype=np.float64) + sd**2 * np.eye(2)
    seen, expected = np.array([u, v]), np.array([expected_u, expected_v])
    if _distance_squared(seen - expected, spread) <= CHI_SQUARE_99:
        return None
    mirror_fits = _distance_squared(np.array([-u, v]) - expected, spread) <= CHI_SQUARE_99
    largest = math.sqrt(float(np.linalg.eigvalsh(spread)[-1]))
    return FarFromExpected((u, v), (expected_u, expected_v), largest, mirror_fits)


def doubtful_sd(reading: Reading) -> float:
    """The doubt to carry on when a questioned reading is kept: at least half of how far it was out, mm."""
    worst = max((question.out_by for question in reading.questions), default=0.0)
    return min(max(reading.sd, worst / 2), LARGEST_SD)


def _distance_squared(gap: NDArray[np.float64], spread: NDArray[np.float64]) -> float:
    return float(gap @ np.linalg.solve(spread, gap))
