"""Which part drifts, and how fast: a weighted fit over every story of who drifts, each as likely as it explains it.

Of each part's two numbers (one of the power's), with Δ_k the length of interval k:

    d_k = ρ·Δ_k + w_k + (ω_{k+1} − ω_k) + e_k,    w_k ~ N(0, q²·Δ_k),    ω ~ N(0, day²),    e as the marks have it
    ρ ~ N(0, τ²) of a part that drifts (with a q of its own), 0 of one that does not (q the rest's)

One story is who drifts, how fast about (τ) and how evenly (q).  Given a story all is Gaussian: with V = Cov(d) and
C = Cov(y, d) of whatever is asked, y | d ~ N(C·V⁻¹·d, Cov(y) − C·V⁻¹·Cᵀ), and log N(d; 0, V) weighs the story.  With
τ → ∞ for every part this is the weighted least-squares fit with its covariance (`plain`; `tests/history/test_fit.py`:
GUM H.3, scipy).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from coach.belief.kalman import Array, Mask, Moments
from coach.belief.mixture import GaussianMixture, normalised
from coach.history.happenings import Part
from coach.history.series import Series
from coach.tuning import TUNING, Tuning
from coach.tuning.drifting import Drifting

NO_WORD = 30.0
"""mrad, mm or a logarithm: how far a part may have gone in an interval that says nothing of its drift."""
FREE = 1e4
"""A year: a rate beforehand so wide that only what was seen counts, and what nobody saw stays a number."""
MOST_AT_ONCE = 2
"""Parts that drift at the same time."""


@dataclass(frozen=True)
class Way:
    """How one part may behave: its rate a year (τ, 0 of one that does not drift) and its wandering in a year (q)."""

    rate: float
    walk: float
    chance: float

    @property
    def drifts(self) -> bool:
        """Whether it goes on in one direction."""
        return self.rate > 0


def ways(part: Part, drifting: Drifting) -> tuple[Way, ...]:
    """How that part may behave, staying where it is first."""
    rates: tuple[float, ...]
    walks: tuple[float, ...]
    match part:
        case "opening":
            return (Way(0.0, drifting.rest_centre, 1.0),)
        case "power":
            rest, rates, walks = drifting.rest_power, (drifting.power,), (drifting.rest_power,)
        case "centre":
            rest = drifting.rest_centre
            rates, walks = (
                (drifting.slow_centre, drifting.fast_centre),
                (drifting.even_centre, drifting.uneven_centre),
            )
        case _:
            rest = drifting.rest_slope
            rates, walks = (drifting.slow_slope, drifting.fast_slope), (drifting.even_slope, drifting.uneven_slope)
    share = (1 - drifting.still) / (len(rates) * len(walks))
    return (Way(0.0, rest, drifting.still), *(Way(t, q, share) for t in rates for q in walks))


@dataclass(frozen=True, eq=False)
class Stories:
    """Every story with its weight, and under each what is believed of rates, of how it stands now, of what moved."""

    parts: tuple[Part, ...]
    stories: tuple[tuple[Way, ...], ...]
    rates: GaussianMixture
    """Of every number, a year: what a part moves on; 0 of one that does not drift, to rounding."""
    moved: GaussianMixture
    """Of every number: by how much it moved over the intervals that say something of it."""
    ahead: GaussianMixture
    """Rates, then by how much it stands elsewhere now than the last visit left it."""
    steps: Array
    """(stories, intervals, n): by how much each interval moved it, as expected."""

    def drifting(self, part: Part) -> Mask:
        """The mask of the stories in which that part drifts."""
        at = self.parts.index(part)
        return np.array([story[at].drifts for story in self.stories])

    def chance(self, part: Part) -> float:
        """The probability that it drifts."""
        return float(self.rates.weights[self.drifting(part)].sum())


def told(series: Series, tuning: Tuning = TUNING) -> Stories:
    """What these intervals say."""
    drifting, each = tuning.drifting, series.each
    choices = [ways(part, drifting) for part in series.parts]
    stories = tuple(s for s in product(*choices) if sum(way.drifts for way in s) <= MOST_AT_ONCE)
    chances = np.log([float(np.prod([way.chance for way in story])) for story in stories])
    rate = np.repeat([[way.rate for way in story] for story in stories], each, axis=1)
    walk = np.repeat([[way.walk for way in story] for story in stories], each, axis=1)
    fit = _Fit.of(series, rate, walk, drifting)
    log_weight = normalised(chances + fit.log_evidence)

    def mixture(cross: Array, prior: Array) -> GaussianMixture:
        mean, cov = fit.given(cross, prior)
        return GaussianMixture(log_weight, mean, cov)

    size = rate.shape[1]
    rates, moved = _of_rates(series, rate), _of_moved(series, rate, walk)
    now = _of_now(series, len(stories), drifting)
    none = np.zeros((len(stories), size, size))
    prior = np.block([[rates[1], none], [none, now[1]]])
    steps = _of_steps(series, rate, walk)
    return Stories(
        series.parts,
        stories,
        mixture(*rates),
        mixture(*moved),
        mixture(np.concatenate([rates[0], now[0]], axis=1), prior),
        fit.mean(steps).reshape(len(stories), -1, size),
    )


def plain(series: Series, tuning: Tuning = TUNING) -> tuple[Moments, Moments]:
    """The weighted fit in which every part is free to drift: of what each number moved, and of its rate a year.

    ρ = (XᵀV⁻¹X)⁻¹·XᵀV⁻¹d with that covariance, X the intervals' lengths; V has beside the marks' doubts what every
    part wanders, drifting or not.
    """
    still = [ways(part, tuning.drifting)[0] for part in series.parts]
    walk = np.repeat([[way.walk for way in still]], series.each, axis=1)
    free = np.repeat([part != "opening" for part in series.parts], series.each)
    fit = _Fit.of(series, np.zeros_like(walk), walk, tuning.drifting)
    seen = series.years[:, None] * ~_wide(series) * free
    design = _spread(seen)
    cov = np.linalg.inv(design @ fit.inverse[0] @ design.T + np.eye(seen.shape[1]) / FREE**2)
    rates = Moments(cov @ (design @ fit.solved[0]), cov)
    total = seen.sum(axis=0)
    return Moments(total * rates.mean, total[:, None] * cov * total), rates


@dataclass(frozen=True, eq=False)
class _Fit:
    """V⁻¹ of every story at what was seen, and the story's likelihood."""

    inverse: Array
    solved: Array
    log_evidence: Array

    @classmethod
    def of(cls, series: Series, rate: Array, walk: Array, drifting: Drifting) -> "_Fit":
        count, size = series.seen.shape
        years = series.years
        own = rate[:, None, None, :] ** 2 * _both(series, np.outer(years, years))
        own = own + walk[:, None, None, :] ** 2 * np.diag(years)[None, :, :, None]
        own = own + day_to_day(series, drifting) * _differences(count)[None, :, :, None]
        own = own + NO_WORD**2 * np.eye(count)[None, :, :, None] * _wide(series)[None, :, None, :]
        full = np.zeros((len(rate), count, size, count, size))
        every = np.arange(size)
        full[:, :, every, :, every] = np.moveaxis(own, -1, 0)
        cov = full.reshape(len(rate), count * size, count * size) + series.noise
        seen = series.seen.ravel()
        inverse = np.linalg.inv(cov)
        solved = inverse @ seen
        _, log_det = np.linalg.slogdet(cov)
        return cls(np.asarray(inverse, dtype=np.float64), solved, np.asarray(-0.5 * (solved @ seen + log_det)))

    def mean(self, cross: Array) -> Array:
        """C·V⁻¹·d."""
        return np.asarray((cross @ self.solved[..., None])[..., 0])

    def given(self, cross: Array, prior: Array) -> tuple[Array, Array]:
        """Mean and covariance of what has that prior covariance and that covariance with what was seen."""
        cov = prior - cross @ self.inverse @ np.swapaxes(cross, -1, -2)
        return self.mean(cross), np.asarray((cov + np.swapaxes(cov, -1, -2)) / 2)


def _wide(series: Series) -> Mask:
    """(intervals, n): `blind` for every number."""
    return np.repeat(series.blind, series.each, axis=1)


def _both(series: Series, matrix: Array) -> Array:
    """(intervals, intervals, n): a matrix over the intervals, where both say something of that number."""
    seeing = ~_wide(series)
    return np.asarray(matrix[:, :, None] * (seeing[:, None, :] & seeing[None, :, :]))


def _differences(count: int) -> Array:
    """Cov(ω_{k+1} − ω_k): 2 on the diagonal, −1 beside it."""
    return np.asarray(2.0 * np.eye(count) - np.eye(count, k=1) - np.eye(count, k=-1))


def day_to_day(series: Series, drifting: Drifting) -> Array:
    """day² of every number."""
    sizes = {"power": 0.0, "centre": drifting.day_centre, "opening": drifting.day_centre}
    return np.repeat([sizes.get(part, drifting.day_slope) ** 2 for part in series.parts], series.each)


def _spread(values: Array) -> Array:
    """(…, intervals, n), each number's own covariance with each interval, as (…, n, intervals·n)."""
    size = values.shape[-1]
    full = values[..., None, :, :] * np.eye(size)[:, None, :]
    return np.asarray(full.reshape(*values.shape[:-2], size, -1))


def _of_rates(series: Series, rate: Array) -> tuple[Array, Array]:
    """Cov(ρ, d_k) = τ²·Δ_k where it is seen, and Cov(ρ) = τ²."""
    seen = series.years[:, None] * ~_wide(series)
    return _spread(rate[:, None, :] ** 2 * seen), rate[:, :, None] ** 2 * np.eye(rate.shape[1])


def _of_moved(series: Series, rate: Array, walk: Array) -> tuple[Array, Array]:
    """The sum M of ρ·Δ_k + w_k where it is seen: Cov(M, d_k) = τ²·T·Δ_k + q²·Δ_k, Cov(M) = τ²·T² + q²·T."""
    seen = series.years[:, None] * ~_wide(series)
    total = seen.sum(axis=0)
    grown = rate**2 * total + walk**2
    return _spread(grown[:, None, :] * seen), (grown * total)[:, :, None] * np.eye(rate.shape[1])


def _of_steps(series: Series, rate: Array, walk: Array) -> Array:
    """Cov(ρ·Δ_j + w_j, d_k) = τ²·Δ_j·Δ_k + q²·Δ_k·[j = k], (stories, intervals·n, intervals·n)."""
    count, size = series.seen.shape
    years = series.years
    values = rate[:, None, None, :] ** 2 * _both(series, np.outer(years, years))
    values = values + walk[:, None, None, :] ** 2 * _both(series, np.diag(years))
    full = np.zeros((len(rate), count, size, count, size))
    every = np.arange(size)
    full[:, :, every, :, every] = np.moveaxis(values, -1, 0)
    return full.reshape(len(rate), count * size, count * size)


def _of_now(series: Series, stories: int, drifting: Drifting) -> tuple[Array, Array]:
    """By how much it stands elsewhere than was left: −(e + ω); ω is in the last interval, and e where it is shared.

    Cov(−(e + ω), d_last) = −(P·[shared] + day²).
    """
    count, size = series.seen.shape
    day = np.diag(day_to_day(series, drifting))
    cross = np.zeros((size, count, size))
    cross[:, -1, :] = -(series.now * series.shared + day)
    cov = series.now + day
    whole = cross.reshape(size, count * size)
    return np.broadcast_to(whole, (stories, *whole.shape)), np.broadcast_to(cov, (stories, size, size))


def same_way(steps: Array, direction: Array, seeing: Sequence[bool]) -> int:
    """How many of the newest intervals in a row moved it that way; those that say nothing of it end the row."""
    count = 0
    for step, seen in zip(steps[::-1], reversed(list(seeing)), strict=True):
        if not seen or float(step @ direction) <= 0:
            break
        count += 1
    return count
