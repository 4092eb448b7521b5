"""What is believed of the power that each station gets, from the intervals that the cuts left.

The logarithm of the speed at which a sheet is just cut through is y_s = l_s + e_s: l_s the station's, in the ratio of
the delivered powers (P/(t·v) constant, common practice, to first order), e_s ~ N(0, σ²) that place's of the sheet.
Some stations get what is usual, l_s = μ, others l_s ~ N(μ, τ²); μ is open, τ and σ stand on a grid:

    y_s | μ, τ, σ  ~  π·N(μ, σ²) + (1 − π)·N(μ, τ² + σ²), known to lie in its interval
    l_s | y_s      =  μ, or of the others normal about μ + k·(y_s − μ), variance τ²·(1 − k), k = τ² / (τ² + σ²)

Draws of it are made evenly and always the same, so that one question has one answer.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coach.cutting.likelihood import Array, between, cumulative, logs
from coach.cutting.limits import Limit
from coach.tuning.cutting import Cutting

DRAWS = 2000
SPREADS = 6
MEANS = 121
BEYOND = 1.0
"""Logarithm by which μ may lie beyond all speeds that were tried."""
TABLE, TABLE_ENDS = 4001, 10.0


@dataclass(frozen=True, eq=False)
class _Grid:
    """Everything that the stations share: one row for each combination."""

    mean: Array
    """μ."""
    spread: Array
    """τ; 0 where all stations are alike."""
    noise: Array
    """σ."""
    prior: Array

    @classmethod
    def over(cls, low: Array, high: Array, cutting: Cutting) -> "_Grid":
        ends = np.concatenate((low, high))
        ends = ends[np.isfinite(ends)]
        means = np.linspace(ends.min() - BEYOND, ends.max() + BEYOND, MEANS)
        spreads = np.array([0.0, *np.geomspace(cutting.least_spread, cutting.most_spread, SPREADS)])
        prior = np.array([cutting.alike, *[(1 - cutting.alike) / SPREADS] * SPREADS])
        noises = cutting.place_sd * np.array([1 / cutting.place_factor, 1.0, cutting.place_factor])
        mean, spread, noise = (part.ravel() for part in np.meshgrid(means, spreads, noises, indexing="ij"))
        return cls(mean, spread, noise, np.tile(np.repeat(prior, len(noises)), MEANS))

    def taken(self, rows: Array) -> "_Grid":
        """Some rows."""
        return _Grid(self.mean[rows], self.spread[rows], self.noise[rows], self.prior[rows])


def bounds(limits: Sequence[Limit], explained: Array) -> tuple[Array, Array]:
    """Both ends of every interval as logarithms, less what is explained."""
    ends = np.array([limit.logs for limit in limits])
    return ends[:, 0] - explained, ends[:, 1] - explained


def draws(limits: Sequence[Limit], explained: Array, cutting: Cutting, seed: int = 1) -> Array:
    """Draws of l_s less what is explained, shape (DRAWS, stations)."""
    low, high = bounds(limits, explained)
    grid = _Grid.over(low, high, cutting)
    usual, other = _chances(grid, low, high, cutting)
    weight = np.exp(logs(usual + other).sum(axis=1)) * grid.prior
    rng = np.random.default_rng(seed)
    even = (np.arange(DRAWS) + rng.random(DRAWS)) / DRAWS
    rows = np.searchsorted(np.cumsum(weight) / weight.sum(), even).clip(max=weight.size - 1)
    chosen = grid.taken(rows)
    step = np.ptp(grid.mean) / (MEANS - 1)
    mean = (chosen.mean + (rng.random(DRAWS) - 0.5) * step)[:, None]
    differs = rng.random(usual[rows].shape) * (usual + other)[rows] > usual[rows]
    spread = np.where(differs, chosen.spread[:, None], 0.0)
    seen = _cut_normal(mean, np.hypot(spread, chosen.noise[:, None]), low, high, rng)
    share = spread**2 / (spread**2 + chosen.noise[:, None] ** 2)
    left = rng.standard_normal(seen.shape) * spread * np.sqrt(1 - share)
    return np.asarray(mean + share * (seen - mean) + left, dtype=np.float64)


def _chances(grid: _Grid, low: Array, high: Array, cutting: Cutting) -> tuple[Array, Array]:
    """Of every row and station: probability of its interval as one that gets what is usual, and as another one."""
    mean, sd = grid.mean[:, None], np.hypot(grid.spread, grid.noise)[:, None]
    broad = between((low - mean) / sd, (high - mean) / sd)
    by_spread = broad.reshape(MEANS, SPREADS + 1, -1, len(low))
    narrow = np.broadcast_to(by_spread[:, :1], by_spread.shape).reshape(broad.shape)  # the rows without a spread
    usual = np.where(grid.spread > 0, cutting.alike_each, 1.0)[:, None]
    return usual * narrow, (1 - usual) * broad


def _cut_normal(mean: Array, sd: Array, low: Array, high: Array, rng: np.random.Generator) -> Array:
    """Draws of a normal that lies within [low, high]: the inverse of its distribution at even chances.

    The distribution is read off a table, finer than any draw needs; what lies beyond its end is drawn at the bound.
    """
    a, b = (low - mean) / sd, (high - mean) / sd
    flip = a > 0  # in the upper tail the lower one is taken, where small chances keep their digits
    a, b = np.where(flip, -b, a), np.where(flip, -a, b)
    deviations = np.linspace(-TABLE_ENDS, TABLE_ENDS, TABLE)
    table = cumulative(deviations)
    start, end = np.interp(a, deviations, table), np.interp(b, deviations, table)
    drawn = np.interp(start + (end - start) * rng.random(a.shape), table, deviations)
    drawn = np.clip(drawn, a, b)
    return np.asarray(mean + sd * np.where(flip, -drawn, drawn), dtype=np.float64)


def interval(values: Array) -> tuple[float, float, float]:
    """19 in 20 lie between the first and the last; the middle one is the median."""
    low, middle, high = np.quantile(values, [0.025, 0.5, 0.975])
    return float(low), float(middle), float(high)
