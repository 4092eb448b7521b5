"""The corner of travel from which the controller counts."""

from coach.pictures import shapes
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster

LONG = 8.0
"""Column widths: the arrows along X and Y."""


def draw_zero(raster: Raster, x: float, y: float, inwards: float, to_back: float) -> None:
    """A dot in the corner, and arrows the ways in which X and Y grow: signs of x and y on the raster."""
    raster.paint(shapes.disc(raster.grid, x, y, 1.3), Role.FOCUS)
    for end in ((x + LONG * inwards, y), (x, y + LONG * to_back)):
        raster.paint(shapes.arrow(raster.grid, x, y, *end, 1.2, 2.0), Role.FOCUS)
        raster.keep_free(min(x, end[0]) - 1, min(y, end[1]) - 1, max(x, end[0]) + 1, max(y, end[1]) + 1)
    row, step = int(y // raster.aspect), int(to_back)
    anchor: Anchor = "left" if inwards > 0 else "right"
    places: list[tuple[float, float, Anchor]] = [(x + 2.5 * inwards, row + n * step, anchor) for n in (1, 2, 3)]
    raster.label(("X 0, Y 0", "0/0"), places, Role.FOCUS, bold=True)
