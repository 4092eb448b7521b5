"""A missed mark is information: the mark lies somewhere outside the tape.

The posterior of "the mark is farther out than R" is not Gaussian; it is replaced by the Gaussian with
the same mean and covariance (moment matching), found by summing over a grid.
"""

from dataclasses import replace

import numpy as np

from coach.belief.bank import Bank
from coach.belief.gaussian import Array, Gaussian, gain_of, innovation, symmetric

GRID = 41
REACH = 5.0
"""Half-width of the grid, in standard deviations."""
UNFORESEEN = 1e-6
"""Below this probability the miss cannot be explained by the belief; direction stays unknown."""


def absorb_miss(bank: Bank, rows: Array, noises: Array, radius: float) -> Bank:
    """The bank after a pulse whose mark was not within `radius` mm of the aperture's centre."""
    zero = np.zeros(2)
    error, cov = innovation(bank.gaussian, rows, noises, zero)
    mean = -error
    outside, mean_outside, cov_outside = _outside_moments(mean, cov, radius)
    gain = gain_of(bank.gaussian, rows, cov)
    new_mean = bank.gaussian.mean + (gain @ (mean_outside - mean)[..., None])[..., 0]
    change = gain @ (cov_outside - cov) @ np.swapaxes(gain, -1, -2)
    gaussian = Gaussian(new_mean, symmetric(bank.gaussian.cov + change))
    return replace(bank, gaussian=gaussian, log_weight=bank.reweighed(np.log(outside)))


def _outside_moments(mean: Array, cov: Array, radius: float) -> tuple[Array, Array, Array]:
    """P(|z| > R), E[z | |z| > R] and Cov[z | |z| > R] for each z ~ N(mean, cov), z in mm."""
    axis = np.linspace(-REACH, REACH, GRID)
    unit = np.stack(np.meshgrid(axis, axis, indexing="ij"), axis=-1).reshape(-1, 2)
    weight = np.exp(-0.5 * (unit**2).sum(axis=1))
    points = mean[:, None, :] + unit @ np.swapaxes(np.linalg.cholesky(cov), -1, -2)
    share = weight / weight.sum() * (np.hypot(points[..., 0], points[..., 1]) > radius)
    outside = share.sum(axis=1)
    foreseen = outside > UNFORESEEN
    scaled = share / np.where(foreseen, outside, 1.0)[:, None]
    mean_out = (scaled[..., None] * points).sum(axis=1)
    spread = points - mean_out[:, None, :]
    cov_out = np.einsum("hp,hpi,hpj->hij", scaled, spread, spread)
    anywhere = ((1.2 * radius) ** 2 / 2) * np.eye(2)
    mean_out = np.where(foreseen[:, None], mean_out, mean)
    cov_out = np.where(foreseen[:, None, None], cov_out + 1e-9 * np.eye(2), cov + anywhere)
    return np.maximum(outside, UNFORESEEN), mean_out, cov_out
