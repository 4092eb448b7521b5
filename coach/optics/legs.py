"""How long the two legs of the beam's path are with the head at a given place."""

from coach.machine import Machine

MM_PER_M = 1000.0


def leg_lengths(machine: Machine, x: float, y: float) -> tuple[float, float]:
    """Lengths of leg 1 and leg 2 in METRES with the head at (x, y) in mm, machine frame.

        L1 = mirror1_gap + (depth − y)
        L2 = mirror2_gap + x           mirrors 1 and 2 on the left
        L2 = mirror2_gap + (width − x) mirrors 1 and 2 on the right

    In metres, because slopes in mrad times metres are mm.
    """
    path, bed = machine.path, machine.bed
    along_gantry = x if path.side == "left" else bed.width - x
    leg1 = path.mirror1_gap + (bed.depth - y)
    leg2 = path.mirror2_gap + along_gantry
    return leg1 / MM_PER_M, leg2 / MM_PER_M
