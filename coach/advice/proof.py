"""How likely the coming marks are to prove that every station is within the tolerance.

A chance of 0.9 may mean nine machines in ten are fine and the next marks will show it, or a station so
close to the limit that no mark can settle it.  What tells them apart is how far the marks will move the
belief and how sharp it will be afterwards; both are known beforehand, as the belief is Gaussian.
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from coach.belief.bank import Bank, moments
from coach.belief.gaussian import Array
from coach.belief.layout import Layout
from coach.belief.noise import READING_SD

DRAWS = 512
CLEAR_BY = 1.9
"""Deviations by which every station must clear the tolerance for the coach to say "done"."""


@lru_cache(maxsize=16)
def _normals(size: int) -> Array:
    half = np.random.default_rng(22).standard_normal((DRAWS // 2, size))
    return np.concatenate([half, -half])


def proof_chance(layout: Layout, bank: Bank, marks: Sequence[int]) -> float:
    """Chance that marks at these stations (indices, repeats allowed) end with all stations clearly within tolerance.

    With S the covariance of the stations' offsets and K the gain of the marks, the offsets' means will be
    spread by K·S_marks and their covariance will be S − K·S_marks.
    """
    rows = layout.station_rows.reshape(-1, layout.size)
    mean, cov = moments(bank)
    stations = rows @ cov @ rows.T
    index = np.repeat(2 * np.array(marks, dtype=int), 2) + np.tile([0, 1], len(marks))
    cross = stations[:, index]
    spread = stations[np.ix_(index, index)] + READING_SD**2 * np.eye(len(index))
    learned = cross @ np.linalg.solve(spread, cross.T)
    left = stations - learned
    values, vectors = np.linalg.eigh(learned)
    draws = rows @ mean + _normals(len(rows)) @ (vectors * np.sqrt(np.maximum(values, 0.0))).T
    offsets = draws.reshape(DRAWS, -1, 2)
    blocks = left.reshape(len(rows) // 2, 2, len(rows) // 2, 2)
    each = np.einsum("sisj->sij", blocks)
    doubt = np.sqrt(np.maximum(np.linalg.eigvalsh(each)[:, -1], 0.0))
    clear = np.hypot(offsets[..., 0], offsets[..., 1]) + CLEAR_BY * doubt <= layout.machine.tolerance
    return float(clear.all(axis=1).mean())
