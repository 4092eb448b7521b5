"""The Kalman equations, on one Gaussian or on a stack of them at once.

Means have the shape (..., n) and covariances (..., n, n); leading axes are independent hypotheses.  All functions
are pure.  Notation of the docstrings: x state, P covariance, F transition, Q process noise, H measurement matrix,
R measurement noise, z measurement, e innovation, S its covariance, K gain.
Source: Kalman (1960); Joseph form after Bucy & Joseph (1968).
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
"""Which of several are meant."""


class Moments(NamedTuple):
    """A mean and a covariance, or stacks of them."""

    mean: Array
    cov: Array


def symmetric(matrix: Array) -> Array:
    """The symmetric part, so that rounding cannot build up."""
    return np.asarray(0.5 * (matrix + np.swapaxes(matrix, -1, -2)))


def predict(prior: Moments, transition: Array, process_noise: Array) -> Moments:
    """x ← F·x,  P ← F·P·Fᵀ + Q."""
    mean = (transition @ prior.mean[..., None])[..., 0]
    cov = transition @ prior.cov @ np.swapaxes(transition, -1, -2) + process_noise
    return Moments(mean, symmetric(cov))


def innovation(prior: Moments, matrix: Array, noise: Array, measured: Array) -> Moments:
    """e = z − H·x and S = H·P·Hᵀ + R: what a measurement says beyond what was expected."""
    error = measured - (matrix @ prior.mean[..., None])[..., 0]
    cov = matrix @ prior.cov @ np.swapaxes(matrix, -1, -2) + noise
    return Moments(error, symmetric(cov))


def update(prior: Moments, matrix: Array, noise: Array, measured: Array) -> tuple[Moments, Array]:
    """The posterior after a measurement, and the measurement's log-likelihood.

    K = P·Hᵀ·S⁻¹,  x ← x + K·e,  P ← (1 − K·H)·P·(1 − K·H)ᵀ + K·R·Kᵀ (Joseph form: stays symmetric
    and positive whatever the rounding).
    """
    error, spread = innovation(prior, matrix, noise, measured)
    gain = gain_of(prior, matrix, spread)
    mean = prior.mean + (gain @ error[..., None])[..., 0]
    keep = np.eye(prior.mean.shape[-1]) - gain @ matrix
    cov = keep @ prior.cov @ np.swapaxes(keep, -1, -2) + gain @ noise @ np.swapaxes(gain, -1, -2)
    return Moments(mean, symmetric(cov)), log_density(error, spread)


def gain_of(prior: Moments, matrix: Array, innovation_cov: Array) -> Array:
    """K = P·Hᵀ·S⁻¹, by solving rather than inverting."""
    return np.swapaxes(np.linalg.solve(innovation_cov, matrix @ prior.cov), -1, -2)


def log_density(error: Array, cov: Array) -> Array:
    """log N(e; 0, S) = −½·(eᵀ·S⁻¹·e + log det S + n·log 2π), over leading axes."""
    size = error.shape[-1]
    _, log_det = np.linalg.slogdet(cov)
    distance = (error * np.linalg.solve(cov, error[..., None])[..., 0]).sum(axis=-1)
    return np.asarray(-0.5 * (distance + log_det + size * np.log(2 * np.pi)))
