"""What a gap is: the tape with its rim, a mark on it, and four lines from the rim to the mark.

u to the right and v up, in mm from the opening's centre, as seen on the face of the tape that is looked at.
"""

import math
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.aperture import ApertureDrawing, ApertureScene
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.shown import Wording

WAYS = {"left": (-1, 0), "right": (1, 0), "top": (0, 1), "bottom": (0, -1)}
TICK = 1.0
"""Column widths to either side, at both ends of a gap."""
NAMED = 10.0
"""Column widths of radius from which the gaps have their names on the picture."""
EXAMPLE = "example"


@dataclass(frozen=True)
class GapsScene:
    """A mark at (u, v), `width` wide, with the gaps that are measured to its near edge or to its middle; mm."""

    tape: ApertureScene
    u: float
    v: float
    width: float
    to_edge: bool = True
    asked: str = ""
    """The gap that is being typed: left, right, top or bottom."""
    example: bool = False
    """Whether the mark is only one such as it might be: nothing was measured yet."""

    def gap(self, way: str) -> tuple[tuple[float, float], tuple[float, float]] | None:
        """From the rim to the mark, along the straight line through the mark's middle; None where there is none."""
        across, up = WAYS[way]
        rim, off = self.tape.aperture / 2, self.v if across else self.u
        if abs(off) >= rim:
            return None
        half, inner = math.sqrt(rim**2 - off**2), self.width / 2 if self.to_edge else 0.0
        if (half - (self.u * across + self.v * up)) <= inner:
            return None  # the mark reaches over the rim
        if across:
            return (across * half, self.v), (self.u + across * inner, self.v)
        return (self.u, up * half), (self.u, self.v + up * inner)

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        drawing = ApertureDrawing(self.tape, raster, wording)
        drawing.run()
        x, y = drawing.view.at(self.u, self.v)
        radius = max(drawing.px(self.width / 2), 1.2)
        raster.paint(
            shapes.ring(raster.grid, x, y, radius, raster.hair)
            if self.example
            else shapes.disc(raster.grid, x, y, radius),
            Role.OLD if self.example else Role.MARK,
        )
        raster.keep_free(x - radius, y - radius, x + radius, y + radius)
        for way in sorted(WAYS, key=lambda way: way != self.asked):
            self._line(drawing, way)
        if self.example:
            row, beside = int((y + radius) // raster.aspect) + 1, radius + 1
            raster.label(EXAMPLE, [(x + beside, row, "left"), (x - beside, row, "right")], Role.OLD)

    def _line(self, drawing: ApertureDrawing, way: str) -> None:
        """One gap with a tick at either end, and its name beside it."""
        gap, raster = self.gap(way), drawing.raster
        if gap is None:
            return
        loud = way == self.asked
        role, thick = (Role.FOCUS, 1.4) if loud else (Role.TEXT, raster.hair)
        (x0, y0), (x1, y1) = (drawing.view.at(*place) for place in gap)
        raster.paint(shapes.line(raster.grid, x0, y0, x1, y1, thick), role)
        across = bool(WAYS[way][0])
        dx, dy = (0.0, TICK) if across else (TICK, 0.0)
        for x, y in ((x0, y0), (x1, y1)):
            raster.paint(shapes.line(raster.grid, x - dx, y - dy, x + dx, y + dy, thick), role)
        if drawing.radius < NAMED:
            return
        x, row = (x0 + x1) / 2, int((y0 + y1) / 2 // raster.aspect)
        beside: list[tuple[float, float, Anchor]]
        if across:
            beside = [(x, row + move, "center") for move in (-1, 1)]
        else:
            beside = [(x + 1.5, row, "left"), (x - 1.5, row, "right"), (x + 1.5, row + 1, "left")]
        raster.label((way, way[0]), beside, role, bold=loud)
