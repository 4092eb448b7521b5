"""What a session taught about the mounts, written back into the machine's profile."""

from datetime import date

import numpy as np

from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.gaussian import Array
from coach.belief.layout import PER_SCREW, Layout
from coach.machine import Learned, Machine

DIGITS = 6


def learned_machine(belief: Belief, today: date) -> Machine:
    """The machine with each turned mount's answers as now believed; untouched mounts stay as they were."""
    machine = belief.layout.machine
    mounts = []
    for mount in machine.mounts:
        screws = belief.layout.of_mirror(mount.mirror)
        turned = any(belief.last_direction[belief.layout.screws.index(screw)] != 0 for screw in screws)
        if screws and turned:
            mount = mount.model_copy(update={"learned": _learned(belief, mount.mirror, today)})
        mounts.append(mount)
    return machine.model_copy(update={"mounts": tuple(mounts)})


def _learned(belief: Belief, mirror: int, today: date) -> Learned:
    mean, cov = answers_of(belief.layout, belief.settled, mirror)
    return Learned(
        on=today.isoformat(),
        push=round(belief.drive_push(mirror), DIGITS),
        mean=tuple(np.round(mean, DIGITS).tolist()),
        cov=tuple(tuple(row) for row in np.round(cov, DIGITS).tolist()),
    )


def answers_of(layout: Layout, bank: Bank, mirror: int) -> tuple[Array, Array]:
    """Mean and covariance of one mount's answers under the likelier drive, flattened (screws × 3)."""
    screws = layout.of_mirror(mirror)
    block = slice(screws[0].start, screws[-1].start + PER_SCREW)
    signs = np.array([dict(h.drives)[mirror] for h in bank.hypotheses])
    likelier = 1 if bank.weights[signs > 0].sum() >= 0.5 else -1
    weights = np.where(signs == likelier, bank.weights, 0.0)
    weights = weights / weights.sum()
    means, covs = bank.gaussian.mean[:, block], bank.gaussian.cov[:, block, block]
    mean = weights @ means
    apart = means - mean
    cov = np.einsum("h,hij->ij", weights, covs) + np.einsum("h,hi,hj->ij", weights, apart, apart)
    return mean, cov
