"""A mixture of Gaussians: one for each hypothesis, with the hypotheses' probabilities.  Everything that is asked of
several hypotheses together is answered here, and nowhere else."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coach.belief import kalman
from coach.belief.kalman import Array, Mask, Moments


def normalised(log_weight: Array) -> Array:
    """Log-weights whose exponentials sum to 1."""
    top = log_weight.max()
    return np.asarray(log_weight - top - np.log(np.exp(log_weight - top).sum()))


@dataclass(frozen=True, eq=False)
class GaussianMixture:
    """p(x) = Σ wₖ·N(x; xₖ, Pₖ).  Its arrays cannot be written to; every change is a new mixture."""

    log_weight: Array
    """log wₖ, shape (hypotheses,), normalised by whoever makes the mixture."""
    mean: Array
    """xₖ, shape (hypotheses, n)."""
    cov: Array
    """Pₖ, shape (hypotheses, n, n)."""

    def __post_init__(self) -> None:
        for name in ("log_weight", "mean", "cov"):
            array = np.asarray(getattr(self, name)).view()
            array.flags.writeable = False
            object.__setattr__(self, name, array)

    @classmethod
    def single(cls, mean: Array, cov: Array) -> "GaussianMixture":
        """One Gaussian, mean (n,) and covariance (n, n)."""
        return cls(np.zeros(1), mean[None], cov[None])

    @property
    def normalised(self) -> "GaussianMixture":
        """The same with weights that sum to 1."""
        return GaussianMixture(normalised(self.log_weight), self.mean, self.cov)

    @cached_property
    def weights(self) -> Array:
        """Probabilities of the hypotheses, summing to 1."""
        return np.asarray(np.exp(self.log_weight))

    @property
    def components(self) -> Moments:
        """All means and covariances, stacked."""
        return Moments(self.mean, self.cov)

    @cached_property
    def moments(self) -> Moments:
        """Mean (n,) and covariance (n, n) over all hypotheses: E[x] and Σ wₖ·(Pₖ + (xₖ − E[x])·(xₖ − E[x])ᵀ)."""
        mean = self.weights @ self.mean
        apart = self.mean - mean
        within = np.tensordot(self.weights, self.cov, axes=1)
        return Moments(np.asarray(mean), np.asarray(within + (self.weights[:, None] * apart).T @ apart))

    def project(self, matrix: Array, noise: Array | float = 0.0) -> "GaussianMixture":
        """The mixture of H·x + noise: `matrix` is H (m, n), `noise` its covariance, (m, m) or one per hypothesis."""
        return GaussianMixture(self.log_weight, self.mean @ matrix.T, matrix @ self.cov @ matrix.T + noise)

    def block(self, part: slice) -> "GaussianMixture":
        """The mixture of some of the numbers alone."""
        return GaussianMixture(self.log_weight, self.mean[:, part], self.cov[:, part, part])

    def subset(self, keep: Mask) -> "GaussianMixture":
        """Only the hypotheses of a mask (hypotheses,), their probabilities normalised."""
        return GaussianMixture(normalised(self.log_weight[keep]), self.mean[keep], self.cov[keep])

    def with_moments(self, components: Moments) -> "GaussianMixture":
        """The same probabilities, other Gaussians."""
        return GaussianMixture(self.log_weight, components.mean, components.cov)

    def predict(self, transition: Array, process_noise: Array) -> "GaussianMixture":
        """Every hypothesis carried over: x ← F·x, P ← F·P·Fᵀ + Q."""
        return self.with_moments(kalman.predict(self.components, transition, process_noise))

    def update(self, matrix: Array, noise: Array, measured: Array) -> "GaussianMixture":
        """Every hypothesis updated by a measurement and weighed by its likelihood: w ∝ w·N(e; 0, S)."""
        posterior, log_likelihood = kalman.update(self.components, matrix, noise, measured)
        return GaussianMixture(normalised(self.log_weight + log_likelihood), posterior.mean, posterior.cov)

    def probability(self, of: Callable[[Array, Array], Array], at_least: float = 0.0) -> float:
        """Σ wₖ·of(xₖ, Pₖ): `of` takes stacked means and covariances of those that weigh more than `at_least`."""
        kept = self.weights > at_least
        return float(self.weights[kept] @ of(self.mean[kept], self.cov[kept]))
