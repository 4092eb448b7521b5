"""How likely every station is within the tolerance, and how large the worst offset is."""

import numpy as np

from coach.advice.facts import Outlook
from coach.advice.off_target import beyond_probabilities
from coach.belief.bank import Bank
from coach.belief.chances import all_within, normal_below, spread_points
from coach.belief.kalman import Array
from coach.belief.layout import Layout
from coach.belief.mixture import GaussianMixture

LIGHT = 2e-3
"""Hypotheses lighter than this cannot move a probability or a size visibly."""
POINTS = 512
"""Points at which the size of the worst offset is looked at, under each hypothesis: its mean is then known to 0.3 %,
its 90 % point to 1 %."""
HOPELESS = 1e-3
"""Below this nobody needs to know how small the probability of all within tolerance is."""


def station_offsets(layout: Layout, bank: Bank) -> GaussianMixture:
    """All stations' true offsets together, u₁, v₁, u₂ … in mm, under the hypotheses that matter."""
    kept = bank.mixture.subset(bank.weights > LIGHT)
    return kept.project(layout.station_matrices.reshape(-1, layout.size))


def outlook(layout: Layout, bank: Bank) -> Outlook:
    """Chance of every station within tolerance, and the expected and the 90 % worst offset."""
    offsets = station_offsets(layout, bank)
    tolerance = layout.machine.tolerance
    chance = sum(
        weight * _all_within(mean, cov, tolerance)
        for weight, mean, cov in zip(offsets.weights, offsets.mean, offsets.cov, strict=True)
    )
    worst = np.concatenate([_worst(mean, cov) for mean, cov in zip(offsets.mean, offsets.cov, strict=True)])
    weights = np.repeat(offsets.weights, POINTS) / POINTS
    order = np.argsort(worst)
    high = worst[order[int(np.searchsorted(np.cumsum(weights[order]), 0.9))]]
    return Outlook(min(1.0, float(chance)), float(weights @ worst), float(high))


def _all_within(mean: Array, cov: Array, tolerance: float) -> float:
    """`all_within`, without the work where one station alone rules it out."""
    out = np.hypot(mean[0::2], mean[1::2]) - tolerance
    widest = np.sqrt(np.maximum(np.diag(cov)[0::2] + np.diag(cov)[1::2], 1e-12))
    if normal_below(-out / widest).min() < HOPELESS:
        return 0.0
    return all_within(mean, cov, tolerance)


def _worst(mean: Array, cov: Array) -> Array:
    """The worst offset at each of `POINTS` points, mm."""
    points = spread_points(mean, cov, POINTS)
    return np.asarray(np.hypot(points[0::2], points[1::2]).max(axis=0))


def station_risks(layout: Layout, bank: Bank) -> Array:
    """For each station the probability that its offset is beyond the tolerance, shape (stations,)."""
    return beyond_probabilities(bank, layout.station_matrices, layout.machine.tolerance)
