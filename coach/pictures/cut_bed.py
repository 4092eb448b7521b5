"""Where on the bed it cuts how fast: the bed from above, front at the bottom, a gauge at each station.

Every gauge is as wide as the fastest speed that was tried, and filled as far as the fastest line that fell through.
"""

from dataclasses import dataclass
from typing import Literal

from coach.pictures import shapes
from coach.pictures.cut_ladder import SLOWEST
from coach.pictures.cuts_shown import CutShown, slowest, top_speed
from coach.pictures.folded import seen_from_above
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import frame, snap
from coach.shown import Wording

LEAST, NAMED = (24, 10), (38, 13)
"""Columns and rows from which there is anything to see, and from which stations have their names."""
GAUGE = (7.0, 15.0)
"""Column widths of a gauge, at least and at most."""
SIDE, TIGHT = 4.5, 0.6
"""Column widths beside the bed, where the mirrors stand; without mirrors, where there is no room for them."""


@dataclass(frozen=True)
class CutBedScene:
    """A travel of `width` × `depth` mm with the mirrors on that side, and what was cut at its stations."""

    width: float
    depth: float
    side: Literal["left", "right"]
    cuts: tuple[CutShown, ...]

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if raster.columns >= LEAST[0] and raster.rows >= LEAST[1]:
            _Drawing(self, raster).run()


class _Drawing:
    def __init__(self, scene: CutBedScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.slow, self.fastest = slowest(scene.cuts), top_speed(scene.cuts)
        self.named = raster.columns >= NAMED[0] and raster.rows >= NAMED[1]
        self.gauge = min(max(raster.columns / 5, GAUGE[0]), GAUGE[1])
        aspect = raster.aspect
        words = max((len(cut.station) + 2 if self.named else len(cut.figure) for cut in scene.cuts), default=0)
        self.half = (max(self.gauge, words) / 2 + 0.5, (1.5 if self.named else 1.0) * aspect)
        """Half the width and height of what stands at a station."""
        # what stands at the stations of the bed's edge lies wholly on the bed
        wide = raster.width - 2 * ((SIDE if self.named else TIGHT) + self.half[0] + 0.6)
        tall = (raster.rows - 2) * aspect - 2 * (self.half[1] + 0.6)
        scale = min(max(wide, 1.0) / scene.width, max(tall, 1.0) / scene.depth)
        # a bed that is long or deep is drawn less so, as far as three stations need room side by side
        self.scale = (max(scale, min(wide, 2.1 * self.half[0]) / scene.width),
                      max(scale, min(tall, (6.2 if self.named else 4.2) * aspect) / scene.depth))  # fmt: skip
        self.origin = ((raster.width - scene.width * self.scale[0]) / 2,
                       (raster.height + scene.depth * self.scale[1]) / 2)  # fmt: skip

    def exactly(self, x: float, y: float) -> tuple[float, float]:
        """The place of a point on the bed, mm."""
        return self.origin[0] + x * self.scale[0], self.origin[1] - y * self.scale[1]

    def at(self, x: float, y: float) -> tuple[float, float]:
        """The middle of the nearest row: words stand in those above and below it."""
        column, down = self.exactly(x, y)
        down -= 0.0 if self.named else self.raster.aspect / 2
        return column, (down // self.raster.aspect + 0.5) * self.raster.aspect

    def run(self) -> None:
        self.floor()
        for cut in self.scene.cuts:
            self.station(cut)
        for cut in sorted(self.scene.cuts, key=lambda cut: (not cut.now, cut.station not in self.slow)):
            self.words(cut)

    def floor(self) -> None:
        """The bed, and mirrors 1 and 2 beside it."""
        raster, scene = self.raster, self.scene
        (x0, y1), (x1, y0) = self.exactly(0, 0), self.exactly(scene.width, scene.depth)
        across, down = self.half
        x0, x1, y0, y1 = x0 - across - 0.6, x1 + across + 0.6, y0 - down - 0.6, y1 + down + 0.6
        self.edges, self.top = (x0, x1), y0
        frame(raster, (x0, y0, x1, y1), Role.FRAME, Role.SURFACE, 0.7)
        if self.named:
            self.mirrors(x0, x1, y0, y1)
        middle = (x0 + x1) / 2
        raster.label("back", [(middle, max(int(y0 // raster.aspect) - 1, 0), "center")], Role.QUIET)
        below = min(int(y1 // raster.aspect) + 1, raster.rows - 1)
        raster.label("front", [(middle, below, "center")], Role.QUIET)
        outer = 0 if scene.side == "left" else raster.columns
        raster.label(("mirrors' side", "mirrors"), [(outer, below, scene.side)], Role.QUIET)

    def mirrors(self, x0: float, x1: float, y0: float, y1: float) -> None:
        """Beside the bed's edges: mirror 1 in the back corner, mirror 2 on the gantry."""
        raster, scene = self.raster, self.scene
        edge, out = (x0, -1.0) if scene.side == "left" else (x1, 1.0)
        for y, (right, front) in zip((y0 + 1, (y0 + y1) / 2), seen_from_above(scene.side), strict=True):
            x, y = snap(raster, edge + 2.2 * out, y)
            plate = shapes.line(self.grid, x - 1.4 * right, y - 1.4 * front, x + 1.4 * right, y + 1.4 * front, 1.2)
            raster.paint(plate, Role.METAL)

    def role(self, cut: CutShown) -> Role:
        return Role.FOCUS if cut.now else Role.MARK if cut.station in self.slow else Role.DONE

    def station(self, cut: CutShown) -> None:
        """A gauge in its outline, filled to what fell through for sure; a dash where it was not cut."""
        raster, (x, y), half = self.raster, self.at(cut.x, cut.y), self.gauge / 2
        low, high = y - raster.aspect / 4, y + raster.aspect / 4
        x0 = snap(raster, x - half, y)[0] - 0.5
        if cut.limit is None:
            raster.paint(shapes.bar(self.grid, x - 1.5, low, x + 1.5, high), Role.FOCUS if cut.now else Role.TODO)
        else:
            for end in (x0, x0 + self.gauge - 0.5):
                raster.paint(shapes.bar(self.grid, end, y - raster.aspect / 2, end + 0.5, high + 0.5), Role.FRAME)
            raster.paint(shapes.bar(self.grid, x0, high, x0 + self.gauge, high + 0.5), Role.FRAME)
            filled = self.gauge * cut.limit[0] / self.fastest
            if filled > 0:
                raster.paint(shapes.bar(self.grid, x0, y - raster.aspect / 2, x0 + filled, high), self.role(cut))
        raster.keep_free(x - half, y - raster.aspect / 2, x + half, y + raster.aspect / 2)

    def words(self, cut: CutShown) -> None:
        """The name above the gauge, where there is room for names; what was cut below it."""
        (x, y), slow = self.at(cut.x, cut.y), cut.station in self.slow
        row, loud = int(y // self.raster.aspect), slow or cut.now
        room = 2 * min(x - self.edges[0], self.edges[1] - x) - 2  # whole on the bed
        told = cut.figure
        if slow:
            whole = f"{cut.figure} {SLOWEST}"
            told = whole if len(whole) <= room else f"! {cut.figure}"
            if told != whole:
                above = max(int(self.top // self.raster.aspect) - 1, 0)
                self.raster.label(f"! {SLOWEST}", [(self.raster.columns, above, "right")], Role.MARK, bold=True)
        role = self.role(cut)
        if self.named:
            self.raster.label(cut.station, [(x, row - 1, "center")], role if loud else Role.TEXT, bold=loud)
        quiet = Role.TEXT if cut.limit else Role.QUIET
        self.raster.label(told, [(x, row + 1, "center")], role if loud else quiet, bold=loud)
