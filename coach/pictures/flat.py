"""What pictures that look down on something share: right is right, back is up, and how a place is said there."""

import math

from coach.pictures import shapes
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.shown import Wording

FROM_ABOVE = ("seen from above", "from above")
BACK, RIGHT = "↑ back", "right →"
Flat = tuple[float, float]
"""mm to the right and to the back."""


def on_the_flat(place: Flat, wording: Wording, places: int = 1) -> str:
    """ "0.3 mm right, 0.1 mm back", "in the middle"."""
    parts = []
    for value, plus, minus in ((place[0], "right", "left"), (place[1], "back", "front")):
        digits = wording.amount(abs(value), places)
        if float(digits):
            parts.append(f"{digits} {wording.unit} {plus if value > 0 else minus}")
    return ", ".join(parts) or "in the middle"


def per_cent(share: float) -> str:
    """ "12 %", "0.4 %", "< 0.1 %": what is small is not nothing."""
    return f"{100 * share:.{0 if share >= 0.0095 else 1}f} %" if share >= 0.001 else "< 0.1 %"


def off(place: Flat) -> float:
    """mm from the middle."""
    return math.hypot(*place)


def cross(raster: Raster, x: float, y: float, reach: float) -> None:
    """Thin axes through a middle."""
    for dx, dy in ((0.0, reach), (reach, 0.0)):
        raster.hairline(x - dx, y - dy, x + dx, y + dy, Role.CROSS)


def spot(raster: Raster, x: float, y: float, radius: float, role: Role) -> None:
    """A mark: a disc with a hole in its middle, where it is large enough for one."""
    raster.paint(shapes.disc(raster.grid, x, y, radius), role)
    if radius >= 2.4 and raster.mode in (RasterMode.SMOOTH, RasterMode.ANSI):
        raster.paint(shapes.disc(raster.grid, x, y, 0.6), Role.GROUND)
    raster.keep_free(x - radius, y - radius, x + radius, y + radius)
