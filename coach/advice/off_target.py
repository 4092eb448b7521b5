"""How likely marks are to lie beyond a circle, hypothesis by hypothesis.

A drive that goes the wrong way with a few per cent has its mark far out; the mean and covariance of the whole
mixture would hide it in their narrow tail, so every hypothesis is asked by itself.
"""

import numpy as np

from coach.belief.bank import Bank
from coach.belief.chances import beyond
from coach.belief.kalman import Array

LIGHT = 1e-5
"""Hypotheses lighter than this are left out."""


def beyond_probabilities(bank: Bank, matrices: Array, radius: float, sd: float = 0.0) -> Array:
    """For each mark the probability that it lies more than `radius` mm out, shape (marks,).

    `matrices` (marks, 2, n) are the marks' H, `sd` is how well they are read, mm: 0 asks where they truly lie.
    """
    kept = bank.weights > LIGHT
    mixture, count = bank.mixture, len(matrices)
    means = np.einsum("min,hn->hmi", matrices, mixture.mean[kept])
    covs = matrices @ mixture.cov[kept][:, None] @ np.swapaxes(matrices, -1, -2) + sd**2 * np.eye(2)
    chances = beyond(means.reshape(-1, 2), covs.reshape(-1, 2, 2), radius)
    return np.asarray(bank.weights[kept] @ chances.reshape(-1, count))
