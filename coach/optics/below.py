"""The beam below mirror 3: upright or leaning, through the lens, through the nozzle's hole, to the bed.

Machine axes seen from above, x to the right and y to the back; each axis by itself.  `slope` in mrad, positive
where the beam lands farther to the right (to the back) the lower one looks; `offset` in mm, the beam minus the
lens's middle, at the lens.  Thin lens, paraxial rays (Kogelnik & Li, Appl. Opt. 5, 1550 (1966)); the nozzle's
opening lies `nozzle_distance` mm above the focus.  `coach.optics.mounts.beam_response` says what mirror 3's plate
does to the slope.
"""

import math

import numpy as np
from numpy.typing import NDArray

from coach.errors import OutOfReach
from coach.machine import Mount, Side
from coach.optics.gaussian import passed_fractions
from coach.optics.lens import Matrix, free_space, thin_lens
from coach.optics.mounts import MRAD, ROOT2, beam_response, plate_motion, side_sign


def lens_to_nozzle(focal: float, nozzle_distance: float) -> Matrix:
    """Ray matrix from just before the lens to the nozzle's opening: f − s mm below the lens, s above the focus."""
    return free_space(focal - nozzle_distance) @ thin_lens(focal)


def cone_radius(w: float, focal: float, nozzle_distance: float) -> float:
    """1/e² radius in mm of the converging beam at the nozzle's opening: w·s/f, w that at the lens."""
    if not (0 < nozzle_distance < focal):
        raise OutOfReach(
            f"A nozzle {nozzle_distance:g} mm above the focus of a lens of {focal:g} mm cannot be",
            expected="between the lens and the focus",
        )
    return w * nozzle_distance / focal


def clipped_by_nozzle(
    hole: float, w: float, focal: float, nozzle_distance: float, off: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Fraction of the beam that a nozzle's hole of diameter `hole` cuts off, the beam `off` mm from its middle.

    `off` and the result have the shape (n,): each place by itself.
    """
    return 1.0 - passed_fractions(hole / 2, cone_radius(w, focal, nozzle_distance), off)


def degrees_of(slope: float) -> float:
    """A slope in mrad (the tangent) as an angle from the upright, in degrees."""
    return math.degrees(math.atan(slope / MRAD))


def slope_of(degrees: float) -> float:
    """The slope in mrad of a beam that leans by so many degrees."""
    return MRAD * math.tan(math.radians(degrees))


def two_height_slope(shift: float, lowered: float) -> float:
    """Slope in mrad of a beam whose mark moved by `shift` mm as the bed went down by `lowered` mm.

    Raises OutOfReach unless the bed went down.
    """
    if not lowered > 0:
        raise OutOfReach(f"The bed cannot be lowered by {lowered:g} mm", expected="more than 0 mm", example="100")
    return MRAD * shift / lowered


def least_lowered(sd: float, degrees: float) -> float:
    """mm by which the bed must go down for two marks, each read to `sd` mm, to make no more than so many degrees.

    The difference of two readings is known to √2·sd (JCGM 100 §5.1.2: memory), so h = √2·sd / tan(degrees).
    """
    return ROOT2 * sd / math.tan(math.radians(degrees))


def mirror3_responses(mount: Mount, side: Side) -> NDArray[np.float64]:
    """What one clockwise turn of each screw does to the beam below mirror 3, drive "push": shape (screws, 4).

    Slope x, slope y (mrad), and the sideways shift x, y at the mirror (mm): a rise t meets the beam earlier on its
    way, so that it goes down −√2·t farther along leg 2; −√2·t to the right on side left, +√2·t on side right.
    """
    rows = []
    for screw in mount.screws:
        motion = plate_motion(mount, {screw.name: 1.0})
        slope_x, slope_y, _ = beam_response(3, side, motion)
        rows.append([slope_x, slope_y, -side_sign(side) * ROOT2 * motion.rise, 0.0])
    return np.array(rows, dtype=np.float64)
