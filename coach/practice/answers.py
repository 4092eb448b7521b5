"""How the beam answers when a practice machine's state changes, by differences of the exact trace."""

import numpy as np
from numpy.typing import NDArray

from coach.machine import Machine
from coach.optics.legs import leg_lengths
from coach.optics.trace import TrueState, at_head, below_head


def change_at_head(machine: Machine, before: TrueState, after: TrueState) -> NDArray[np.float64]:
    """Change of leg 2's slope (u, v) in mrad and of the constant part of u in mm."""
    bed = machine.bed
    near = 0.0 if machine.path.side == "left" else bed.width

    def change(x: float, y: float) -> NDArray[np.float64]:
        return np.subtract(at_head(after, x, y), at_head(before, x, y))

    leg1, leg2 = leg_lengths(machine, near, bed.depth)
    start = change(near, bed.depth)
    slope2 = (change(bed.width - near, bed.depth) - start) / (bed.width / 1000.0)
    slope1 = (change(near, 0.0) - start) / (bed.depth / 1000.0)
    constant = start - slope1 * leg1 - slope2 * leg2
    return np.array([slope2[0], slope2[1], constant[0]])


def change_below(machine: Machine, before: TrueState, after: TrueState) -> NDArray[np.float64]:
    """Change of the landing place (x, y) in mm per metre below mirror 3, and 0."""
    x, y = machine.bed.width / 2, machine.bed.depth / 2

    def per_metre(state: TrueState) -> NDArray[np.float64]:
        return np.subtract(below_head(state, x, y, 1000.0), below_head(state, x, y, 0.0))

    change = per_metre(after) - per_metre(before)
    return np.array([change[0], change[1], 0.0])
