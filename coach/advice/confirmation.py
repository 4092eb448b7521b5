"""How likely the coming marks are to prove that every station is within the tolerance.

A chance of 0.9 may mean nine machines in ten are fine and the next marks will show it, or a station so
close to the limit that no mark can settle it.  What tells them apart is how far the marks will move the
belief and how sharp it will be afterwards; both are known beforehand, as the belief is Gaussian.
"""

from collections.abc import Sequence

import numpy as np

from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.chances import spread_points

POINTS = 512


def confirmation_probability(belief: Belief, bank: Bank, marks: Sequence[int]) -> float:
    """Probability that marks at these stations (indices, repeats allowed) end with all clearly within tolerance.

    `bank` is what is believed before the marks; they are read as this person reads.  With S the covariance of the
    stations' offsets and K the gain of the marks, the offsets' means will be spread by K·S_marks and their
    covariance will be S − K·S_marks.
    """
    layout = belief.layout
    mean, stations = bank.mixture.project(layout.station_matrices.reshape(-1, layout.size)).moments
    index = np.repeat(2 * np.array(marks, dtype=int), 2) + np.tile([0, 1], len(marks))
    cross = stations[:, index]
    spread = stations[np.ix_(index, index)] + belief.reading_sd**2 * np.eye(len(index))
    learned = cross @ np.linalg.solve(spread, cross.T)
    offsets = spread_points(mean, learned, POINTS)
    left = (stations - learned).reshape(len(mean) // 2, 2, len(mean) // 2, 2)
    sd = np.sqrt(np.maximum(np.linalg.eigvalsh(np.einsum("sisj->sij", left))[:, -1], 0.0))
    clear_by = belief.tuning.shooting.clear_by
    clear = np.hypot(offsets[0::2], offsets[1::2]) + clear_by * sd[:, None] <= layout.machine.tolerance
    return float(clear.all(axis=0).mean())
