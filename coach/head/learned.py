"""What a session taught about mirror 3's screws, written back into the machine's profile."""

from datetime import date

import numpy as np

from coach.head.belief import HeadBelief
from coach.head.layout import FIRST_SCREW
from coach.machine import Learned, Machine

DIGITS = 6


def with_mirror3_learned(machine: Machine, belief: HeadBelief, today: date) -> Machine:
    """The machine with the answers of mirror 3's screws as now believed; a mount whose screws stayed is as it was."""
    if not belief.last_direction.any():
        return machine
    mean, cov = belief.bank.likelier_drive().mixture.moments
    screws = slice(FIRST_SCREW, belief.layout.size)
    lesson = Learned(
        on=today.isoformat(),
        push=round(belief.bank.pushes, DIGITS),
        mean=tuple(np.round(mean[screws], DIGITS).tolist()),
        cov=tuple(tuple(row) for row in np.round(cov[screws, screws], DIGITS).tolist()),
    )
    mounts = tuple(m.model_copy(update={"learned": lesson}) if m.mirror == 3 else m for m in machine.mounts)
    return machine.model_copy(update={"mounts": mounts})
