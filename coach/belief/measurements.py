"""What one pulse tells: each kind of measurement with its matrix and its noise, and the bank after it."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from coach.belief import kalman
from coach.belief.bank import Bank, Hypothesis
from coach.belief.kalman import Array, Moments
from coach.belief.layout import Layout
from coach.belief.mixture import GaussianMixture, normalised
from coach.machine import Target
from coach.optics.legs import leg_lengths
from coach.tuning import TUNING

GRID = 41
"""Points across, in each direction, of the grid that sums a mark off the target."""
REACH = 5.0
"""Half-width of that grid, in standard deviations."""
UNFORESEEN = 1e-6
"""Below this probability a miss cannot be explained by the belief; its direction stays unknown."""


Shape = Literal["round", "crescent", "cut", "double"]


@dataclass(frozen=True)
class Silence:
    """How likely a pulse whose beam is on its target leaves nothing there that could be seen."""

    not_firing: float
    weak: float

    @property
    def chance(self) -> float:
        """P(nothing | on the target)."""
        return self.not_firing + self.weak


@dataclass(frozen=True)
class Sighting:
    """What one pulse showed: a mark at (u, v) mm, or nothing on the target (u and v are None)."""

    station: str
    x: float
    y: float
    target: Target = "head"
    u: float | None = None
    v: float | None = None
    sd: float = TUNING.readings.sd
    """mm on each axis; of a pulse that left nothing, the edge's."""
    wide: bool = False
    """On a wide card in place of tape."""
    shape: Shape = "round"
    ms: float | None = None
    """How long the pulse was, where that is known."""
    power: float | None = None
    """Per cent, likewise."""
    silence: Silence | None = None
    """Of a pulse that left nothing: what else than a miss may be the cause; None: it certainly left the target."""

    @property
    def missed(self) -> bool:
        """No mark was seen on the target."""
        return self.u is None or self.v is None

    @property
    def unexplained(self) -> bool:
        """Nothing was seen, and nobody knows why."""
        return self.missed and self.silence is not None

    @property
    def offset(self) -> Array:
        """(u, v) in mm.  Only for a mark."""
        assert self.u is not None
        assert self.v is not None
        return np.array([self.u, self.v])


def measurement_matrix(layout: Layout, sighting: Sighting) -> Array:
    """H of a sighting, shape (2, n)."""
    return layout.measurement_matrix(sighting.x, sighting.y, sighting.target)


def measurement_noise(layout: Layout, bank: Bank, sighting: Sighting) -> Array:
    """R under every hypothesis, shape (hypotheses, 2, 2) in mm².

    R = (reading·sd)² + (wander·L2)²: a loose mirror 2 is felt in proportion to leg 2.
    """
    reach = leg_lengths(layout.machine, sighting.x, sighting.y)[1] if sighting.target == "head" else 0.0

    def variance(hypothesis: Hypothesis) -> float:
        story = hypothesis.explanation
        return (story.reading * sighting.sd) ** 2 + (story.wander * reach) ** 2

    variances = np.array([variance(hypothesis) for hypothesis in bank.hypotheses])
    return np.asarray(variances[:, None, None] * np.eye(2))


def seen(layout: Layout, bank: Bank, sighting: Sighting) -> Bank:
    """The bank after one pulse: every filter updated, every hypothesis weighed by its likelihood."""
    matrix, noise = measurement_matrix(layout, sighting), measurement_noise(layout, bank, sighting)
    if not sighting.missed:
        return bank.with_mixture(bank.mixture.update(matrix, noise, sighting.offset))
    radius = layout.machine.tape.readable(sighting.target, sighting.wide)
    missed = _missed(bank.mixture, matrix, noise, radius)
    if sighting.silence is None:
        return bank.with_mixture(missed.normalised)
    return _nothing(bank, missed, sighting.silence.chance)


def off_target(layout: Layout, bank: Bank, sighting: Sighting) -> float:
    """Probability that the mark of a pulse there lies beyond its target."""
    matrix, noise = measurement_matrix(layout, sighting), measurement_noise(layout, bank, sighting)
    radius = layout.machine.tape.readable(sighting.target, sighting.wide)
    return float(np.exp(_missed(bank.mixture, matrix, noise, radius).log_weight).sum())


def _nothing(bank: Bank, missed: GaussianMixture, silent: float) -> Bank:
    """The bank after a pulse that left nothing, nobody knows why.

    P(nothing | x) = s + (1 − s)·[x beyond the target], s = P(not firing) + P(too weak).  So
    p(x | nothing) ∝ s·p(x) + (1 − s)·P(beyond)·p(x | beyond): every hypothesis as it was, beside itself after a miss.
    Kept apart they teach no place between the two that nobody saw.
    """
    far = missed.log_weight > np.log(UNFORESEEN)
    if not far.any():
        return bank
    as_before = bank.mixture.log_weight + np.log(silent)
    apart = missed.log_weight[far] + np.log1p(-silent)
    hypotheses = bank.hypotheses + bank.subset(far).hypotheses
    return Bank(
        hypotheses,
        GaussianMixture(
            normalised(np.concatenate([as_before, apart])),
            np.concatenate([bank.mixture.mean, missed.mean[far]]),
            np.concatenate([bank.mixture.cov, missed.cov[far]]),
        ),
    )


def _missed(mixture: GaussianMixture, matrix: Array, noise: Array, radius: float) -> GaussianMixture:
    """The mixture of marks not within `radius` mm of the aperture's centre; its weights sum to that probability.

    The posterior of "the mark is farther out than R" is not Gaussian; it is replaced by the Gaussian with the same
    mean and covariance (moment matching), found by summing over a grid.
    """
    error, cov = kalman.innovation(mixture.components, matrix, noise, np.zeros(2))
    outside, (mean_outside, cov_outside) = _outside_moments(-error, cov, radius)
    gain = kalman.gain_of(mixture.components, matrix, cov)
    mean = mixture.mean + (gain @ (mean_outside + error)[..., None])[..., 0]
    change = gain @ (cov_outside - cov) @ np.swapaxes(gain, -1, -2)
    return GaussianMixture(mixture.log_weight + np.log(outside), mean, kalman.symmetric(mixture.cov + change))


def _outside_moments(mean: Array, cov: Array, radius: float) -> tuple[Array, Moments]:
    """P(|z| > R), E[z | |z| > R] and Cov[z | |z| > R] for each z ~ N(mean, cov), z in mm."""
    axis = np.linspace(-REACH, REACH, GRID)
    unit = np.stack(np.meshgrid(axis, axis, indexing="ij"), axis=-1).reshape(-1, 2)
    weight = np.exp(-0.5 * (unit**2).sum(axis=1))
    points = mean[:, None, :] + unit @ np.swapaxes(np.linalg.cholesky(cov), -1, -2)
    share = weight / weight.sum() * (np.hypot(points[..., 0], points[..., 1]) > radius)
    outside = share.sum(axis=1)
    foreseen = outside > UNFORESEEN
    scaled = share / np.where(foreseen, outside, 1.0)[:, None]
    mean_out = (scaled[..., None] * points).sum(axis=1)
    spread = points - mean_out[:, None, :]
    cov_out = np.einsum("hp,hpi,hpj->hij", scaled, spread, spread)
    anywhere = ((1.2 * radius) ** 2 / 2) * np.eye(2)
    mean_out = np.where(foreseen[:, None], mean_out, mean)
    cov_out = np.where(foreseen[:, None, None], cov_out + 1e-9 * np.eye(2), cov + anywhere)
    return np.maximum(outside, UNFORESEEN), Moments(mean_out, cov_out)
