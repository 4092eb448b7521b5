"""How head, lens and nozzle stand, as believed: lean, nozzle, what is cut off, and how likely all of it is good."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from coach.belief.chances import all_within, beyond, spread_points
from coach.belief.kalman import Array, Moments
from coach.belief.mixture import GaussianMixture
from coach.head.belief import HeadBelief
from coach.head.layout import NOZZLE, OFFSET
from coach.head.prior import way_down
from coach.optics.below import clipped_by_nozzle, degrees_of, slope_of
from coach.optics.gaussian import beam_radius
from coach.optics.legs import leg_lengths

Suspect = Literal["", "mirror 3", "lens", "nozzle"]
NOBODY: Suspect = ""
POINTS = 64
"""Places at which an uncertain nozzle is looked at."""
MATTERS = 4e-3
"""Weight below which a hypothesis changes no chance that is said."""


@dataclass(frozen=True)
class HeadOutlook:
    """Expectations with their doubt, each axis (x to the right, y to the back)."""

    chance: float
    """Probability that lean and nozzle are both good."""
    lean: tuple[float, float]
    """Degrees by which the focused beam leans; positive: it lands farther right, or back, the lower one looks."""
    lean_sd: tuple[float, float]
    nozzle: tuple[float, float]
    """mm, beam minus the nozzle's middle."""
    nozzle_sd: tuple[float, float]
    slope: tuple[float, float]
    """Degrees by which the beam leans without the lens."""
    slope_sd: tuple[float, float]
    clipped: float
    """Fraction of the beam that the nozzle cuts off."""
    clipped_sd: float
    suspect: Suspect
    """What is surely wrong, and most: mirror 3 (it leans without the lens), the lens (only with it), the nozzle."""


def outlook(belief: HeadBelief) -> HeadOutlook:
    """How things stand."""
    layout, mixture = belief.layout, belief.bank.mixture
    lean, lean_sd = _degrees(mixture, layout.lean)
    slope, slope_sd = _degrees(mixture, layout.slope)
    nozzle, cov = mixture.project(layout.nozzle).moments
    clipped = _clipped(belief, spread_points(nozzle, cov, POINTS))
    return HeadOutlook(
        chance_good(belief, mixture),
        lean,
        lean_sd,
        _pair(nozzle),
        _pair(np.sqrt(np.diag(cov))),
        slope,
        slope_sd,
        float(clipped.mean()),
        float(clipped.std()),
        _suspect(belief),
    )


def chance_good(belief: HeadBelief, mixture: GaussianMixture) -> float:
    """P(|lean| and |nozzle offset| are both within what is good)."""
    wanted = mixture.project(belief.layout.wanted)
    kept = wanted.weights > MATTERS
    parts = zip(wanted.weights[kept], wanted.mean[kept], wanted.cov[kept], strict=True)
    return float(sum(weight * all_within(mean, cov, 1.0) for weight, mean, cov in parts))


def chance_beyond(mixture: GaussianMixture, matrix: Array, limit: float) -> float:
    """P(|H·x| > limit) for a pair of numbers."""
    found = mixture.project(matrix)
    return float(found.weights @ beyond(found.mean, found.cov, limit))


def leaning(belief: HeadBelief, matrix: Array) -> float:
    """P(that slope is more than may be)."""
    return chance_beyond(belief.bank.mixture, matrix, slope_of(belief.tuning.head.lean))


def radius_at_lens(belief: HeadBelief) -> float:
    """1/e² radius of a usual beam at the lens, mm, with the head in the middle of its travel."""
    machine, beam = belief.layout.machine, belief.tuning.beam
    way = sum(leg_lengths(machine, machine.bed.width / 2, machine.bed.depth / 2))
    return beam_radius(way, beam.waist, m2=beam.m2)


def _clipped(belief: HeadBelief, points: Array) -> Array:
    lens, w = belief.layout.lens, radius_at_lens(belief)
    return clipped_by_nozzle(lens.nozzle, w, lens.focal, lens.nozzle_distance, np.hypot(*points))


def _degrees(mixture: GaussianMixture, matrix: Array) -> tuple[tuple[float, float], tuple[float, float]]:
    mean, cov = mixture.project(matrix).moments
    x, y = (degrees_of(float(v)) for v in mean)
    sx, sy = (degrees_of(float(v)) for v in np.sqrt(np.diag(cov)))
    return (x, y), (sx, sy)


def _pair(values: Array) -> tuple[float, float]:
    return float(values[0]), float(values[1])


def _suspect(belief: HeadBelief) -> Suspect:
    """Of the parts that are likely out by more than alone may be, the likeliest to be."""
    if not belief.two_heights(lens=False):
        return NOBODY  # with the lens in alone a lean before it and a lens beside the beam show as one
    layout, head, mixture = belief.layout, belief.tuning.head, belief.bank.mixture
    good = slope_of(head.lean)
    found: dict[Suspect, tuple[Moments, float]] = {
        "mirror 3": (mixture.project(layout.slope).moments, good),
        "lens": (lens_beside(belief), good * layout.lens.focal / 1000),
        "nozzle": (mixture.project(layout.own(NOZZLE)).moments, head.nozzle),
    }
    chances = {part: float(beyond(m[None], c[None], limit)[0]) for part, ((m, c), limit) in found.items()}
    told = [part for part, ((mean, cov), _) in found.items() if _apart(mean, cov) >= TOLD]
    sure, likeliest = max(((chances[part], part) for part in told), default=(0.0, NOBODY))
    return likeliest if sure >= SURE else NOBODY


def lens_beside(belief: HeadBelief) -> Moments:
    """How far the lens stands beside the beam, mm, without what a beam that leans makes of it on its way down.

    d − D·θ, with the doubt about the way D.
    """
    layout, mixture = belief.layout, belief.bank.mixture
    down, down_sd = way_down(layout)
    mean, cov = mixture.project(layout.own(OFFSET) - down * layout.slope).moments
    slope, doubt = mixture.project(layout.slope).moments
    return Moments(mean, cov + down_sd**2 * np.diag(slope**2 + np.diag(doubt)))


def _apart(mean: Array, cov: Array) -> float:
    """How many standard deviations from nothing: what was not seen is not named, however wide its doubt."""
    return float(np.sqrt(mean @ np.linalg.solve(cov, mean)))


TOLD = 2.5
"""Standard deviations from nothing at which the marks have told something of a part."""
SURE = 0.9
"""How likely a part must be out before it is named."""
