"""How well a normal law explains values of which only an interval is known each.

log L(μ, s) = Σ log[ Φ((b − μ)/s) − Φ((a − μ)/s) ]        a, b the interval's ends, open ones infinite
"""

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_LEAST = 1e-300
"""Stands for a probability too small to be told from zero."""
_erfc_each = np.frompyfunc(math.erfc, 1, 1)


def between(low: Array, high: Array) -> Array:
    """Φ(high) − Φ(low), with its digits in the far tails too; shapes are broadcast."""
    low, high = np.broadcast_arrays(np.asarray(low, dtype=float), np.asarray(high, dtype=float))
    mirrored = low > 0  # in the upper tail both are near 1: there the lower tail is asked
    a = np.where(mirrored, -high, low)
    b = np.where(mirrored, -low, high)
    return np.asarray(0.5 * (_erfc(-b / math.sqrt(2)) - _erfc(-a / math.sqrt(2))), dtype=np.float64)


def cumulative(deviations: Array) -> Array:
    """Φ."""
    return np.asarray(0.5 * _erfc(-deviations / math.sqrt(2)), dtype=np.float64)


def _erfc(values: Array) -> Array:
    return np.asarray(_erfc_each(values), dtype=np.float64)


def logs(chance: Array) -> Array:
    """Logarithms of probabilities; of zero a very small one."""
    return np.asarray(np.log(np.maximum(chance, _LEAST)), dtype=np.float64)


def log_likelihood(low: Array, high: Array, mean: Array, sd: Array) -> Array:
    """Σ over the last axis of the log probability of each interval; `mean` and `sd` broadcast against it."""
    return np.asarray(logs(between((low - mean) / sd, (high - mean) / sd)).sum(axis=-1), dtype=np.float64)
