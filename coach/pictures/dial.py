"""A screw's turn as seen on its head: a pointer now, the same pointer afterwards, and the wedge between them.

The pointer now stands at twelve o'clock, as a key does that is put in upright.  The wedge has the true angle.
"""

import math

from coach.pictures import shapes
from coach.pictures.palette import Role
from coach.pictures.raster import Raster

UPRIGHT = -math.pi / 2
"""The angle of twelve o'clock on the screen, where y points down."""
SHORTEST = 1.9
"""The arrow is at least so many of its heads long: where the turn is less it comes up to the pointer from outside."""


def wedge(turns: float) -> tuple[float, float]:
    """Where the wedge begins and how far it goes, radians; clockwise is positive as on the screen."""
    return UPRIGHT, math.copysign(min(abs(turns), 1.0), turns) * math.tau


def lane(reach: float) -> float:
    """How much of a dial's whole radius its arrow takes outside of the head, column widths."""
    return min(max(0.3 * reach, 1.8), 4.2)


def draw(raster: Raster, x: float, y: float, reach: float, turns: float) -> None:
    """The head of a screw that is turned so many turns, its arrow around it, within `reach` of (x, y)."""
    grid, outside = raster.grid, lane(reach)
    radius = reach - outside
    start, sweep = wedge(turns)
    raster.paint(shapes.disc(grid, x, y, radius), Role.SURFACE)
    raster.paint(shapes.ring(grid, x, y, radius, max(1.0, raster.hair)), Role.FRAME)
    raster.paint(shapes.sector(grid, x, y, radius, start, sweep), Role.FOCUS)
    _pointer(raster, (x, y), radius, start, Role.METAL)
    _pointer(raster, (x, y), radius, start + sweep, Role.FOCUS)
    _arrow(raster, (x, y), radius, outside, turns)
    raster.keep_free(x - reach, y - reach, x + reach, y + reach)


def _pointer(raster: Raster, middle: tuple[float, float], radius: float, angle: float, role: Role) -> None:
    x, y = middle
    end = (x + radius * math.cos(angle), y + radius * math.sin(angle))
    raster.paint(shapes.line(raster.grid, x, y, *end, max(0.1 * radius, 1.0)), role)


def _arrow(raster: Raster, middle: tuple[float, float], radius: float, outside: float, turns: float) -> None:
    """Outside of the head, its tip over the pointer afterwards."""
    start, sweep = wedge(turns)
    head, thick = 0.95 * outside, max(0.3 * outside, 1.0)
    around = radius + 0.5 + 0.5 * outside
    least = math.copysign(min(SHORTEST * head / around, math.tau), turns)
    whole = max(sweep, least, key=abs)
    body = shapes.arc_arrow(raster.grid, *middle, around, start + sweep - whole, whole, thick, head, wing=0.52)
    raster.paint(body, Role.FOCUS)
