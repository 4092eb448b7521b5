"""Which reading, if any, contradicts the others made since the last adjustment.

Every reading is compared with what all the others say (leave-one-out, in closed form), and the two
stories "it is as good as any" and "something went wrong with it" are weighed by their likelihood.
"""

import numpy as np

from coach.belief.bank import Bank
from coach.belief.gaussian import Array, log_density

BLUNDER_CHANCE = 0.01
"""How often a reading is simply wrong (wrong tape, slipped calliper, swapped sign): common practice."""
ODD_PLACE_CHANCE = 0.003
"""How often one place of the bed stands off from the others (a dent in a rail, a bump): common practice."""
BLUNDER_SD = 3.0
"""mm, how far out a wrong reading or an odd place is."""


def blunder_chances(bank: Bank, rows: Array, noises: Array, readings: Array) -> Array:
    """For each reading the probability that it, and no other, is wrong; shape (readings,).

    rows (readings, 2, n), noises (readings, hypotheses, 2, 2), readings (readings, 2) in mm; `bank` has
    absorbed all of them.  With M = R − H·P·Hᵀ the leave-one-out error is R·M⁻¹·(z − H·x) and its
    covariance R·M⁻¹·R.
    """
    if not len(readings):
        return np.zeros(0)
    mean, cov = bank.gaussian.mean, bank.gaussian.cov
    residual = readings[:, None, :] - np.einsum("rin,hn->rhi", rows, mean)
    left = noises - np.einsum("rin,hnm,rjm->rhij", rows, cov, rows)
    left = left + 1e-9 * np.eye(2)
    error = (noises @ np.linalg.solve(left, residual[..., None]))[..., 0]
    spread = noises @ np.linalg.solve(left, noises)
    wrong = log_density(error, spread + BLUNDER_SD**2 * np.eye(2))
    right = log_density(error, spread)
    # in logarithms: a hypothesis that the wrong reading has all but ruled out may be the likeliest without it
    log_odds = np.log(BLUNDER_CHANCE) + np.logaddexp.reduce(bank.log_weight + wrong - right, axis=-1)
    top = max(0.0, float(log_odds.max()))
    odds = np.exp(log_odds - top)
    return np.asarray(odds / (np.exp(-top) + odds.sum()))


def odd_place_chance(bank: Bank, rows: Array, noises: Array, readings: Array) -> float:
    """Probability that the place of these readings stands off from all others by one common offset.

    Shapes as in `blunder_chances`, for the readings of one place only.  The same leave-out comparison with
    all of them left out together and a common offset of BLUNDER_SD: readings that agree with each other
    and with nothing else speak for the place, not for a wrong reading.
    """
    count, hypotheses = len(rows), len(bank.hypotheses)
    flat = rows.reshape(2 * count, -1)
    noise = np.zeros((hypotheses, 2 * count, 2 * count))
    for index in range(count):
        part = slice(2 * index, 2 * index + 2)
        noise[:, part, part] = noises[index]
    residual = readings.reshape(-1) - bank.gaussian.mean @ flat.T
    left = noise - flat @ bank.gaussian.cov @ flat.T + 1e-9 * np.eye(2 * count)
    error = (noise @ np.linalg.solve(left, residual[..., None]))[..., 0]
    spread = noise @ np.linalg.solve(left, noise)
    common = np.kron(np.ones((count, count)), BLUNDER_SD**2 * np.eye(2))
    gain = log_density(error, spread + common) - log_density(error, spread)
    log_odds = np.log(ODD_PLACE_CHANCE) + np.logaddexp.reduce(bank.log_weight + gain)
    return float(1.0 / (1.0 + np.exp(-np.clip(log_odds, -50.0, 50.0))))
