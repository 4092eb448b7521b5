"""The Kalman equations, on one Gaussian or on a stack of them at once.

`mean` has the shape (..., n) and `cov` (..., n, n); leading axes are independent hypotheses.  All
functions are pure.  Notation of the docstrings: x state, P covariance, F transition, Q process noise,
H reading matrix, R reading noise, z reading, S innovation covariance, K gain.
Source: Kalman (1960); Joseph form after Bucy & Joseph (1968).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Gaussian:
    """A frozen normal distribution, or a stack of them."""

    mean: Array
    cov: Array


def symmetric(matrix: Array) -> Array:
    """The symmetric part, so that rounding cannot build up."""
    return np.asarray(0.5 * (matrix + np.swapaxes(matrix, -1, -2)))


def predict(prior: Gaussian, transition: Array, process_noise: Array) -> Gaussian:
    """x ← F·x,  P ← F·P·Fᵀ + Q."""
    mean = (transition @ prior.mean[..., None])[..., 0]
    cov = transition @ prior.cov @ np.swapaxes(transition, -1, -2) + process_noise
    return Gaussian(mean, symmetric(cov))


def innovation(prior: Gaussian, rows: Array, noise: Array, reading: Array) -> tuple[Array, Array]:
    """e = z − H·x and S = H·P·Hᵀ + R: what a reading says beyond what was expected."""
    error = reading - (rows @ prior.mean[..., None])[..., 0]
    cov = rows @ prior.cov @ np.swapaxes(rows, -1, -2) + noise
    return error, symmetric(cov)


def update(prior: Gaussian, rows: Array, noise: Array, reading: Array) -> tuple[Gaussian, Array]:
    """The posterior after a reading, and the reading's log-likelihood.

    K = P·Hᵀ·S⁻¹,  x ← x + K·e,  P ← (1 − K·H)·P·(1 − K·H)ᵀ + K·R·Kᵀ (Joseph form: stays symmetric
    and positive whatever the rounding).
    """
    error, cov = innovation(prior, rows, noise, reading)
    gain = gain_of(prior, rows, cov)
    mean = prior.mean + (gain @ error[..., None])[..., 0]
    keep = np.eye(prior.mean.shape[-1]) - gain @ rows
    posterior = keep @ prior.cov @ np.swapaxes(keep, -1, -2) + gain @ noise @ np.swapaxes(gain, -1, -2)
    return Gaussian(mean, symmetric(posterior)), log_density(error, cov)


def gain_of(prior: Gaussian, rows: Array, innovation_cov: Array) -> Array:
    """K = P·Hᵀ·S⁻¹, by solving rather than inverting."""
    return np.swapaxes(np.linalg.solve(innovation_cov, rows @ prior.cov), -1, -2)


def log_density(error: Array, cov: Array) -> Array:
    """log N(e; 0, S) = −½·(eᵀ·S⁻¹·e + log det S + n·log 2π), over leading axes."""
    size = error.shape[-1]
    _, log_det = np.linalg.slogdet(cov)
    distance = (error * np.linalg.solve(cov, error[..., None])[..., 0]).sum(axis=-1)
    return np.asarray(-0.5 * (distance + log_det + size * np.log(2 * np.pi)))
