"""How likely every station is within the tolerance, and how large the worst offset is.

The stations' offsets are jointly Gaussian under each hypothesis; the chance that all are within a circle
has no closed form, so it is counted over a fixed set of draws (the same in every call: advice is a pure
function of the belief).
"""

from functools import lru_cache

import numpy as np

from coach.advice.advice import Outlook
from coach.belief.bank import Bank
from coach.belief.gaussian import Array
from coach.belief.layout import Layout

DRAWS, FEW_DRAWS = 1024, 256
LIGHT = 0.05
"""A hypothesis below this weight gets the few draws: its part of a chance is known to 0.002 with them."""
WEIGHT_FLOOR = 2e-3
"""Hypotheses lighter than this cannot move a chance visibly."""


@lru_cache(maxsize=32)
def _normals(count: int, size: int) -> Array:
    half = np.random.default_rng(20).standard_normal((count // 2, size))
    return np.concatenate([half, -half])


@lru_cache(maxsize=1)
def _plane_normals() -> Array:
    """Many draws in the plane: chances of a few in a thousand matter for the tape."""
    return np.random.default_rng(21).standard_normal((4096, 2))


def station_draws(layout: Layout, bank: Bank) -> tuple[Array, Array]:
    """Draws of the stations' offsets (draws, stations, 2) in mm, and the weight of each draw."""
    rows = layout.station_rows.reshape(-1, layout.size)
    draws, weights = [], []
    for index in np.flatnonzero(bank.weights > WEIGHT_FLOOR):
        mean = rows @ bank.gaussian.mean[index]
        cov = rows @ bank.gaussian.cov[index] @ rows.T
        values, vectors = np.linalg.eigh(cov)
        root = vectors * np.sqrt(np.maximum(values, 0.0))
        count = DRAWS if bank.weights[index] > LIGHT else FEW_DRAWS
        draws.append(mean + _normals(count, len(rows)) @ root.T)
        weights.append(np.full(count, bank.weights[index] / count))
    together = np.concatenate(draws).reshape(-1, len(layout.machine.stations), 2)
    weight = np.concatenate(weights)
    return together, weight / weight.sum()


def outlook(layout: Layout, bank: Bank) -> Outlook:
    """Chance of every station within tolerance, and the expected and the 90 % worst offset."""
    draws, weights = station_draws(layout, bank)
    worst = np.hypot(draws[..., 0], draws[..., 1]).max(axis=1)
    order = np.argsort(worst)
    reached = np.cumsum(weights[order])
    high = worst[order[min(int(np.searchsorted(reached, 0.9)), len(order) - 1)]]
    chance = weights[worst <= layout.machine.tolerance].sum()
    return Outlook(min(1.0, float(chance)), float(weights @ worst), float(high))


def station_risks(layout: Layout, bank: Bank) -> Array:
    """For each station the probability that its offset is beyond the tolerance, shape (stations,)."""
    draws, weights = station_draws(layout, bank)
    beyond = np.hypot(draws[..., 0], draws[..., 1]) > layout.machine.tolerance
    return np.asarray(weights @ beyond)


def off_tape_chance(mean: Array, cov: Array, radius: float) -> float:
    """Chance that a mark ~ N(mean (2,), cov (2, 2)) lands beyond `radius` mm."""
    points = mean + _plane_normals() @ np.linalg.cholesky(cov + 1e-12 * np.eye(2)).T
    return float((np.hypot(points[:, 0], points[:, 1]) > radius).mean())
