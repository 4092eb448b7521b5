"""A bank of Kalman filters: one for each way the drives may work and each explanation of the machine.

The bank is one stacked Gaussian with a log-weight per hypothesis.
"""

from dataclasses import dataclass, replace
from datetime import date
from itertools import product

import numpy as np

from coach.belief import noise, prior
from coach.belief.explanations import EXPLANATIONS, Explanation
from coach.belief.gaussian import Array, Gaussian, predict, update
from coach.belief.layout import A1_U, A2_U, C_U, M_U, YAW, Layout
from coach.optics.shifts import ShiftEffect

NEGLIGIBLE = -18.0
"""Log-weight below which a hypothesis is dropped when the machine is adjusted."""


@dataclass(frozen=True)
class Hypothesis:
    """Which way each mirror's screws drive (+1 push, −1 pull) and what ails the machine."""

    drives: tuple[tuple[int, int], ...]
    """Pairs of mirror number and sign."""
    explanation: Explanation


@dataclass(frozen=True)
class Bank:
    """Hypotheses with their Gaussians, stacked, and normalised log-weights."""

    hypotheses: tuple[Hypothesis, ...]
    gaussian: Gaussian
    log_weight: Array

    @property
    def weights(self) -> Array:
        """Probabilities of the hypotheses, summing to 1."""
        return np.asarray(np.exp(self.log_weight))

    @property
    def explanations(self) -> tuple[Explanation, ...]:
        """The explanation of each hypothesis."""
        return tuple(hypothesis.explanation for hypothesis in self.hypotheses)

    def reweighed(self, log_likelihood: Array) -> Array:
        """Bayes: w ∝ w·likelihood, in logarithms, normalised."""
        return normalised(self.log_weight + log_likelihood)


def normalised(log_weight: Array) -> Array:
    """Log-weights whose exponentials sum to 1."""
    top = log_weight.max()
    return np.asarray(log_weight - top - np.log(np.exp(log_weight - top).sum()))


def initial_bank(layout: Layout, today: date) -> Bank:
    """The bank before the first mark."""
    machine = layout.machine
    mirrors = sorted({screw.mirror for screw in layout.screws})
    mounts = {
        m: prior.mount_prior(machine.mount(m), machine.path.side, today, prior.extra_doubt(machine, m))
        for m in mirrors
    }
    hypotheses, means, covs, weights = [], [], [], []
    for signs in product((1, -1), repeat=len(mirrors)):
        drives = tuple(zip(mirrors, signs, strict=True))
        chance = np.prod([mounts[m].push if sign > 0 else 1 - mounts[m].push for m, sign in drives])
        for explanation in EXPLANATIONS:
            mean, cov = prior.state_prior(layout)
            cov[YAW, YAW] = explanation.sd_yaw**2
            prior.place_mounts(layout, mean, cov, mounts, dict(drives))
            hypotheses.append(Hypothesis(drives, explanation))
            means.append(mean)
            covs.append(cov)
            weights.append(max(float(chance), 1e-12) * explanation.share)
    gaussian = Gaussian(np.stack(means), np.stack(covs))
    return Bank(tuple(hypotheses), gaussian, normalised(np.log(np.array(weights))))


def absorb(bank: Bank, rows: Array, noises: Array, reading: Array) -> Bank:
    """The bank after a mark: every filter updated, every hypothesis reweighed by its likelihood."""
    gaussian, log_likelihood = update(bank.gaussian, rows, noises, reading)
    return replace(bank, gaussian=gaussian, log_weight=bank.reweighed(log_likelihood))


def turned(bank: Bank, screw_maps: Array, turns: Array, variance: Array) -> Bank:
    """The bank after turns (per screw, in turns) that were executed with the given variance.

    x ← x + Σ n_k·B_k·x is linear in the state because the turns are known; their rough execution is
    process noise: Q = Σ var(n_k)·B_k·(P + x·xᵀ)·B_kᵀ, exact in the second moment.
    """
    size = bank.gaussian.mean.shape[-1]
    transition = np.eye(size) + np.tensordot(turns, screw_maps, axes=1)
    mean, cov = bank.gaussian.mean, bank.gaussian.cov
    second = cov + mean[:, :, None] * mean[:, None, :]
    process = np.zeros_like(cov)
    for k in np.flatnonzero(variance):
        process += variance[k] * (screw_maps[k] @ second @ screw_maps[k].T)
    return replace(bank, gaussian=predict(bank.gaussian, transition, process))


def shifted(bank: Bank, effect: ShiftEffect, amount: float) -> Bank:
    """The bank after a part was shifted by `amount` mm altogether with a known effect on the offsets."""
    size = bank.gaussian.mean.shape[-1]
    moved = np.zeros(size)
    moved[C_U : C_U + 2] = effect.head_u, effect.head_v
    moved[M_U : M_U + 2] = effect.mirror2_u, effect.mirror2_v
    touched = (moved != 0).astype(float)
    sd = np.hypot(noise.SHIFT_SHARE * amount, noise.SHIFT_FLOOR)
    gaussian = Gaussian(
        bank.gaussian.mean + moved,
        bank.gaussian.cov + np.diag(touched * sd**2),
    )
    return replace(bank, gaussian=gaussian)


def locked(bank: Bank, mirror: int) -> Bank:
    """The bank after a mount's lock nuts were tightened: everything that mirror steers moved a little."""
    size = bank.gaussian.mean.shape[-1]
    slope = np.zeros((size, 2))
    for axis in range(2):
        slope[A2_U + axis, axis] = noise.LOCK_SLOPE_SD
        if mirror == 1:
            slope[A1_U + axis, axis] = noise.LOCK_SLOPE_SD
    cov = bank.gaussian.cov + slope @ slope.T
    cov[:, [C_U, C_U + 1], [C_U, C_U + 1]] += noise.LOCK_OFFSET_SD**2
    return replace(bank, gaussian=Gaussian(bank.gaussian.mean, cov))


def moments(bank: Bank) -> tuple[Array, Array]:
    """Mean (size,) and covariance (size, size) of the whole state over all hypotheses."""
    mean = bank.weights @ bank.gaussian.mean
    apart = bank.gaussian.mean - mean
    weighted = np.einsum("h,hij->ij", bank.weights, bank.gaussian.cov)
    return mean, np.asarray(weighted + np.einsum("h,hi,hj->ij", bank.weights, apart, apart))


def pruned(bank: Bank) -> Bank:
    """Without the hypotheses that no longer matter."""
    keep = bank.log_weight > NEGLIGIBLE
    if keep.all():
        return bank
    hypotheses = tuple(h for h, kept in zip(bank.hypotheses, keep, strict=True) if kept)
    gaussian = Gaussian(bank.gaussian.mean[keep], bank.gaussian.cov[keep])
    return Bank(hypotheses, gaussian, normalised(bank.log_weight[keep]))
