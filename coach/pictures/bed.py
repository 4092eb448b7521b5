"""The bed seen from above, front at the bottom: stations, what became of them, and their offsets.

x to the right and y to the back, in mm from the front-left corner of travel.  The arrows are offsets on
the tape (u to the right, v up), not movements on the bed; their own scale is written below.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from coach.pictures import shapes
from coach.pictures.palette import Role
from coach.pictures.raster import Anchor, Raster
from coach.pictures.view import View, frame, scale_bar, snap
from coach.shown import Wording

State = Literal["todo", "now", "done", "missed"]
Place = tuple[float, float, Anchor]

ROLES = {"todo": Role.TODO, "now": Role.FOCUS, "done": Role.DONE, "missed": Role.MISSED}
MARGIN = 2.6
"""The bed reaches this far beyond the travel, in column widths: room for the stations at the edge."""
LONGEST_ARROW = 0.3
"""Of the smaller side of the drawn bed."""


@dataclass(frozen=True)
class StationDot:
    """A station at (x, y) mm; `u`, `v` its offset in mm once there is a mark; `number` its turn in the walk."""

    name: str
    x: float
    y: float
    state: State = "todo"
    number: int | None = None
    u: float | None = None
    v: float | None = None


@dataclass(frozen=True)
class BedScene:
    """The travel of `width` × `depth` mm, the side on which the mirrors stand, and where the head is."""

    width: float
    depth: float
    side: Literal["left", "right"]
    stations: tuple[StationDot, ...] = ()
    head: tuple[float, float] | None = None

    def arrows(self) -> tuple[StationDot, ...]:
        """The stations that have an offset to show."""
        return tuple(s for s in self.stations if s.u is not None and s.v is not None)

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        _Drawing(self, raster, wording).run()


class _Drawing:
    def __init__(self, scene: BedScene, raster: Raster, wording: Wording) -> None:
        self.wording = wording
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = raster.rows >= 8 and raster.columns >= 24
        top, bottom = (1, 2 if scene.arrows() else 1) if self.roomy else (0, 0)
        side = 4.0 if self.roomy else 1.0
        self.margin = MARGIN if self.roomy else 1.0
        wide = max(raster.width - 2 * side - 2 * self.margin, 2.0)
        room = (raster.rows - top - bottom) * raster.aspect
        tall = max(room - 2 * self.margin - 0.5, 1.0)
        scale = min(wide / scene.width, tall / scene.depth)
        left = (raster.width - scene.width * scale) / 2
        floor = top * raster.aspect + (room + scene.depth * scale) / 2
        self.view = View(left, floor, scale)
        self.bottom_row = raster.rows - bottom
        self.size = min(scene.width, scene.depth) * scale

    def run(self) -> None:
        self.floor()
        self.mirrors()
        self.gantry()
        for station in self.scene.stations:
            self.dot(station)
        self.arrows()
        if self.roomy:
            self.words()

    def corners(self) -> tuple[float, float, float, float]:
        x0, y1 = self.view.at(0, 0)
        x1, y0 = self.view.at(self.scene.width, self.scene.depth)
        more = self.margin
        return x0 - more, y0 - more, x1 + more, y1 + more

    def floor(self) -> None:
        x0, y0, x1, y1 = self.corners()
        frame(self.raster, (x0, y0, x1, y1), Role.FRAME, Role.SURFACE, 0.7)
        (x0, y0), (x1, y1) = snap(self.raster, x0, y0), snap(self.raster, x1, y1)
        for a, b, c, d in ((x0, y0, x1, y0), (x0, y1, x1, y1), (x0, y0, x0, y1), (x1, y0, x1, y1)):
            self.raster.keep_free(a - 0.4, b - 0.4, c + 0.4, d + 0.4)

    def edge(self) -> tuple[float, float]:
        """Where the mirrors' side lies, and which way is outwards."""
        x0, _, x1, _ = self.corners()
        return (x0, -1.0) if self.scene.side == "left" else (x1, 1.0)

    def mirrors(self) -> None:
        """Two slanted plates outside the bed: mirror 1 in the back corner, mirror 2 on the gantry."""
        if not self.roomy:
            return
        _, y0, _, y1 = self.corners()
        edge, out = self.edge()
        second = y1 if self.scene.head is None else self.view.at(0, self.scene.head[1])[1]
        for y in {y0, second}:
            x, lean = edge + 2.2 * out, -out if y == y0 else out
            x, y = snap(self.raster, x, y)
            plate = shapes.line(self.grid, x - 1, y + lean, x + 1, y - lean, 1.2)
            self.raster.paint(plate, Role.METAL)
            self.raster.keep_free(x - 1, y - 1, x + 1, y + 1)

    def gantry(self) -> None:
        if self.scene.head is None:
            return
        x0, _, x1, _ = self.corners()
        x, y = snap(self.raster, *self.view.at(*self.scene.head))
        beam = shapes.line(self.grid, x0 + 1, y, x1 - 1, y, max(1.02, self.raster.hair))
        self.raster.hairline(beam, Role.FRAME)
        half = 3.0
        frame(self.raster, (x - half, y - half, x + half, y + half), Role.METAL)
        self.raster.keep_free(x - half, y - half, x + half, y + half)

    def dot(self, station: StationDot) -> None:
        x, y = snap(self.raster, *self.view.at(station.x, station.y))
        raster, role = self.raster, ROLES[station.state]
        size = 1.5
        if station.state == "todo":
            raster.paint(shapes.ring(self.grid, x, y, 1.3, raster.hair), role)
        elif station.state == "missed":
            for lean in (-1, 1):
                stroke = shapes.line(self.grid, x - 1, y - lean, x + 1, y + lean, 1.0)
                raster.paint(stroke, role)
        elif station.state == "now":
            raster.paint(shapes.disc(self.grid, x, y, 1.7), role)
        else:
            raster.paint(shapes.disc(self.grid, x, y, 1.1), role)
        raster.keep_free(x - size, y - size, x + size, y + size)

    def arrow_scale(self) -> float:
        """Column widths per mm of offset: the longest is a good part of the bed, and none leaves the picture."""
        longest = max(math.hypot(s.u or 0.0, s.v or 0.0) for s in self.scene.arrows())
        scale = LONGEST_ARROW * self.size / max(longest, 1e-3)
        for station in self.scene.arrows():
            x, y = self.view.at(station.x, station.y)
            u, v = station.u or 0.0, station.v or 0.0
            room_x = self.raster.width - x if u > 0 else x
            room_y = y if v > 0 else self.raster.height - y
            for part, room in ((u, room_x), (v, room_y)):
                scale = min(scale, max(room - 1, 1) / max(abs(part), 1e-9))
        return scale

    def arrows(self) -> None:
        if not self.scene.arrows():
            return
        scale, raster = self.arrow_scale(), self.raster
        for station in self.scene.arrows():
            x, y = snap(raster, *self.view.at(station.x, station.y))
            across, up = (station.u or 0.0) * scale, (station.v or 0.0) * scale
            raster.paint(shapes.arrow(self.grid, x, y, x + across, y - up, max(1.0, raster.hair), 2.4), Role.MARK)
            for part in np.linspace(0.0, 1.0, 12).tolist():
                at_x, at_y = x + part * across, y - part * up
                raster.keep_free(at_x - 0.5, at_y - 0.5, at_x + 0.5, at_y + 0.5)

    # words

    def words(self) -> None:
        raster, scene = self.raster, self.scene
        x0, y0, x1, y1 = self.corners()
        middle, above = (x0 + x1) / 2, max(int(y0 / raster.aspect - 0.5) - 1, 0)
        below = min(int(y1 / raster.aspect + 0.5) + 1, self.bottom_row)
        raster.label("back", [(middle, above, "center")], Role.QUIET)
        outer = x0 - 4 if scene.side == "left" else x1 + 4
        ends: list[Place] = [(outer, above, scene.side), (outer, below, scene.side)]
        raster.label(("mirrors' side", "mirrors"), ends, Role.QUIET)
        raster.label("front", [(middle, below, "center"), (middle, self.bottom_row, "center")], Role.QUIET)
        for station in sorted(scene.stations, key=lambda s: s.state != "now"):
            self.name(station)
        if scene.head is not None:
            self.head_word()
        if scene.arrows():
            scale_bar(raster, self.arrow_scale(), raster.rows - 1, self.wording, before="arrows", after="on the tape")

    def head_word(self) -> None:
        head = self.scene.head
        if head is None or any(s.state == "now" and (s.x, s.y) == head for s in self.scene.stations):
            return
        x, y = self.view.at(*head)
        row = int(y // self.raster.aspect)
        places: list[Place] = [(x + 5, row, "left"), (x - 5, row, "right")]
        places += [(x, row - 2, "center"), (x, row + 2, "center")]
        self.raster.label("head", places, Role.QUIET)

    def one_row(self) -> bool:
        """Whether two stations' names and states fit side by side: then every one takes a single row."""
        longest = max((len(self.full(s) + s.state) for s in self.scene.stations), default=0)
        return self.scene.width * self.view.scale >= 2 * longest + 18

    @staticmethod
    def full(station: StationDot) -> str:
        return station.name if station.number is None else f"{station.number} {station.name}"

    def crowded(self, station: StationDot) -> bool:
        """Whether the head's box stands over the rows in which name and state would be written."""
        if self.scene.head is None or (station.x, station.y) == self.scene.head:
            return False
        dx, dy = (
            (self.scene.head[0] - station.x) * self.view.scale,
            (self.scene.head[1] - station.y) * self.view.scale,
        )
        return abs(dx) < 16 and abs(dy) < 8

    def name(self, station: StationDot) -> None:
        """Name and state beside the dot, towards the middle of the bed."""
        x, y = self.view.at(station.x, station.y)
        row = int(snap(self.raster, x, y)[1] // self.raster.aspect)
        role, strong = ROLES[station.state], station.state == "now"
        gap = 5.0 if (station.x, station.y) == self.scene.head else 3.5
        inward: Anchor = "left" if station.x <= 0.6 * self.scene.width else "right"
        beside = x + gap if inward == "left" else x - gap
        outer = x - 1 if inward == "left" else x + 1
        if self.one_row() or self.crowded(station):
            text = f"{self.full(station)} · {station.state}"
            if self.raster.label(text, [(beside, row, inward)], role, bold=strong):
                return
        central = abs(station.x - self.scene.width / 2) < 0.2 * self.scene.width
        step = 1 if central or station.y > 0.5 * self.scene.depth else -1
        edge = beside if central else outer
        names: list[Place] = [(beside, row, inward)] if central else []
        names += [(edge, row + n * step, inward) for n in (1, 2, -1)]
        names += [(beside, row + n * step, inward) for n in (1, 0, 2, 3)]
        states: list[Place] = [(beside, row + n * step, inward) for n in (0, 1, -1, 2)]
        states += [(edge, row + n * step, inward) for n in (2, 1, -1, 3)]
        short = (station.name,) if station.number is None else (station.name, str(station.number))
        self.raster.label((self.full(station), *short), names, role, bold=strong)
        self.raster.label(station.state, states, role, bold=strong)
