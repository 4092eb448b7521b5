"""A bank of Kalman filters: one for each way the drives may work and each explanation of the machine."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from itertools import product

import numpy as np

from coach.belief import prior
from coach.belief.kalman import Array, Mask
from coach.belief.layout import YAW, Layout
from coach.belief.mixture import GaussianMixture, normalised
from coach.tuning import Explanation, Tuning

NEGLIGIBLE = -18.0
"""Log-weight below which a hypothesis is dropped when the machine is adjusted: one in 65 million."""


@dataclass(frozen=True)
class Hypothesis:
    """Which way each mirror's screws drive (+1 push, −1 pull) and what ails the machine."""

    drives: tuple[tuple[int, int], ...]
    """Pairs of mirror number and sign."""
    explanation: Explanation

    def pushes(self, mirror: int) -> bool:
        """Whether a clockwise turn pushes that mirror's plate."""
        return dict(self.drives)[mirror] > 0


@dataclass(frozen=True, eq=False)
class Bank:
    """Hypotheses and what the state is under each of them."""

    hypotheses: tuple[Hypothesis, ...]
    mixture: GaussianMixture

    @property
    def weights(self) -> Array:
        """Probabilities of the hypotheses, summing to 1."""
        return self.mixture.weights

    def with_mixture(self, mixture: GaussianMixture) -> "Bank":
        """The same hypotheses, otherwise weighed or placed."""
        return replace(self, mixture=mixture)

    def subset(self, keep: Mask) -> "Bank":
        """Only the hypotheses of a mask."""
        hypotheses = tuple(h for h, kept in zip(self.hypotheses, keep, strict=True) if kept)
        return Bank(hypotheses, self.mixture.subset(keep))

    def where(self, true: Callable[[Hypothesis], bool]) -> Mask:
        """The mask of the hypotheses of which something is true."""
        return np.array([true(hypothesis) for hypothesis in self.hypotheses])

    def probability(self, true: Callable[[Hypothesis], bool]) -> float:
        """How probable it is that something is true."""
        return float(self.weights[self.where(true)].sum())

    def pruned(self) -> "Bank":
        """Without the hypotheses that no longer matter."""
        keep = self.mixture.log_weight > NEGLIGIBLE
        return self if keep.all() else self.subset(keep)

    def likeliest_drives(self) -> "Bank":
        """Under the likeliest combination of drives alone."""
        totals: dict[tuple[tuple[int, int], ...], float] = {}
        for hypothesis, weight in zip(self.hypotheses, self.weights, strict=True):
            totals[hypothesis.drives] = totals.get(hypothesis.drives, 0.0) + float(weight)
        best = max(totals, key=lambda drives: totals[drives])
        return self.subset(self.where(lambda hypothesis: hypothesis.drives == best))


def initial_bank(layout: Layout, today: date, tuning: Tuning) -> Bank:
    """The bank before the first mark."""
    machine = layout.machine
    mirrors = sorted({screw.mirror for screw in layout.screws})
    explanations = tuning.prior.explanations
    mounts = {
        (m, doubt): prior.mount_prior(machine, m, today, tuning.prior, doubt)
        for m in mirrors
        for doubt in {e.mounts for e in explanations}
    }
    beams = [prior.state_prior(layout, tuning.prior, explanation) for explanation in explanations]
    hypotheses, means, covs, weights = [], [], [], []
    for signs in product((1, -1), repeat=len(mirrors)):
        drives = tuple(zip(mirrors, signs, strict=True))
        chance = np.prod([mounts[m, 1.0].push if sign > 0 else 1 - mounts[m, 1.0].push for m, sign in drives])
        for explanation, beam in zip(explanations, beams, strict=True):
            mean, cov = beam.mean.copy(), beam.cov.copy()
            own = {m: mounts[m, explanation.mounts] for m in mirrors}
            prior.place_mounts(layout, mean, cov, own, dict(drives))
            hypotheses.append(Hypothesis(drives, explanation))
            means.append(mean)
            covs.append(cov)
            weights.append(max(float(chance), 1e-12) * explanation.share)
    log_weight = normalised(np.log(np.array(weights)))
    return Bank(tuple(hypotheses), GaussianMixture(log_weight, np.stack(means), np.stack(covs)))


def reexplained(bank: Bank, tuning: Tuning) -> Bank:
    """The same beam and drives, and every explanation as likely as before the first mark: something was mended."""
    hypotheses: list[Hypothesis] = []
    means, covs, weights = [], [], []
    for drives in dict.fromkeys(hypothesis.drives for hypothesis in bank.hypotheses):
        mine = bank.where(lambda hypothesis, drives=drives: hypothesis.drives == drives)  # type: ignore[misc]
        mean, cov = bank.mixture.subset(mine).moments
        for explanation in tuning.prior.explanations:
            own = cov.copy()
            own[YAW, :] = own[:, YAW] = 0.0
            own[YAW, YAW] = explanation.sd_yaw**2
            hypotheses.append(Hypothesis(drives, explanation))
            means.append(np.where(np.arange(len(mean)) == YAW, 0.0, mean))
            covs.append(own)
            weights.append(float(bank.weights[mine].sum()) * explanation.share)
    log_weight = normalised(np.log(np.array(weights)))
    return Bank(tuple(hypotheses), GaussianMixture(log_weight, np.stack(means), np.stack(covs)))
