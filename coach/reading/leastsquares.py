"""Gauss–Newton with damping when a step would make things worse (Levenberg, Marquardt)."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]
Model = Callable[[Vector], tuple[Vector, NDArray[np.float64]]]
"""Parameters to residuals, each divided by its doubt, and their derivatives (one row per residual)."""

MOST_STEPS = 200
SMALL_STEP = 1e-12


@dataclass(frozen=True)
class Fit:
    """The best parameters, their covariance for residuals of unit variance, and Σ residual²."""

    parameters: Vector
    covariance: NDArray[np.float64]
    residuals: Vector

    @property
    def chi_square(self) -> float:
        return float(self.residuals @ self.residuals)


def fit(model: Model, start: Vector) -> Fit:
    """Minimise Σ r² from `start`: step = argmin |J·step + r|² + damping·|diag(J)·step|²."""
    parameters, damping = start, 0.0
    residuals, jacobian = model(parameters)
    for _ in range(MOST_STEPS):
        step = _step(residuals, jacobian, damping)
        trial = parameters + step
        trial_residuals, trial_jacobian = model(trial)
        if trial_residuals @ trial_residuals <= residuals @ residuals:
            parameters, residuals, jacobian = trial, trial_residuals, trial_jacobian
            damping = damping / 10 if damping > 1e-6 else 0.0
        else:
            damping = max(10 * damping, 1e-4)
        if np.max(np.abs(step)) <= SMALL_STEP * (1 + np.max(np.abs(parameters))):
            break
    covariance = np.asarray(np.linalg.pinv(jacobian.T @ jacobian), dtype=np.float64)
    return Fit(parameters, covariance, residuals)


def _step(residuals: Vector, jacobian: NDArray[np.float64], damping: float) -> Vector:
    brake = np.sqrt(damping) * np.diag(np.linalg.norm(jacobian, axis=0))
    stacked = np.vstack([jacobian, brake])
    wanted = np.concatenate([-residuals, np.zeros(len(brake))])
    step: Vector = np.linalg.lstsq(stacked, wanted, rcond=None)[0]
    return step
