"""How far off a machine's worst station was, visit by visit, over one axis of days; what happened, and what comes.

Each visit has a disc where the beam was found and a ring where it was left; a line goes from how one visit left it to
how the next found it: its slope is the drift.  The tolerance lies across, on it past the last visit the forecast.
"""

from dataclasses import dataclass
from datetime import date, timedelta

from coach.pictures import shapes
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import nice_below
from coach.shown import Wording

LEAST = (30, 6)
"""Columns and rows from which there is anything to see."""
LEFT = 8.0
"""Columns that the figures of the axis take."""
ABOVE = 1.1
"""The axis goes on to so many times what is highest."""
AHEAD = 0.25
"""Share of the width that what comes may take at most."""
HAPPENED = "↑"


@dataclass(frozen=True)
class VisitShown:
    """One visit: its day, and how far off the worst station was, mm; None where nobody can tell."""

    on: date
    found: float | None
    left: float | None
    number: int
    chosen: bool = False


@dataclass(frozen=True)
class OverTimeScene:
    """All visits of a machine, the oldest first."""

    visits: tuple[VisitShown, ...]
    tolerance: float
    """mm."""
    happened: tuple[date, ...] = ()
    """Days on which something was out, bumped, changed or cleaned."""
    leaves: tuple[date | None, date | None] | None = None
    """Between which days the tolerance will be left; None: beyond what is looked ahead; nothing: no forecast."""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        told = [visit for visit in self.visits if visit.left is not None]
        if told and raster.columns >= LEAST[0] and raster.rows >= LEAST[1]:
            _Drawing(self, raster, wording).run()


class _Drawing:
    def __init__(self, scene: OverTimeScene, raster: Raster, wording: Wording) -> None:
        self.scene, self.raster, self.wording = scene, raster, wording
        self.first, last = scene.visits[0].on, scene.visits[-1].on
        past = max((last - self.first).days, 7)
        asked = [day for day in scene.leaves or () if day is not None]
        most = int(past * AHEAD / (1 - AHEAD)) if asked else 0
        self.end = last + timedelta(days=min(max(((day - last).days for day in asked), default=0), most))
        self.right = raster.columns - 2.0
        self.days = max((self.end - self.first).days, 7)
        figures = [size for visit in scene.visits for size in (visit.found, visit.left) if size is not None]
        self.highest = ABOVE * max(*figures, scene.tolerance)
        self.base = (raster.rows - 2) * raster.aspect

    def across(self, day: date) -> float:
        return LEFT + (self.right - LEFT) * min((day - self.first).days / self.days, 1.0)

    def up(self, size: float) -> float:
        return self.base - (self.base - self.raster.aspect / 2) * size / self.highest

    def run(self) -> None:
        self.axes()
        self.tolerance()
        self.ways()
        for visit in self.scene.visits:
            self.visit(visit)
        self.happened()

    def axes(self) -> None:
        """mm on the left, the first and the last day below."""
        raster = self.raster
        raster.hairline(LEFT - 0.5, raster.aspect / 2, LEFT - 0.5, self.base, Role.FRAME)
        raster.hairline(LEFT - 0.5, self.base + 0.5, self.right, self.base + 0.5, Role.FRAME)
        step = nice_below(self.highest / 2)
        for number in range(int(self.highest / step) + 1):
            y = self.up(number * step)
            words = self.wording.exact(number * step) if number else f"0 {self.wording.unit}"
            raster.label(words, [(LEFT - 2, y // raster.aspect, "right")], Role.QUIET)
        row = raster.rows - 1
        raster.label(str(self.first), [(LEFT - 1, row, "left")], Role.QUIET)
        last = self.scene.visits[-1].on
        if self.end > last:
            raster.label(str(self.end), [(raster.columns, row, "right")], Role.QUIET)
        raster.label(str(last), [(self.across(last), row, "center")], Role.QUIET)

    def tolerance(self) -> None:
        """A line across, and a bar on it while it may be left."""
        raster, y = self.raster, self.up(self.scene.tolerance)
        raster.hairline(LEFT, y, self.right, y, Role.TOLERANCE)
        said = f"tolerance {self.wording.exact(self.scene.tolerance)}"
        raster.label(said, [(raster.columns, y // raster.aspect - 1, "right")], Role.TOLERANCE)
        if self.scene.leaves is not None and self.scene.leaves[0] is not None:
            soonest, latest = self.scene.leaves
            x0, x1 = self.across(soonest) if soonest else self.right, self.across(latest) if latest else self.right
            raster.paint(shapes.bar(raster.grid, x0, y - 0.7, max(x1, x0 + 1), y + 0.7), Role.EXPECTED)

    def ways(self) -> None:
        """From how one visit left it to how the next found it, and down again where it was adjusted."""
        thin, raster = max(self.raster.hair, 0.5), self.raster
        before: VisitShown | None = None
        for visit in self.scene.visits:
            x = self.across(visit.on)
            if before is not None and before.left is not None and visit.found is not None:
                start = self.across(before.on), self.up(before.left)
                raster.paint(shapes.line(raster.grid, *start, x, self.up(visit.found), thin), Role.MARK)
            if visit.found is not None and visit.left is not None and abs(visit.found - visit.left) > 0.01:
                raster.hairline(x, self.up(visit.found), x, self.up(visit.left), Role.CROSS)
            before = visit if visit.left is not None else before

    def visit(self, visit: VisitShown) -> None:
        """A disc where it was found, a ring where it was left."""
        raster, x = self.raster, self.across(visit.on)
        if visit.left is not None:
            raster.paint(shapes.ring(raster.grid, x, self.up(visit.left), 0.8, 0.5), Role.DONE)
        if visit.found is not None:
            raster.paint(shapes.disc(raster.grid, x, self.up(visit.found), 0.7), Role.MARK)
        if visit.chosen:
            highest = max(size for size in (visit.found, visit.left, 0.0) if size is not None)
            row = max(self.up(highest) // raster.aspect - 1, 0)
            places: list[tuple[float, float, Anchor]] = [(x - 0.5, row, "left"), (x - 0.5, row + 2, "left")]
            raster.label(f"▼ {visit.number}", places, Role.FOCUS, bold=True)

    def happened(self) -> None:
        """Arrows below the axis on days on which something was done to it, or befell it."""
        row = self.raster.rows - 2
        for day in self.scene.happened:
            if self.first <= day <= self.end:
                self.raster.label(HAPPENED, [(self.across(day), row, "center")], Role.OLD)
