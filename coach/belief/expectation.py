"""Where a mark is expected: the one figure, with its one doubt, that every screen and every decision uses."""

from dataclasses import dataclass

import numpy as np

from coach.belief.kalman import Array


@dataclass(frozen=True, eq=False)
class ExpectedMark:
    """Where the next mark at some place will be read."""

    mean: Array
    """(u, v) in mm."""
    cov: Array
    """(2, 2) in mm²: where the mark may truly lie, and how this person reads marks."""

    @property
    def u(self) -> float:
        """mm to the right."""
        return float(self.mean[0])

    @property
    def v(self) -> float:
        """mm up."""
        return float(self.mean[1])

    @property
    def sd(self) -> float:
        """mm: one standard deviation in the direction in which the mark is least sure."""
        return float(np.sqrt(np.linalg.eigvalsh(self.cov)[-1]))

    @property
    def axes_sd(self) -> tuple[float, float]:
        """mm: one standard deviation along u and along v."""
        return float(np.sqrt(self.cov[0, 0])), float(np.sqrt(self.cov[1, 1]))

    def distance(self, u: float, v: float) -> float:
        """Squared distance of a reading in standard deviations (Mahalanobis); χ² with two degrees of freedom."""
        apart = np.array([u, v]) - self.mean
        return float(apart @ np.linalg.solve(self.cov, apart))
