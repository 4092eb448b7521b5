"""Which reading, if any, contradicts the others made since the last adjustment.

Every reading is compared with what all the others say (leave-one-out, in closed form), and the two
stories "it is as good as any" and "something went wrong with it" are weighed by their likelihood.
"""

from dataclasses import dataclass

import numpy as np

from coach.belief.bank import Bank
from coach.belief.kalman import Array, log_density
from coach.belief.layout import Layout
from coach.belief.measurements import Sighting, measurement_matrix, measurement_noise
from coach.tuning import Readings


@dataclass(frozen=True, eq=False)
class Evidence:
    """Marks that a bank has absorbed: their matrices, noises and readings, stacked."""

    bank: Bank
    matrices: Array
    """(marks, 2, n)."""
    noises: Array
    """(marks, hypotheses, 2, 2) in mm²."""
    readings: Array
    """(marks, 2) in mm."""

    @classmethod
    def of(cls, layout: Layout, bank: Bank, marks: list[Sighting]) -> "Evidence":
        """The evidence of marks; at least one."""
        return cls(
            bank,
            np.stack([measurement_matrix(layout, mark) for mark in marks]),
            np.stack([measurement_noise(layout, bank, mark) for mark in marks]),
            np.stack([mark.offset for mark in marks]),
        )


def outlier_probabilities(evidence: Evidence, tuning: Readings) -> Array:
    """For each reading the probability that it, and no other, is wrong; shape (readings,).

    With M = R − H·P·Hᵀ the leave-one-out error is R·M⁻¹·(z − H·x) and its covariance R·M⁻¹·R.
    """
    mixture, matrices, noises = evidence.bank.mixture, evidence.matrices, evidence.noises
    residual = evidence.readings[:, None, :] - np.einsum("rin,hn->rhi", matrices, mixture.mean)
    left = noises - np.einsum("rin,hnm,rjm->rhij", matrices, mixture.cov, matrices, optimize=True)
    left = left + 1e-9 * np.eye(2)
    error = (noises @ np.linalg.solve(left, residual[..., None]))[..., 0]
    spread = noises @ np.linalg.solve(left, noises)
    wrong = log_density(error, spread + tuning.outlier_sd**2 * np.eye(2))
    right = log_density(error, spread)
    # in logarithms: a hypothesis that the wrong reading has all but ruled out may be the likeliest without it
    log_odds = np.log(tuning.outlier_probability) + np.logaddexp.reduce(mixture.log_weight + wrong - right, axis=-1)
    top = max(0.0, float(log_odds.max()))
    odds = np.exp(log_odds - top)
    return np.asarray(odds / (np.exp(-top) + odds.sum()))


def odd_station_probability(evidence: Evidence, tuning: Readings) -> float:
    """Probability that the place of these readings stands off from all others by one common offset.

    For the readings of one place only.  The same leave-out comparison with all of them left out together and a
    common offset: readings that agree with each other and with nothing else speak for the place, not for a wrong
    reading.

    Noise is the same on both axes and all readings have one matrix, so their mean, weighted by 1/R, says all that
    they say of the place: R = 1/Σ 1/R_k.
    """
    mixture = evidence.bank.mixture
    weights = 1.0 / evidence.noises[..., 0, 0]
    noise = (1.0 / weights.sum(axis=0))[:, None, None] * np.eye(2)
    mean = np.einsum("rh,ri->hi", weights / weights.sum(axis=0), evidence.readings)
    matrix = evidence.matrices.mean(axis=0)
    residual = mean - mixture.mean @ matrix.T
    left = noise - matrix @ mixture.cov @ matrix.T + 1e-9 * np.eye(2)
    error = (noise @ np.linalg.solve(left, residual[..., None]))[..., 0]
    spread = noise @ np.linalg.solve(left, noise)
    gain = log_density(error, spread + tuning.outlier_sd**2 * np.eye(2)) - log_density(error, spread)
    log_odds = np.log(tuning.odd_station_probability) + np.logaddexp.reduce(mixture.log_weight + gain)
    return float(1.0 / (1.0 + np.exp(-np.clip(log_odds, -50.0, 50.0))))
