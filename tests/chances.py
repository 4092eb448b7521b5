"""Chances worked out independently of the coach: by quadrature, exactly for every hypothesis."""

import numpy as np
from scipy.special import ndtr

from coach.belief.bank import Bank

NODES, WEIGHTS = np.polynomial.legendre.leggauss(160)


def beyond(means, covs, radius: float) -> np.ndarray:
    """P(|z| > radius) for each z ~ N(mean, cov) in the plane; means (n, 2), covs (n, 2, 2).

    Gauss-Legendre quadrature over the disc's chords, taken across the wider axis of each ellipse.
    """
    values, vectors = np.linalg.eigh(np.asarray(covs))
    narrow, wide = np.sqrt(np.maximum(values, 1e-12)).T
    across, along = np.einsum("nij,ni->jn", vectors, np.asarray(means))
    low, high = np.maximum(-radius, along - 9 * wide), np.minimum(radius, along + 9 * wide)
    length = np.maximum(high - low, 0.0)
    x = np.clip(low[:, None] + length[:, None] * (NODES + 1) / 2, -radius, radius)
    half = np.sqrt(radius**2 - x**2)
    strip = ndtr((half - across[:, None]) / narrow[:, None]) - ndtr((-half - across[:, None]) / narrow[:, None])
    height = np.exp(-0.5 * ((x - along[:, None]) / wide[:, None]) ** 2) / (np.sqrt(2 * np.pi) * wide[:, None])
    return 1 - length / 2 * ((height * strip) @ WEIGHTS)


def mark_beyond(bank: Bank, rows, radius: float, sd: float = 0.0) -> float:
    """Chance that a mark lies farther than `radius` mm out, over all hypotheses of the bank; read to `sd` mm."""
    means, covs = bank.mixture.mean @ rows.T, rows @ bank.mixture.cov @ rows.T + sd**2 * np.eye(2)
    return float(bank.weights @ beyond(means, covs, radius))
