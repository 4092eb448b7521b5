"""What a session taught about the mounts, written back into the machine's profile."""

from datetime import date

import numpy as np
from pydantic import ValidationError

from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Moments
from coach.belief.layout import PER_SCREW, Layout
from coach.machine import Learned, Machine

DIGITS = 6


def learned_machine(belief: Belief, today: date) -> Machine:
    """The machine with each turned mount's responses as now believed; untouched mounts stay as they were."""
    machine = belief.layout.machine
    mounts = []
    for mount in machine.mounts:
        screws = belief.layout.of_mirror(mount.mirror)
        turned = any(belief.last_direction[belief.layout.screws.index(screw)] != 0 for screw in screws)
        if screws and turned:
            mount = mount.model_copy(update={"learned": _learned(belief, mount.mirror, today) or mount.learned})
        mounts.append(mount)
    return machine.model_copy(update={"mounts": tuple(mounts)})


def _learned(belief: Belief, mirror: int, today: date) -> Learned | None:
    """The lesson; None for one that no profile can hold: of a mount that no ruler measured so (a lever of tenths of a
    millimetre), whose answer is not worth remembering."""
    mean, cov = responses_of(belief.layout, belief.settled, mirror)
    try:
        return Learned(
            on=today.isoformat(),
            push=round(belief.drive_push(mirror), DIGITS),
            mean=tuple(np.round(mean, DIGITS).tolist()),
            cov=tuple(tuple(row) for row in np.round(cov, DIGITS).tolist()),
        )
    except ValidationError:
        return None


def responses_of(layout: Layout, bank: Bank, mirror: int) -> Moments:
    """Mean and covariance of one mount's screw responses under the likelier drive, flattened (screws × 3)."""
    screws = layout.of_mirror(mirror)
    block = slice(screws[0].start, screws[-1].start + PER_SCREW)
    push = bank.probability(lambda hypothesis: hypothesis.pushes(mirror)) >= 0.5
    likelier = bank.where(lambda hypothesis: hypothesis.pushes(mirror) == push)
    return bank.mixture.subset(likelier).block(block).moments
