"""Before beside after: the same stations around the same centre, drawn twice at one scale, numbered alike.

u to the right and v up, in mm from the aperture's centre, as seen by someone facing the tape.  Both sides are zoomed
to the marks, so that what was gained can be seen.
"""

import math
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.compare import CRISP, CompareScene
from coach.pictures.compared import Compared, Offset, figures
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, crossed, scale_bar, snap
from coach.shown import Wording

LEAST = (40, 11)
"""Columns and rows from which both find room side by side."""
CIRCLE_ROWS = 8
"""The circles have at least so many rows before the stations' figures get any."""
Place = tuple[float, float, Anchor]


@dataclass(frozen=True)
class BesideScene:
    """All stations around one centre, before and after: `aperture` is a diameter, `tolerance` a radius, in mm."""

    aperture: float
    tolerance: float
    stations: tuple[Compared, ...]

    def reach(self) -> float:
        """How far out the farthest mark or the tolerance lies, mm."""
        marks = [mark for s in self.stations for mark in (s.before, s.after or s.expected) if mark]
        return max([self.tolerance, *(math.hypot(*mark) for mark in marks)])

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; where there is no room for two, both in one."""
        if raster.columns < LEAST[0] or raster.rows < LEAST[1]:
            CompareScene(self.aperture, self.tolerance, self.stations).draw(raster, wording)
            return
        rows = figures(self.stations, True, wording)
        fits = all(len(row) <= raster.columns for row in rows) and raster.rows - len(rows) - 2 >= CIRCLE_ROWS
        rows = rows if fits else []
        high, half = raster.rows - len(rows) - 1, raster.columns // 2
        for column, after in ((0, False), (raster.columns - half, True)):
            side = _Side(self, raster.pane(column, 0, half, high), wording, after=after)
            side.run()
        for row, figure in enumerate(rows, start=high):
            raster.label(figure, [(raster.width / 2, row, "center")], Role.TEXT)
        scale_bar(raster, side.view.scale, raster.rows - 1, wording, after="on the tape")


class _Side:
    """One of both circles, with its name above it."""

    def __init__(self, scene: BesideScene, raster: Raster, wording: Wording, *, after: bool) -> None:
        self.scene, self.raster, self.grid, self.wording, self.after = scene, raster, raster.grid, wording, after
        self.radius = max(min(raster.width / 2 - 0.5, (raster.rows - 1) * raster.aspect / 2 - 0.3), 1.5)
        raster.crisp, middle = self.radius < CRISP, (1 + (raster.rows - 1) / 2) * raster.aspect
        x, y = (snap if raster.crisp else crossed)(raster, raster.width / 2, middle)
        if not raster.crisp:
            self.radius -= abs(y - middle)
        size = max(0.1 * self.radius, 1.0)
        self.size = size
        self.view = View(x, y, (self.radius - size - 1.2) / scene.reach())

    def of(self, station: Compared) -> Offset | None:
        """Its mark on this side, or where its mark is expected now."""
        return (station.after or station.expected) if self.after else station.before

    def run(self) -> None:
        raster, x, y = self.raster, self.view.x, self.view.y
        raster.clip = shapes.disc(self.grid, x, y, self.radius)
        raster.paint(shapes.disc(self.grid, x, y, self.radius), Role.TAPE)
        rim = self.scene.aperture / 2 * self.view.scale
        raster.paint(shapes.ring(self.grid, x, y, rim, 1.25), Role.RIM)
        for dx, dy in ((0.0, self.radius - 0.5), (self.radius - 0.5, 0.0)):
            raster.hairline(x - dx, y - dy, x + dx, y + dy, Role.CROSS)
        tolerance = max(self.scene.tolerance * self.view.scale, 0.9)
        raster.paint(shapes.ring(self.grid, x, y, tolerance, raster.hair), Role.TOLERANCE)
        for station in self.scene.stations:
            if (mark := self.of(station)) is not None:
                self.mark(mark, expected=self.after and station.after is None)
        raster.paint(shapes.ring(self.grid, x, y, self.radius - 0.3, raster.hair), Role.FRAME)
        raster.clip = None
        self.words()

    def mark(self, offset: Offset, *, expected: bool) -> None:
        """Solid; hollow where it is only expected."""
        x, y = self.view.at(*offset)
        raster, size = self.raster, self.size
        if expected:
            raster.paint(shapes.ring(self.grid, x, y, size, raster.hair), Role.EXPECTED)
        else:
            raster.paint(shapes.disc(self.grid, x, y, size), Role.MARK if self.after else Role.OLD)
        raster.keep_free(x - size, y - size, x + size, y + size)

    def words(self) -> None:
        raster, middle = self.raster, self.raster.width / 2
        word = "after" if self.after else "before"
        marks = [mark for station in self.scene.stations if (mark := self.of(station)) is not None]
        missed = any(s.missed_after if self.after else s.missed_before for s in self.scene.stations)
        worst = self.wording.length(max((math.hypot(*mark) for mark in marks), default=0.0))
        said = f"{word}: off the tape" if missed else f"{word}: worst {worst}" if marks else f"{word}: no mark"
        raster.label((said, word), [(middle, 0, "center")], Role.TEXT, bold=True)
        for number, station in enumerate(self.scene.stations, start=1):
            if (mark := self.of(station)) is not None:
                self.number(str(number), *self.view.at(*mark))

    def number(self, text: str, x: float, y: float) -> None:
        """Beside its mark, away from the middle first; left out where the marks lie too close."""
        row, gap = int(y // self.raster.aspect), self.size + 1.0
        sides: list[Place] = [(x + gap, row, "left"), (x - gap, row, "right")]
        if x < self.view.x:
            sides.reverse()
        level: list[Place] = [(x, int((y + up * (gap + 0.5)) // self.raster.aspect), "center") for up in (-1, 1)]
        self.raster.label(text, sides + level, Role.TEXT)
