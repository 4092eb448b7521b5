"""The bed seen from above, front at the bottom: stations, what became of them, and the tape that was marked there.

x to the right and y to the back, in mm from the front-left corner of travel.  Each marked station shows its tape as a
small disc with a cross of its own: u to the right and v up, as seen by someone facing the tape, at a scale of its own
that is written below.  On the plan itself up would be the back, so nothing points from one station to another place.
"""

import math
from dataclasses import dataclass
from typing import Literal

from coach.pictures import shapes
from coach.pictures.folded import seen_from_above
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, frame, scale_bar, snap
from coach.shown import Wording

State = Literal["todo", "now", "done", "missed", "nothing seen"]
"""What became of a station; "nothing seen": a pulse left nothing there, and nobody knows whether it missed."""
Place = tuple[float, float, Anchor]

ROLES = {
    "todo": Role.TODO,
    "now": Role.FOCUS,
    "done": Role.DONE,
    "missed": Role.MISSED,
    "nothing seen": Role.MISSED,
}
DOT = 1.5
"""The half width of a station without a mark, in column widths."""
DISC = (0.085, 2.4, 7.0)
"""The radius of a tape's disc: a share of the picture's smaller side, in column widths at least and at most."""
DISCS = (30, 12)
"""Columns and rows of a picture from which there is room for discs; on a smaller one a station is a dot."""
LEAST_SHOWN = 0.5
"""mm: offsets smaller than this do not fill a disc, because then they would look large."""
NEARER = 0.5
"""Column widths by which a word is nearer to its own station than to any other."""
WITHIN = 0.72
"""The largest offset reaches so far out on its disc."""


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
    """The travel of `width` × `depth` mm, the mirrors' side, where the head is; discs show `reaching` mm at least."""

    width: float
    depth: float
    side: Literal["left", "right"]
    stations: tuple[StationDot, ...] = ()
    head: tuple[float, float] | None = None
    reaching: float = LEAST_SHOWN

    def marked(self) -> tuple[StationDot, ...]:
        """The stations that have a mark to show."""
        return tuple(s for s in self.stations if s.u is not None and s.v is not None)

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        _Drawing(self, raster, wording).run()


class _Drawing:
    def __init__(self, scene: BedScene, raster: Raster, wording: Wording) -> None:
        self.wording = wording
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = raster.rows >= 8 and raster.columns >= 24
        self.marked = scene.marked() if raster.rows >= DISCS[1] and raster.columns >= DISCS[0] else ()
        top, bottom = (1, 2 if self.marked else 1) if self.roomy else (0, 0)
        share, least, most = DISC
        smaller = min(raster.width, raster.height)
        self.disc = min(max(share * smaller, least), most) if self.marked else DOT
        side = 4.0 if self.roomy else 1.0
        self.margin = self.disc + 1.1 if self.roomy else 1.0
        wide = max(raster.width - 2 * side - 2 * self.margin, 2.0)
        room = (raster.rows - top - bottom) * raster.aspect
        tall = max(room - 2 * self.margin - 0.5, 1.0)
        scale = min(wide / scene.width, tall / scene.depth)
        left = (raster.width - scene.width * scale) / 2
        floor = top * raster.aspect + (room + scene.depth * scale) / 2
        self.view = View(left, floor, scale)
        self.bottom_row = raster.rows - bottom

    def run(self) -> None:
        self.floor()
        self.mirrors()
        self.gantry()
        for station in self.scene.stations:
            if station in self.marked:
                self.tape(station, station.u or 0.0, station.v or 0.0)
            else:
                self.dot(station)
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
        for y, (across, down) in zip((y0, second), seen_from_above(self.scene.side), strict=True):
            x, y = snap(self.raster, edge + 2.2 * out, y)
            ends = (x - 1.4 * across, y - 1.4 * down, x + 1.4 * across, y + 1.4 * down)
            self.raster.paint(shapes.line(self.grid, *ends, 1.2), Role.METAL)
            self.raster.keep_free(x - 1, y - 1, x + 1, y + 1)

    def gantry(self) -> None:
        if self.scene.head is None:
            return
        x0, _, x1, _ = self.corners()
        x, y = snap(self.raster, *self.view.at(*self.scene.head))
        self.raster.hairline(x0 + 1, y, x1 - 1, y, Role.FRAME)
        half = self.half_head
        frame(self.raster, (x - half, y - half, x + half, y + half), Role.METAL)
        self.raster.keep_free(x - half, y - half, x + half, y + half)

    @property
    def half_head(self) -> float:
        """Half the width of the head's box: it goes around what lies beneath."""
        return max(3.0, self.disc + 1.0)

    def dot(self, station: StationDot) -> None:
        x, y = snap(self.raster, *self.view.at(station.x, station.y))
        raster, role = self.raster, ROLES[station.state]
        if station.state == "todo":
            raster.paint(shapes.ring(self.grid, x, y, 1.3, raster.hair), role)
        elif station.state == "missed":
            for lean in (-1, 1):
                stroke = shapes.line(self.grid, x - 1, y - lean, x + 1, y + lean, 1.0)
                raster.paint(stroke, role)
        elif station.state == "nothing seen":  # a dash: neither a mark nor known to have missed
            raster.paint(shapes.line(self.grid, x - 1.5, y, x + 1.5, y, 1.0), role)
        elif station.state == "now":
            raster.paint(shapes.disc(self.grid, x, y, 1.7), role)
        else:
            raster.paint(shapes.disc(self.grid, x, y, 1.1), role)
        raster.keep_free(x - DOT, y - DOT, x + DOT, y + DOT)

    def tape_scale(self) -> float:
        """Column widths per mm on every disc: the largest offset stays well within its own."""
        longest = max(math.hypot(s.u or 0.0, s.v or 0.0) for s in self.marked)
        return WITHIN * self.disc / max(longest, self.scene.reaching)

    def tape(self, station: StationDot, u: float, v: float) -> None:
        """The station's tape with its cross and the mark on it."""
        raster, radius, scale = self.raster, self.disc, self.tape_scale()
        x, y = snap(raster, *self.view.at(station.x, station.y))
        raster.paint(shapes.disc(self.grid, x, y, radius), Role.GROUND)
        raster.paint(shapes.disc(self.grid, x, y, radius), Role.TAPE)
        for dx, dy in ((0.0, radius - 0.6), (radius - 0.6, 0.0)):
            raster.paint(shapes.line(self.grid, x - dx, y - dy, x + dx, y + dy, 0.6 * raster.hair), Role.CROSS)
        raster.paint(shapes.ring(self.grid, x, y, radius, raster.hair), ROLES[station.state])
        place = (x + scale * u, y - scale * v)
        raster.paint(shapes.disc(self.grid, *place, max(0.2 * radius, 0.8)), Role.MARK)
        raster.keep_free(x - radius, y - radius, x + radius, y + radius)

    # words

    def words(self) -> None:
        raster, scene = self.raster, self.scene
        x0, _, x1, _ = self.corners()
        middle, (above, below) = (x0 + x1) / 2, self.outside()
        raster.label("back", [(middle, above, "center")], Role.QUIET)
        raster.label("front", [(middle, below, "center"), (middle, self.bottom_row, "center")], Role.QUIET)
        for station in sorted(scene.stations, key=lambda s: s.state != "now"):
            self.name(station)
        outer = x0 - 4 if scene.side == "left" else x1 + 4
        ends: list[Place] = [(outer, above, scene.side), (outer, below, scene.side)]
        raster.label(("mirrors' side", "mirrors"), ends, Role.QUIET)
        if scene.head is not None:
            self.head_word()
        if self.marked:
            scale_bar(raster, self.tape_scale(), raster.rows - 1, self.wording, before="discs", after="on the tape")

    def outside(self) -> tuple[int, int]:
        """The rows next to the bed, behind it and before it."""
        _, y0, _, y1 = self.corners()
        above, below = int(y0 / self.raster.aspect - 0.5) - 1, int(y1 / self.raster.aspect + 0.5) + 1
        return max(above, 0), min(below, self.bottom_row)

    def head_word(self) -> None:
        head = self.scene.head
        if head is None or any((s.x, s.y) == head for s in self.scene.stations if s.state == "now"):
            return
        x, y = self.view.at(*head)
        row, away = int(y // self.raster.aspect), self.half_head + 2
        over = math.ceil(away / self.raster.aspect)
        places: list[Place] = [(x + away, row, "left"), (x - away, row, "right")]
        places += [(x, row - over, "center"), (x, row + over, "center")]
        self.raster.label("head", places, Role.QUIET)

    def one_row(self) -> bool:
        """Whether two stations' names and states fit side by side: then every one takes a single row."""
        longest = max((len(self.full(s) + s.state) for s in self.scene.stations), default=0)
        return self.scene.width * self.view.scale >= 2 * longest + 14 + 2 * self.disc

    @staticmethod
    def full(station: StationDot) -> str:
        return station.name if station.number is None else f"{station.number} {station.name}"

    def name(self, station: StationDot) -> None:
        """Name and state together, beside the station and towards the middle of the bed."""
        x, y = self.view.at(station.x, station.y)
        row = int(snap(self.raster, x, y)[1] // self.raster.aspect)
        raster, role, strong = self.raster, ROLES[station.state], station.state == "now"
        size = self.size(station)
        inward: Anchor = "left" if station.x <= 0.6 * self.scene.width else "right"
        sign = 1 if inward == "left" else -1
        beside, edge = x + sign * (size + 1.8), x - sign * size
        over = math.ceil(size / self.raster.aspect)
        step = 1 if station.y > 0.5 * self.scene.depth else -1
        first, second = (over + 1, -over - 2) if step > 0 else (-over - 2, over + 1)
        stacked: list[Place] = [(beside, row + n, inward) for n in ((0, -1, 1, -2) if step > 0 else (-1, 0, -2, 1))]
        stacked += [(edge, row + n, inward) for n in (first, second)]
        level: list[Place] = [(beside, row, inward)]
        for name in dict.fromkeys((self.full(station), station.name)):
            one = f"{name} · {station.state}"
            if self.one_row() and raster.label(one, self.own(station, (one,), level), role, bold=strong):
                return
            if raster.stack(
                (name, station.state), self.own(station, (name, station.state), stacked), role, bold=strong
            ):
                return
        around: list[Place] = [(beside, row + n, inward) for n in (0, 1, -1, 2, -2)]
        around += [(edge, row + n, inward) for n in (over + 1, -over - 1)]
        around += [(x, n, "center") for n in (row - over, row + over, row - over - 1, row + over + 1)]
        around.append((x, self.outside()[step < 0], "center"))
        shorter = (station.name,) if station.number is None else (station.name, str(station.number))
        if not any(raster.label(name, self.own(station, (name,), around), role, bold=strong) for name in shorter):
            return
        if station.state != "todo":  # a "todo" without its name tells nothing
            at_it: list[Place] = [(beside, row + n, inward) for n in (0, 1, -1)]
            raster.label(station.state, self.own(station, (station.state,), at_it), role, bold=strong)

    def own(self, station: StationDot, texts: tuple[str, ...], places: list[Place]) -> list[Place]:
        """Of these places those where each of the texts, one below the other, stands nearer to its own station.

        Clearly nearer: a word halfway between two discs is read as either's.
        """
        others = [s for s in self.scene.stations if s is not station]

        def is_own(place: Place) -> bool:
            column, row, anchor = place
            return int(row) + len(texts) - 1 <= self.bottom_row and all(
                self.off(station, text, column, int(row) + n, anchor) + NEARER
                <= min((self.off(other, text, column, int(row) + n, anchor) for other in others), default=math.inf)
                for n, text in enumerate(texts)
            )

        return [place for place in places if is_own(place)]

    def off(self, station: StationDot, text: str, column: float, row: int, anchor: Anchor) -> float:
        """How far a text's nearest sign lies from what is seen at a station, in column widths."""
        x, y = snap(self.raster, *self.view.at(station.x, station.y))
        start, aspect = self.raster.start(text, column, anchor), self.raster.aspect
        across = max(start - x, x - start - len(text), 0.0)
        down = max(row * aspect - y, y - (row + 1) * aspect, 0.0)
        return math.hypot(across, down) - self.size(station)

    def size(self, station: StationDot) -> float:
        """Half the width of what is seen at a station: the head's box, its tape's disc, or a dot."""
        if (station.x, station.y) == self.scene.head:
            return self.half_head
        return self.disc if station in self.marked else DOT
