"""What a cut check found, station by station over one axis of speeds: how fast fell through, and how it was before.

At each station a bar reaches from 0 to the fastest line that fell through; a whisker goes on to the next, which did
not: the limit lies on it.  Where no line fell through there is no bar; where all did, the whisker ends in an arrow.
Speeds are in mm/s; lengths of bars are in the ratio of speeds.
"""

import math
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.cuts_shown import NOT_YET, CutShown, slowest, speed, top_speed
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import nice_below
from coach.shown import Wording

LEAST = (28, 4)
"""Columns and rows from which there is anything to see."""
BEYOND = 1.12
"""The axis goes on to so many times the fastest speed: room for what is open."""
MOST = 0.45
"""Share of the columns that names take at most; a longer one gives way to its station's number."""
EDGE = 0.05
"""Columns by which a tick stands before its speed: in cells it is in the one that a bar up to there ends with; drawn
exactly it is too little to be seen."""
AXIS = "mm/s"
SLOWEST = "slowest"


@dataclass(frozen=True)
class CutsScene:
    """All stations; `earlier` says what the ghosts beside the bars are: "before", "baseline"."""

    cuts: tuple[CutShown, ...]
    earlier: str = "before"
    ladder: tuple[float, ...] = ()
    """Speeds of the lines that are to be cut, mm/s: the axis reaches as far as they do."""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if self.cuts and raster.columns >= LEAST[0] and raster.rows >= max(LEAST[1], len(self.cuts) + 1):
            _Drawing(self, raster).run()


class _Drawing:
    def __init__(self, scene: CutsScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.slow = slowest(scene.cuts)
        self.fastest = top_speed(scene.cuts, scene.ladder)
        names = max(max(len(cut.station) for cut in scene.cuts), len(SLOWEST)) + 2
        figures = max(len(cut.figure) for cut in scene.cuts) + 1
        self.left = min(float(names + 1), math.floor(MOST * raster.columns))
        self.right = max(raster.columns - figures - 0.5, self.left + 4)
        self.scale = (self.right - self.left) / (BEYOND * self.fastest)
        self.ghosts = any(cut.before for cut in scene.cuts)
        rows = raster.rows - (2 if raster.rows > len(scene.cuts) + 1 else 1)
        self.pitch = min(rows // len(scene.cuts), 5)
        self.top = max((rows - self.pitch * len(scene.cuts)) // 2, 0)
        self.axis_row = self.top + self.pitch * len(scene.cuts)

    def at(self, speed: float) -> float:
        return self.left + speed * self.scale

    def run(self) -> None:
        self.axis()
        for number, cut in enumerate(self.scene.cuts):
            self.station(cut, self.top + number * self.pitch)
        self.legend()

    def lanes(self, row: int) -> tuple[float, float, float]:
        """Top and bottom of a station's bar, and the middle of the ghost's lane beneath it."""
        aspect, high = self.raster.aspect, self.pitch * self.raster.aspect
        half = aspect / 2
        if self.pitch == 1:
            return row * aspect, row * aspect + half, row * aspect + 1.5 * half
        lane = half * max(round(0.5 * high / half), 2)
        return row * aspect + half / 2, row * aspect + half / 2 + lane - half / 2, row * aspect + lane + half

    def station(self, cut: CutShown, row: int) -> None:
        raster, (y0, y1, ghost) = self.raster, self.lanes(row)
        role = Role.FOCUS if cut.now else Role.MARK if cut.station in self.slow else Role.DONE
        if cut.before:
            self.whisker(*cut.before, ghost, Role.OLD, caps=0.0 if self.pitch == 1 else 1.0)
        if cut.limit:
            low, high = cut.limit
            if low > 0:
                raster.paint(shapes.bar(self.grid, self.left, y0, self.at(low), y1), role)
            self.whisker(low, high, (y0 + y1) / 2, role, caps=(y1 - y0) / 2)
        elif cut.now:
            self.lines_to_cut(y0, y1)
        self.words(cut, row, role)

    def whisker(self, low: float, high: float, y: float, role: Role, *, caps: float) -> None:
        """From one speed to another with a tick at its ends; an open end is an arrow, or begins at nothing.

        As thin as a bar, or made of letters, it would be taken for one: then it has a colour and a sign of its own.
        """
        raster, thin = self.raster, max(self.raster.hair, 0.8)
        if role is not Role.OLD and (self.pitch == 1 or raster.mode in (RasterMode.GLYPH, RasterMode.ASCII)):
            role = Role.FRAME
        x0, caps = self.at(low), max(caps - thin / 2, 0.0)
        if math.isinf(high):
            head = min(2.4, self.right - x0)
            raster.paint(shapes.arrow(self.grid, x0, y, self.right, y, thin, head), role)
        else:
            x1 = self.at(high)
            raster.paint(shapes.line(self.grid, x0, y, x1, y, thin), role)
            raster.paint(shapes.line(self.grid, x1, y - caps, x1, y + caps, thin), role)
        if low > 0 and role is Role.OLD:  # elsewhere the bar ends there
            raster.paint(shapes.line(self.grid, x0, y - caps, x0, y + caps, thin), role)

    def words(self, cut: CutShown, row: int, role: Role) -> None:
        raster, slow = self.raster, cut.station in self.slow
        number = str(self.scene.cuts.index(cut) + 1)
        name = tuple(f"▶ {each}" if cut.now else each for each in (cut.station, number) if len(each) + 3 <= self.left)
        at = row + (1 if self.pitch > 3 else 0)
        loud = cut.now or slow
        raster.label(name, [(self.left - 1, at, "right")], role if loud else Role.TEXT, bold=loud)
        if slow and not cut.now and self.pitch > 1:
            raster.label(SLOWEST, [(self.left - 1, at + 1, "right")], role, bold=True)
        figure = Role.QUIET if cut.figure == NOT_YET else role if loud else Role.TEXT
        raster.label(cut.figure, [(raster.columns, at, "right")], figure, bold=loud)
        if self.pitch > 1 and cut.before:
            raster.label(cut.earlier, [(raster.columns, at + 1, "right")], Role.OLD)

    def axis(self) -> None:
        """From 0 on, a tick and its figure at round speeds."""
        raster, y = self.raster, self.axis_row * self.raster.aspect
        raster.hairline(self.left, y + 0.5, self.right, y + 0.5, Role.FRAME)
        raster.hairline(self.left - EDGE, self.top * raster.aspect, self.left - EDGE, y, Role.FRAME)
        step = nice_below(self.fastest)
        while self.at(step) - self.left > 12 and step > 1:
            step = nice_below(step / 1.9)
        for number in range(int(self.fastest * BEYOND / step) + 1):
            x = self.at(number * step)
            raster.hairline(x - EDGE, self.top * raster.aspect, x - EDGE, y, Role.CROSS)
            raster.label(speed(number * step), [(x, self.axis_row, "center")], Role.QUIET)
        raster.label(AXIS, [(raster.columns, self.axis_row, "right")], Role.QUIET)

    def legend(self) -> None:
        """What the ghosts are, and which station is slowest where no row beside its bar says so."""
        row, raster = self.axis_row + 1, self.raster
        if self.slow and self.pitch == 1:
            named = ", ".join(sorted(self.slow))
            raster.label((f"{SLOWEST}: {named}", SLOWEST), [(0, row, "left")], Role.MARK, bold=True)
        if self.ghosts:
            words = (f"├─┤ {self.scene.earlier}", self.scene.earlier)
            raster.label(words, [(raster.columns, row, "right")], Role.OLD)

    def lines_to_cut(self, y0: float, y1: float) -> None:
        """The speeds of the lines, at the station where they are cut now."""
        thin = max(self.raster.hair, 0.8)
        for each in self.scene.ladder:
            x = self.at(each)
            self.raster.paint(shapes.bar(self.grid, x - thin / 2, y0, x + thin / 2, y1), Role.FOCUS)
