"""How likely a mark is to leave the tape, hypothesis by hypothesis.

A drive that goes the wrong way with a few per cent has its mark far out; the mean and covariance of the whole
mixture would hide it in their narrow tail, so every hypothesis is asked by itself.
"""

import numpy as np

from coach.advice.outlook import off_tape_chance
from coach.belief.bank import Bank
from coach.belief.gaussian import Array

LIGHT = 1e-4
"""Hypotheses lighter than this are left out."""
SURELY = 5.0
"""Standard deviations from the tape's edge at which nothing needs counting."""


def mark_beyond(bank: Bank, rows: Array, radius: float, sd: float = 0.0) -> float:
    """Chance that a mark lands beyond `radius` mm; rows (2, n) are its H, sd its reading's doubt in mm."""
    kept = bank.weights > LIGHT
    means = bank.gaussian.mean[kept] @ rows.T
    covs = rows @ bank.gaussian.cov[kept] @ rows.T + sd**2 * np.eye(2)
    reach = SURELY * np.sqrt(np.linalg.eigvalsh(covs)[:, 1])
    out = np.hypot(means[:, 0], means[:, 1])
    chances = np.where(out > radius + reach, 1.0, 0.0)
    for index in np.flatnonzero(np.abs(out - radius) <= reach):
        chances[index] = off_tape_chance(means[index], covs[index], radius)
    return float(bank.weights[kept] @ chances)
