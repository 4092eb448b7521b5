"""A mirror's mount as someone facing the screw heads sees it: three points, and the screw to turn.

x to the right and y up, in mm from the mirror's centre.
"""

import itertools
import math
import textwrap
from dataclasses import dataclass
from typing import Literal

from coach.pictures import shapes
from coach.pictures.palette import Role
from coach.pictures.raster import Anchor, Raster
from coach.pictures.view import View, frame, snap
from coach.shown import Wording

WING = 0.72
"""Half the width of an arrow head on an arc, as a share of its length."""

Place = tuple[float, float, Anchor]


@dataclass(frozen=True)
class PointShown:
    """One of the three points; `turn` is set on a screw that is to be turned, as seen on its head."""

    name: str
    x: float
    y: float
    kind: Literal["pivot", "screw"]
    turn: Literal["clockwise", "counterclockwise"] | None = None


@dataclass(frozen=True)
class MountScene:
    """The plate and its points; `caption` holds the rows below, in the caller's words."""

    points: tuple[PointShown, PointShown, PointShown]
    caption: tuple[str, ...] = ()

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        _Drawing(self, raster).run()


class _Drawing:
    def __init__(self, scene: MountScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = raster.rows >= 8 and raster.columns >= 20
        self.top = 1 if self.roomy else 0
        self.caption = self.wrapped() if self.roomy else []
        self.below = len(self.caption)
        tall = (raster.rows - self.top - self.below) * raster.aspect
        small = min(raster.width, tall)
        self.size(min(max(0.105 * small, 0.9), 4.6))
        self.fit(tall)
        while self.head > 0.9 and self.crowded():
            self.size(0.92 * self.head)
            self.fit(tall)

    def size(self, head: float) -> None:
        """All measures that go with the radius of a screw's head."""
        self.head = head
        self.sweep = 2.1 * head + 0.5
        self.tip = head + 1.2
        self.whole = self.sweep + WING * self.tip

    def crowded(self) -> bool:
        """Whether an arc around one point would touch its neighbour."""
        pairs = itertools.combinations(self.scene.points, 2)
        nearest = min(math.hypot(p.x - q.x, p.y - q.y) for p, q in pairs) * self.view.scale
        return nearest < self.sweep + 1.6 * self.head + 0.8

    def wrapped(self) -> list[tuple[str, bool]]:
        """The caption in rows that fit, the first of its texts strong; rows for which there is no room fall away."""
        rows = [
            (row, number == 0)
            for number, text in enumerate(self.scene.caption)
            for row in textwrap.wrap(self.raster.words(text)[0], self.raster.columns)
        ]
        return rows[: max(self.raster.rows - 8, 0)]

    def fit(self, tall: float) -> None:
        """Points' box and the mirror's centre into the picture, with room for the arc around each screw."""
        xs = [p.x for p in self.scene.points] + [0.0]
        ys = [p.y for p in self.scene.points] + [0.0]
        pad = self.sweep + 0.8
        pad_x = self.whole + (3.5 if self.roomy else 0.5)
        span_x, span_y = max(max(xs) - min(xs), 1e-6), max(max(ys) - min(ys), 1e-6)
        scale = min(max(self.raster.width - 2 * pad_x, 1.0) / span_x, max(tall - 2 * pad, 1.0) / span_y)
        middle_x, middle_y = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
        x = self.raster.width / 2 - middle_x * scale
        y = self.top * self.raster.aspect + tall / 2 + middle_y * scale
        self.view = View(x, y, scale)
        self.box = (min(xs), min(ys), max(xs), max(ys))

    def run(self) -> None:
        self.captions()
        self.plate()
        for point in self.scene.points:
            if point.kind == "pivot":
                self.pivot(point)
            else:
                self.screw(point)
        if self.roomy:
            self.words()

    def at(self, point: PointShown) -> tuple[float, float]:
        return snap(self.raster, *self.view.at(point.x, point.y))

    def plate_sides(self) -> tuple[float, float]:
        """Where the plate's left and right edge lie."""
        edge = 1.6 * self.head
        return self.view.at(self.box[0], 0)[0] - edge, self.view.at(self.box[2], 0)[0] + edge

    def plate(self) -> None:
        raster, edge = self.raster, 1.6 * self.head
        x0, x1 = self.plate_sides()
        y0, y1 = self.view.at(0, self.box[3])[1], self.view.at(0, self.box[1])[1]
        frame(raster, (x0, y0 - edge, x1, y1 + edge), Role.FRAME, Role.SURFACE, 0.7)
        x, y = snap(raster, *self.view.at(0, 0))
        radius = max(0.36 * min(math.hypot(p.x, p.y) for p in self.scene.points) * self.view.scale, 2.0)
        if self.roomy:
            raster.paint(shapes.dotted_ring(self.grid, x, y, radius, 3.0), Role.EDGE)

    def pivot(self, point: PointShown) -> None:
        x, y = self.at(point)
        size = 1.15 * self.head
        corners = [(x, y - size), (x + size, y + 0.8 * size), (x - size, y + 0.8 * size)]
        self.raster.paint(shapes.polygon(self.grid, corners), Role.METAL)
        self.raster.keep_free(x - size, y - size, x + size, y + size)

    def screw(self, point: PointShown) -> None:
        x, y = self.at(point)
        raster, turned = self.raster, point.turn is not None
        raster.paint(shapes.disc(self.grid, x, y, self.head), Role.FOCUS if turned else Role.METAL)
        slot = 0.7 * self.head
        raster.paint(shapes.line(self.grid, x - slot, y, x + slot, y, raster.hair), Role.GROUND)
        free = self.head
        if turned:
            clockwise = point.turn == "clockwise"
            start = math.radians(-230 if clockwise else 50)
            sweep = math.radians(255 if clockwise else -255)
            shape = shapes.arc_arrow(self.grid, x, y, self.sweep, start, sweep, max(0.4 * self.head, 1.2), self.tip)
            raster.paint(shape, Role.FOCUS)
            free = self.whole
        raster.keep_free(x - free, y - free, x + free, y + free)

    # words

    def captions(self) -> None:
        """The words around the picture: first of all, because nothing may push them out."""
        if not self.roomy:
            return
        raster, width = self.raster, self.raster.width
        raster.label(("facing the screw heads", "screw side"), [(width / 2, 0, "center")], Role.QUIET)
        for line, (text, strong) in enumerate(self.caption, raster.rows - self.below):
            raster.label(text, [(width / 2, line, "center")], Role.TEXT, bold=strong)

    def words(self) -> None:
        for point in sorted(self.scene.points, key=lambda p: p.turn is None):
            self.name(point)
        x, y = self.view.at(0, 0)
        row = int(y // self.raster.aspect)
        self.raster.label("mirror", [(x, row, "center")], Role.QUIET)

    def name(self, point: PointShown) -> None:
        x, y = self.at(point)
        row = int(y // self.raster.aspect)
        away = (self.whole if point.turn else self.head) + 1.6
        left, right = self.plate_sides()
        row_in = y + away if y < self.view.y else y - away
        beside: Place = (x + away, row, "left") if x < self.view.x else (x - away, row, "right")
        outside: Place = (min(left - 1.5, x - away), row, "right")
        if x > (left + right) / 2:
            outside = (max(right + 1.5, x + away), row, "left")
        inward: Place = (x, int(row_in // self.raster.aspect), "center")
        role = Role.FOCUS if point.turn else Role.TEXT
        text = (f"pivot {point.name}", point.name) if point.kind == "pivot" else (point.name,)
        places = [outside, beside, inward]
        self.raster.label(text, places, role, bold=point.turn is not None)
