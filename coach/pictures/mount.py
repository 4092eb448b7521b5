"""A mirror's mount as someone facing the screw heads sees it: three points, and the screw to turn.

x to the right and y up, in mm from the mirror's centre.  The head of the screw to turn is drawn once more, large
and outside of the plate, so that its turn covers none of the points.
"""

import math
import textwrap
from dataclasses import dataclass
from typing import Literal

from coach.pictures import dial, shapes
from coach.pictures.labels import Anchor
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, frame, snap
from coach.shown import Wording

Place = tuple[float, float, Anchor]
Box = tuple[float, float, float, float]
"""x and y of the upper left, then of the lower right, in column widths."""

LEAST_DIAL = 3.5
"""Column widths: a large head with its arrow that would be smaller is left out."""
PLATE = 1.6
"""The plate's edge lies so many head radii beyond the outermost points."""


def leaving(box: Box, start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """Where a straight line from inside of a box leaves it; its end where it does not."""
    shares = [1.0]
    for low, high, here, there in zip(box[:2], box[2:], start, end, strict=True):
        if there != here:
            shares.append(((high if there > here else low) - here) / (there - here))
    share = max(min(shares), 0.0)
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


@dataclass(frozen=True)
class PointShown:
    """One of the three points; `turns` is set on a screw that is to be turned, clockwise positive on its head."""

    name: str
    x: float
    y: float
    kind: Literal["pivot", "screw"]
    turns: float | None = None


SEEN = ("facing the screw heads", "screw side")


@dataclass(frozen=True)
class MountScene:
    """The plate and its points; `caption` holds the rows below, in the caller's words."""

    points: tuple[PointShown, PointShown, PointShown]
    caption: tuple[str, ...] = ()
    seen: tuple[str, ...] = SEEN
    """From where, in shorter and shorter words: the row above."""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        MountDrawing(self, raster).run()


class MountDrawing:
    """One scene on one raster: the measures that all parts share."""

    def __init__(self, scene: MountScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = raster.rows >= 8 and raster.columns >= 20
        self.top = 1 if self.roomy else 0
        self.caption = self.wrapped() if self.roomy else []
        self.below = len(self.caption)
        self.turned = next((p for p in scene.points if p.turns), None)
        whole = (0.0, self.top * raster.aspect, raster.width, (raster.rows - self.below) * raster.aspect)
        self.dial: tuple[float, float, float] | None = None
        """x, y and radius of the large head."""
        self.fit(self.beside_the_dial(whole, self.turned) if self.turned else whole)

    def wrapped(self) -> list[tuple[str, bool]]:
        """The caption in rows that fit, the first of its texts strong; rows for which there is no room fall away."""
        rows = [
            (row, number == 0)
            for number, text in enumerate(self.scene.caption)
            for row in textwrap.wrap(self.raster.words(text)[0], self.raster.columns)
        ]
        return rows[: max(self.raster.rows - 8, 0)]

    def beside_the_dial(self, whole: Box, turned: PointShown) -> Box:
        """Where the plate goes; the large head takes its place on the side of its screw."""
        x0, y0, x1, y1 = whole
        wide, tall = x1 - x0, y1 - y0
        flat = wide >= tall
        reach = (min(0.25 * wide, tall / 2) if flat else min(0.25 * tall, wide / 2)) - 0.1
        if reach < LEAST_DIAL:
            return whole
        others = [p for p in self.scene.points if p is not turned]
        if flat:
            right = turned.x >= sum(p.x for p in others) / 2
            x, y = (x1 - reach, (y0 + y1) / 2) if right else (x0 + reach, (y0 + y1) / 2)
            box = (x0, y0, x1 - 2 * reach, y1) if right else (x0 + 2 * reach, y0, x1, y1)
        else:
            above = turned.y >= sum(p.y for p in others) / 2
            x, y = ((x0 + x1) / 2, y0 + reach) if above else ((x0 + x1) / 2, y1 - reach)
            box = (x0, y0 + 2 * reach, x1, y1) if above else (x0, y0, x1, y1 - 2 * reach)
        self.dial = (*snap(self.raster, x, y), reach)
        return box

    def fit(self, box: Box) -> None:
        """Points' box and the mirror's centre into that part of the picture."""
        left, top, right, bottom = box
        wide, tall = max(right - left, 1.0), max(bottom - top, 1.0)
        self.head = min(max(0.105 * min(wide, tall), 0.9), 4.6)
        xs = [p.x for p in self.scene.points] + [0.0]
        ys = [p.y for p in self.scene.points] + [0.0]
        pad = PLATE * self.head + 0.8
        pad_x = pad + ((3.5 if self.dial is None else 1.7) if self.roomy else 0.0)
        span_x, span_y = max(max(xs) - min(xs), 1e-6), max(max(ys) - min(ys), 1e-6)
        scale = min(max(wide - 2 * pad_x, 1.0) / span_x, max(tall - 2 * pad, 1.0) / span_y)
        middle_x, middle_y = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
        x = (left + right) / 2 - middle_x * scale
        y = (top + bottom) / 2 + middle_y * scale
        self.view = View(x, y, scale)
        self.box = (min(xs), min(ys), max(xs), max(ys))

    def run(self) -> None:
        self.captions()
        self.plate()
        self.leader()
        for point in self.scene.points:
            if point.kind == "pivot":
                self.pivot(point)
            else:
                self.screw(point)
        if self.dial and self.turned and self.turned.turns:
            dial.draw(self.raster, *self.dial, self.turned.turns)
        if self.roomy:
            self.words()

    def at(self, point: PointShown) -> tuple[float, float]:
        return snap(self.raster, *self.view.at(point.x, point.y))

    def plate_box(self) -> Box:
        """Where the plate's edges lie."""
        edge = PLATE * self.head
        (x0, y0), (x1, y1) = self.view.at(self.box[0], self.box[3]), self.view.at(self.box[2], self.box[1])
        return x0 - edge, y0 - edge, x1 + edge, y1 + edge

    def plate(self) -> None:
        raster = self.raster
        frame(raster, self.plate_box(), Role.FRAME, Role.SURFACE, 0.7)
        x, y = snap(raster, *self.view.at(0, 0))
        radius = max(0.36 * min(math.hypot(p.x, p.y) for p in self.scene.points) * self.view.scale, 2.0)
        if self.roomy:
            raster.paint(shapes.dotted_ring(self.grid, x, y, radius, 3.0), Role.EDGE)

    def leader(self) -> None:
        """From the screw on the plate to its large head: the two tangents of a magnifying glass."""
        if self.dial is None or self.turned is None:
            return
        (x0, y0), (x1, y1, reach) = self.at(self.turned), self.dial
        radius, small = reach - dial.lane(reach), self.head
        far, angle = math.hypot(x1 - x0, y1 - y0), math.atan2(y1 - y0, x1 - x0)
        if far <= radius + small:
            return
        for side in (1, -1):
            way = angle + side * math.acos((small - radius) / far)
            start = (x0 + small * math.cos(way), y0 + small * math.sin(way))
            end = (x1 + radius * math.cos(way), y1 + radius * math.sin(way))
            self.tangent(start, end)

    def tangent(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Outside of the plate alone: thin where there are many colours, else in whole pixels."""
        raster, plate = self.raster, self.plate_box()
        if raster.mode is RasterMode.SMOOTH:
            raster.hairline(*leaving(plate, start, end), *end, Role.EDGE)
            return
        line = shapes.line(self.grid, *start, *end, 0.8 * raster.hair)
        raster.paint(line.without(shapes.bar(self.grid, *plate).grown(1.0)), Role.EDGE)

    def pivot(self, point: PointShown) -> None:
        x, y = self.at(point)
        size = 1.15 * self.head
        corners = [(x, y - size), (x + size, y + 0.8 * size), (x - size, y + 0.8 * size)]
        self.raster.paint(shapes.polygon(self.grid, corners), Role.METAL)
        self.raster.keep_free(x - size, y - size, x + size, y + size)

    def screw(self, point: PointShown) -> None:
        x, y = self.at(point)
        raster, slot = self.raster, 0.7 * self.head
        raster.paint(shapes.disc(self.grid, x, y, self.head), Role.FOCUS if point.turns else Role.METAL)
        raster.paint(shapes.line(self.grid, x, y - slot, x, y + slot, raster.hair), Role.GROUND)
        raster.keep_free(x - self.head, y - self.head, x + self.head, y + self.head)

    # words

    def captions(self) -> None:
        """The words around the picture: first of all, because nothing may push them out."""
        if not self.roomy:
            return
        raster, width = self.raster, self.raster.width
        raster.label(self.scene.seen, [(width / 2, 0, "center")], Role.QUIET)
        for line, (text, strong) in enumerate(self.caption, raster.rows - self.below):
            raster.label(text, [(width / 2, line, "center")], Role.TEXT, bold=strong)

    def words(self) -> None:
        for point in sorted(self.scene.points, key=lambda p: p.turns is None):
            self.name(point)
        x, y = self.view.at(0, 0)
        row = int(y // self.raster.aspect)
        self.raster.label("mirror", [(x, row, "center")], Role.QUIET)

    def name(self, point: PointShown) -> None:
        x, y = self.at(point)
        row = int(y // self.raster.aspect)
        away = self.head + 1.6
        left, _, right, _ = self.plate_box()
        row_in = y + away if y < self.view.y else y - away
        beside: Place = (x + away, row, "left") if x < self.view.x else (x - away, row, "right")
        outside: Place = (left - 1.5, row, "right")
        if x > (left + right) / 2:
            outside = (right + 1.5, row, "left")
        inward: Place = (x, int(row_in // self.raster.aspect), "center")
        role = Role.FOCUS if point.turns else Role.TEXT
        text = (f"pivot {point.name}", point.name) if point.kind == "pivot" else (point.name,)
        places = [beside, inward, outside] if point.turns else [outside, beside, inward]
        self.raster.label(text, places, role, bold=bool(point.turns))
