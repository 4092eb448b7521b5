"""The machine from above with its sizes: travel, mirrors 1 and 2, the beam's way, and what is asked about.

A sketch with the right proportions: a gap too short to be seen is drawn longer.  x to the right and y to the
back, in mm from the front-left corner of travel.
"""

import math
from dataclasses import dataclass
from typing import Literal

from coach.parts import PARTS, Direction, Part
from coach.pictures import shapes
from coach.pictures.folded import seen_from_above
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, frame, on_side, snap
from coach.pictures.zero import draw_zero
from coach.shown import Wording

Asked = Literal["width", "depth", "side", "gap1", "gap2", "stations", "zero", ""] | Part
Place = tuple[float, float, Anchor]
Place2 = tuple[float, float]
NEAR, FAR = 2.6, 5.6
"""Column widths: an arrow beside a part begins and ends so far from its middle."""

SHORTEST = 5.0
"""Column widths: no gap is drawn shorter."""
CLEAR = 9.0
"""Column widths: the gap to mirror 1 at least where it is asked about, because its size stands beside it."""
MARGIN = 1.6
"""The drawn bed reaches so far beyond the travel, in column widths: the head's box stays inside."""


@dataclass(frozen=True)
class PlanScene:
    """A travel of `width` × `depth` mm, the two gaps in mm, the stations, and which of it is asked about."""

    width: float
    depth: float
    side: Literal["left", "right"]
    gap1: float
    gap2: float
    stations: tuple[tuple[float, float], ...] = ()
    asked: Asked = ""
    words: tuple[tuple[Asked, tuple[str, ...]], ...] = ()
    """What is written beside width, depth and gaps, and behind a part's name, with the unit: the caller's words,
    shorter and shorter."""
    ways: tuple[Direction, ...] = ()
    """In which ways the part that is asked about would be moved."""
    zero: tuple[float, float] = (0.0, 0.0)
    """Where the controller counts from, mm; drawn where that is asked about."""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        _Drawing(self, raster).run()


class _Drawing:
    """All places in column widths, as if the mirrors stood on the left; `flip` turns them for the right."""

    def __init__(self, scene: PlanScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = raster.rows >= 9 and raster.columns >= 26
        row = raster.aspect
        near, far = (3.0, 5.0) if self.roomy else (1.5, 1.5)
        top, bottom = (2.2 * row, 2.4 * row) if self.roomy else (1.5, 0.5)
        wide, tall = max(raster.width - near - far, 4.0), max(raster.height - top - bottom, 4.0)
        scale = min(wide / (scene.width + scene.gap2), tall / (scene.depth + scene.gap1))
        shortest = SHORTEST if self.roomy else 1.5
        along = CLEAR if self.roomy and scene.asked == "gap1" else shortest
        self.gap1, self.gap2 = max(scene.gap1 * scale, along), max(scene.gap2 * scale, shortest)
        scale = min(max(wide - self.gap2, 2.0) / scene.width, max(tall - self.gap1, 2.0) / scene.depth, scale)
        self.across, self.along = scene.width * scale, scene.depth * scale
        left = near + self.gap2 + (wide - self.gap2 - self.across) / 2
        back = top + self.gap1 + (tall - self.gap1 - self.along) / 2
        self.view = View(left, back + self.along, scale)
        self.margin = MARGIN if self.roomy else 0.5
        self.places(left, back)

    def places(self, left: float, back: float) -> None:
        """Where mirrors, head and tube come to lie."""
        asked = self.scene.asked
        share_y = {"gap1": 0.0, "gap2": 0.55, "stations": 0.7}.get(asked, 0.45)
        share_x = {"gap1": 0.5, "gap2": 0.0, "stations": 0.75}.get(asked, 0.62)
        head_x, head_y = left + share_x * self.across, back + share_y * self.along
        mirror_x = left - self.gap2
        self.mirror1 = self.place(mirror_x, back - self.gap1)
        self.mirror2 = self.place(mirror_x, head_y)
        self.head = self.place(head_x, head_y)
        self.tube = (
            self.place(left + 0.4 * self.across, back - self.gap1),
            self.place(left + self.across, back - self.gap1),
        )
        self.edges = (left, back, left + self.across, back + self.along)

    def flip(self, x: float) -> float:
        return on_side(self.scene.side, x, self.raster.width)

    def place(self, x: float, y: float) -> tuple[float, float]:
        return snap(self.raster, self.flip(x), y)

    def run(self) -> None:
        self.floor()
        self.beam()
        self.tube_body()
        self.mirrors()
        self.head_box()
        self.stations()
        if self.scene.asked == "zero":
            self.counting()
        if self.roomy:
            self.moving()
            self.dimensions()
            self.names()

    # shapes

    def box(self) -> tuple[float, float, float, float]:
        left, back, right, front = self.edges
        x0, x1 = sorted((self.flip(left), self.flip(right)))
        more = self.margin
        return x0 - more, back - more, x1 + more, front + more

    def floor(self) -> None:
        frame(self.raster, self.box(), Role.FRAME, Role.SURFACE, 0.6)

    def beam(self) -> None:
        asked = {"gap1": (self.mirror1, self.mirror2), "gap2": (self.mirror2, self.head)}
        for leg in ((self.tube[0], self.mirror1), (self.mirror1, self.mirror2), (self.mirror2, self.head)):
            raster = self.raster
            raster.paint(shapes.line(self.grid, *leg[0], *leg[1], raster.hair), Role.BEAM, 0.75)
        if self.scene.asked in asked:
            (x0, y0), (x1, y1) = asked[self.scene.asked]
            self.raster.paint(shapes.line(self.grid, x0, y0, x1, y1, 2.0), Role.FOCUS)
            self.raster.keep_free(min(x0, x1) - 1, min(y0, y1) - 1, max(x0, x1) + 1, max(y0, y1) + 1)

    def tube_body(self) -> None:
        (x0, y), (x1, _) = self.tube
        x0, x1 = sorted((x0, x1))
        half = 1.6 if self.roomy else 0.8
        frame(self.raster, (x0, y - half, x1, y + half), self.role_of("tube"))
        for edge in (y - half, y + half):
            self.raster.keep_free(x0, edge, x1, edge)  # the word in it takes the row between

    def mirrors(self) -> None:
        reach = (1.9 if self.roomy else 0.9) * math.sqrt(2)
        faces = seen_from_above(self.scene.side)
        mirrors: tuple[tuple[Part, Place2, Place2], ...] = (
            ("mirror 1", self.mirror1, faces[0]),
            ("mirror 2", self.mirror2, faces[1]),
        )
        for name, (x, y), (across, down) in mirrors:
            role = Role.FOCUS if self.scene.asked == "side" else self.role_of(name)
            ends = (x - reach * across, y - reach * down, x + reach * across, y + reach * down)
            self.raster.paint(shapes.line(self.grid, *ends, 1.4), role)
            size = reach / math.sqrt(2)
            self.raster.keep_free(x - size, y - size, x + size, y + size)

    def head_box(self) -> None:
        x, y = self.head
        half = 1.8 if self.roomy else 0.9
        frame(self.raster, (x - half, y - half, x + half, y + half), self.role_of("head"))
        self.raster.keep_free(x - half, y - half, x + half, y + half)

    def role_of(self, part: Part) -> Role:
        return Role.FOCUS if self.scene.asked == part else Role.METAL

    def middle_of(self, part: Part) -> Place2:
        (x0, y), (x1, _) = self.tube
        places: dict[Part, Place2] = {"mirror 1": self.mirror1, "mirror 2": self.mirror2, "head": self.head}
        return places.get(part, ((x0 + x1) / 2, y))

    def moving(self) -> None:
        """Which way the part that is asked about would go: arrows in the plan's plane, a ring for up and down."""
        if self.scene.asked not in PARTS:
            return
        x, y = self.middle_of(self.scene.asked)
        for way in self.scene.ways:
            if way == "up":
                self.raster.paint(shapes.ring(self.grid, x, y, NEAR, self.raster.hair), Role.FOCUS)
                continue
            dx, dy = (1.0, 0.0) if way == "right" else (0.0, 1.0)
            for sign in (1, -1):
                near, far = sign * NEAR, sign * FAR
                start, end = (x + near * dx, y + near * dy), (x + far * dx, y + far * dy)
                self.raster.paint(shapes.arrow(self.grid, *start, *end, 1.2, 2.0), Role.FOCUS)
        if self.scene.ways:
            self.raster.keep_free(x - FAR, y - FAR, x + FAR, y + FAR)

    def stations(self) -> None:
        role = Role.FOCUS if self.scene.asked == "stations" else Role.TODO
        for x, y in self.scene.stations:
            px, py = snap(self.raster, self.flip(self._left(x)), self.view.at(0, y)[1])
            dot = (
                shapes.disc(self.grid, px, py, 1.3)
                if self.scene.asked == "stations"
                else shapes.ring(self.grid, px, py, 1.0, self.raster.hair)
            )
            self.raster.paint(dot, role)
            self.raster.keep_free(px - 1, py - 1, px + 1, py + 1)

    def counting(self) -> None:
        """The corner from which X and Y count, and the ways in which they grow."""
        x, y = self.scene.zero
        px, py = snap(self.raster, self.flip(self._left(x)), self.view.at(0, y)[1])
        draw_zero(self.raster, px, py, 1.0 if x == 0 else -1.0, -1.0 if y == 0 else 1.0)

    def _left(self, x: float) -> float:
        """A machine's x as if the mirrors stood on the left."""
        return self.view.at(on_side(self.scene.side, x, self.scene.width), 0)[0]

    # sizes and names

    def dimensions(self) -> None:
        left, back, right, front = self.edges
        below = front + self.margin + 1.6
        self.dimension("width", self.place(left, below), self.place(right, below))
        beside = right + self.margin + 2.0
        self.dimension("depth", self.place(beside, back), self.place(beside, front))

    def dimension(self, name: Asked, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A line as long as what it measures, with a tick at either end."""
        role, raster = (Role.FOCUS if self.scene.asked == name else Role.QUIET), self.raster
        thick = 1.2 if role is Role.FOCUS else raster.hair
        raster.paint(shapes.line(self.grid, *start, *end, thick), role)
        flat = start[1] == end[1]
        for x, y in (start, end):
            dx, dy = (0.0, 1.0) if flat else (1.0, 0.0)
            raster.paint(shapes.line(self.grid, x - dx, y - dy, x + dx, y + dy, thick), role)
        (x0, x1), (y0, y1) = sorted((start[0], end[0])), sorted((start[1], end[1]))
        if not flat:  # the words of the other stand in it
            raster.keep_free(x0 - 0.5, y0 - 0.5, x1 + 0.5, y1 + 0.5)

    def names(self) -> None:
        """What is asked about first: what stands later has to find room."""
        asked = self.scene.asked
        said = {name: words for name, words in self.scene.words if name not in PARTS}
        if asked in PARTS:
            self.part_words(asked)
        for name in sorted(said, key=lambda name: name != asked):
            self.size_words(name, said[name])
        for part in sorted(PARTS):
            if part != asked:
                self.part_words(part)
        left, _, right, front = self.box()
        row = int(front // self.raster.aspect) - 1
        self.raster.label(("front", ""), [((left + right) / 2, row, "center")], Role.QUIET)

    def part_name(self, part: Part, *short: str) -> tuple[str, ...]:
        """What is written beside a part: its name, and behind it what is asked about."""
        words = dict(self.scene.words).get(part, ())
        return (*(f"{part}: {more}" for more in words), part, *short)

    def size_words(self, name: Asked, wordings: tuple[str, ...]) -> None:
        raster, aspect = self.raster, self.raster.aspect
        asked = name == self.scene.asked
        raster.label(wordings, self._beside(name, aspect), Role.FOCUS if asked else Role.TEXT, bold=asked)

    def _beside(self, name: Asked, aspect: float) -> list[Place]:
        """Where the words of a size may stand."""
        x0, _, x1, _ = self.box()
        inner: Anchor = "left" if self.scene.side == "left" else "right"
        outer: Anchor = "right" if self.scene.side == "left" else "left"
        step = 1.0 if self.scene.side == "left" else -1.0
        if name == "width":
            below = snap(self.raster, 0.0, self.edges[3] + self.margin + 1.6)[1]
            return [((x0 + x1) / 2, min(int(below // aspect), self.raster.rows - 1), "center")]
        if name == "depth":
            x = self.flip(self.edges[2]) - step
            middle = int((self.edges[1] + 0.8 * self.along) // aspect)
            return [(x, middle + move, outer) for move in (0, 1, -1, 2, -2, 3, -3)]
        if name == "gap1":
            x, top = self.mirror1[0] + 2.5 * step, int(self.mirror1[1] // aspect)
            return [(x, top + move, inner) for move in (2, 1, 3)]
        x, row = (self.mirror2[0] + self.head[0]) / 2, int(self.mirror2[1] // aspect)
        start = self.flip(self.edges[0] - self.gap2) + step
        return [(start, row + move, inner) for move in (2, -2, 1, -1, 3, -3)]

    def part_words(self, part: Part) -> None:
        """A part's name beside it; with what is asked about behind it, wherever there is room nearby."""
        asked, aspect = self.scene.asked, self.raster.aspect
        loud = asked == part or (asked == "side" and part.startswith("mirror"))
        x, y = self.middle_of(part)
        row = int(y // aspect)
        places: list[Place]
        short: tuple[str, ...] = ()
        if part.startswith("mirror"):
            inner: Anchor = "left" if self.scene.side == "left" else "right"
            step = 1.0 if self.scene.side == "left" else -1.0
            moves = ((4.0, -1), (-1.5, 2)) if part == "mirror 1" else tuple((-1.5, m) for m in (2, -2, 3, -3, 1))
            more = ((4.0, 2), (4.0, 3), (4.0, 4), (4.0, -2), (4.0, -3)) if asked == part else ()
            places = [(x + away * step, row + move, inner) for away, move in (*moves, *more)]
            short = (f"m{part[-1]}",)
        else:
            moved = (0, -1, 1) if part == "tube" else (-2, 2)
            places = [(x, row + move, "center") for move in (*moved, *((3, -3, 4, -4) if asked == part else ()))]
        if asked == part:
            places += [(self.raster.width / 2, row, "center") for row in range(self.raster.rows)]
        self.raster.label(self.part_name(part, *short), places, Role.FOCUS if loud else Role.QUIET, bold=loud)
