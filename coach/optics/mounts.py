"""What a mount's screws do to its plate, and what the plate does to the beam.

The plate lies on three points.  In the mount's own frame (x to the right, y up, (0, 0) on the mirror's
centre, seen by someone facing the screw heads) its height toward the reflecting side is

    height = gradient_x·x + gradient_y·y + rise

Small-angle responses of the beam (checked against the exact trace in `coach.optics.trace`):

    mirror 1   Δslope = (2·gradient_x, −√2·gradient_y)     shift of u = +√2·rise
    mirror 2   Δslope = (−2·gradient_x, −√2·gradient_y)    shift of u = −√2·rise

with mirrors 1 and 2 on the left; on the right only the shifts change sign.  A tilt in the plane of
incidence turns the beam by 2, a tilt out of it by 2·cos 45° = √2 (Burge, Proc. SPIE 6288, 2006).
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coach.errors import UnknownName
from coach.machine import Mount, Side

ROOT2 = 2.0**0.5
MRAD = 1000.0
"""mrad in one rad."""


@dataclass(frozen=True)
class PlateMotion:
    """How a plate lies, or how far it has moved, in the mount's own frame."""

    gradient_x: float = 0.0
    """mrad; positive: the right-hand side stands further from the viewer."""
    gradient_y: float = 0.0
    """mrad; positive: the upper side stands further from the viewer."""
    rise: float = 0.0
    """mm at the mirror's centre, toward the reflecting side."""

    def __add__(self, other: "PlateMotion") -> "PlateMotion":
        return PlateMotion(
            self.gradient_x + other.gradient_x,
            self.gradient_y + other.gradient_y,
            self.rise + other.rise,
        )


LEVEL = PlateMotion()
"""The plate as the drawing has it."""


def side_sign(side: Side) -> float:
    """+1 with mirrors 1 and 2 on the left, −1 on the right."""
    return 1.0 if side == "left" else -1.0


def plate_motion(mount: Mount, turns: Mapping[str, float]) -> PlateMotion:
    """Motion of the plate for turns of its screws by name, clockwise positive, drive "push".

    The plane through the three points, each turned point raised by pitch·turns.  For drive "pull"
    the caller changes the sign.  Raises UnknownName for a name that is not one of the screws.
    """
    names = [screw.name for screw in mount.screws]
    for name in turns:
        if name not in names:
            raise UnknownName(
                f"The mount of mirror {mount.mirror} has no screw {name!r}",
                expected="one of: " + ", ".join(names),
            )
    raised = [mount.pitch * turns.get(point.name, 0.0) for point in mount.points]
    plane = np.array([[point.x, point.y, 1.0] for point in mount.points])
    gradient_x, gradient_y, rise = np.linalg.solve(plane, np.array(raised))
    return PlateMotion(float(MRAD * gradient_x), float(MRAD * gradient_y), float(rise))


def beam_response(mirror: int, side: Side, motion: PlateMotion) -> tuple[float, float, float]:
    """Response of the beam to a small motion of a mirror's plate.

    Mirrors 1 and 2: change of leg 2's slope (u, v) at the head in mrad, and the beam's shift in u at
    the head in mm.  For mirror 1 leg 1's slope changes by the same (u, v).  Mirror 3: change of the
    beam's landing place (x, y) on the bed in mm per metre down, machine axes, and 0.
    """
    sign = side_sign(side)
    if mirror == 1:
        return 2 * motion.gradient_x, -ROOT2 * motion.gradient_y, sign * ROOT2 * motion.rise
    if mirror == 2:
        return -2 * motion.gradient_x, -ROOT2 * motion.gradient_y, -sign * ROOT2 * motion.rise
    return sign * 2 * motion.gradient_y, -sign * ROOT2 * motion.gradient_x, 0.0


def screw_responses(mount: Mount, side: Side) -> NDArray[np.float64]:
    """`beam_response` for one clockwise turn of each screw with drive "push": shape (screws, 3).

    Rows in the order of `mount.screws`; the caller changes the sign for drive "pull".
    """
    rows = [beam_response(mount.mirror, side, plate_motion(mount, {s.name: 1.0})) for s in mount.screws]
    return np.array(rows, dtype=np.float64)
