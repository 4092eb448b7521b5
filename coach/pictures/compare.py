"""Before and after on one picture: every station's offset around one aperture's centre.

u to the right and v up, in mm from the aperture's centre, as seen by someone facing the tape.  The first marks are
hollow, the newest ones solid; where the newest one is still missing, an outline says where it is expected.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.compared import Compared, figures, legend
from coach.pictures.labels import Anchor
from coach.pictures.modes import RasterMode
from coach.pictures.palette import GLYPHS, Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, crossed, scale_bar, snap
from coach.shown import Wording

MAGNIFICATIONS = (3, 4, 5, 8, 10, 15, 20)
"""Where all lies near the centre the rim gives way for these; less would not be worth losing sight of it."""
LEAST_ROWS = 14
"""The circle has at least so many rows before the stations' figures get any."""
CRISP = 18
"""Column widths of radius below which the circle is drawn in hard pixels."""
ROOMY = 8.0
"""Column widths of radius from which things on the circle are named."""
SHARE = 0.06
"""A mark's drawn radius, of the circle's."""
HALFTONES = 1.2
"""Column widths of radius from which a mark is drawn with half tones, exactly where it lies."""
SINGLE = 2.0
"""Column widths of radius below which a mark without colours is a single character."""
ROLES = {"before": Role.OLD, "after": Role.MARK, "expected": Role.EXPECTED}


@dataclass(frozen=True)
class CompareScene:
    """All stations around one centre: `aperture` is a diameter, `tolerance` a radius, in mm."""

    aperture: float
    tolerance: float
    stations: tuple[Compared, ...]
    adjusted: bool = True
    """Whether anything was adjusted; until then there are only marks."""

    def reach(self) -> float:
        """How far out the farthest thing lies that must be seen, mm."""
        far = [self.tolerance]
        for station in self.stations:
            far += [math.hypot(*offset) for offset in (station.before, station.after) if offset]
            if station.expected and self.is_sure(station):
                far.append(math.hypot(*station.expected) + max(station.doubt))
        return 1.06 * max(far)

    def magnification(self) -> float:
        """How many times larger than the whole aperture is drawn; below 1 more than the aperture is seen."""
        room = 1.04 * self.aperture / 2 / self.reach()
        if room < 1:
            return room
        return float(max((m for m in MAGNIFICATIONS if m <= room), default=1))

    def is_sure(self, station: Compared) -> bool:
        """Whether the expected mark's doubt leaves anything to be drawn rather than covering everything."""
        return max(station.doubt) <= self.aperture / 4

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        _Drawing(self, raster, wording).run()


def notes(scene: CompareScene) -> list[tuple[str, ...]]:
    """What else has to be known, each in shorter and shorter wordings."""
    said: list[tuple[str, ...]] = [] if scene.adjusted else [("nothing adjusted yet",)]
    if scene.magnification() > 1:
        times = f"magnified {scene.magnification():g}×"
        said.append((f"{times}, rim out of view", times))
    return said


class _Drawing:
    """One scene on one raster: the measures that all parts share."""

    def __init__(self, scene: CompareScene, raster: Raster, wording: Wording) -> None:
        self.wording = wording
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.worded = raster.rows >= 8 and raster.columns >= 20
        self.legend = legend(scene.stations, scene.adjusted, wording) if self.worded else []
        self.magnified = scene.magnification()
        self.lens = self.magnified > 1
        self.notes = notes(scene) if self.worded else []
        top = len(self.legend) + len(self.notes)
        bottom = 1 if self.worded else 0
        self.figures = figures(scene.stations, scene.adjusted, wording) if self.worded else []
        if raster.rows - top - bottom - len(self.figures) < LEAST_ROWS or not self._fit():
            self.figures = []
        rows = max(raster.rows - top - bottom - len(self.figures), 1)
        self.radius = max(1.2, min(raster.width / 2 - 0.5, rows * raster.aspect / 2 - 0.2))
        raster.crisp, middle = self.radius < CRISP, (top + rows / 2) * raster.aspect
        x, y = (snap if raster.crisp else crossed)(raster, raster.width / 2, middle)
        if not raster.crisp:
            self.radius -= abs(y - middle)
        whole = 1.04 * scene.aperture / 2
        self.view = View(x, y, self.radius * self.magnified / whole)

    def _fit(self) -> bool:
        return all(len(row) <= self.raster.columns for row in self.figures)

    def run(self) -> None:
        raster, x, y = self.raster, self.view.x, self.view.y
        if self.lens:
            raster.clip = shapes.disc(self.grid, x, y, self.radius)
        raster.paint(shapes.disc(self.grid, x, y, self.px(self.scene.aperture / 2)), Role.TAPE)
        raster.paint(shapes.ring(self.grid, x, y, self.px(self.scene.aperture / 2), 1.25), Role.RIM)
        for dx, dy in ((0.0, self.radius - 0.5), (self.radius - 0.5, 0.0)):
            raster.hairline(x - dx, y - dy, x + dx, y + dy, Role.CROSS)
        crisp, raster.crisp = raster.crisp, self.snaps  # half tones would only blur things so small
        self.marks()
        raster.clip, raster.crisp = None, crisp
        if self.lens:
            raster.paint(shapes.ring(self.grid, x, y, self.radius - 0.3, raster.hair), Role.FRAME)
        if self.worded:
            self.words()

    def px(self, mm: float) -> float:
        return mm * self.view.scale

    @property
    def size(self) -> float:
        """The drawn radius of a mark, in column widths: small enough that several stay apart."""
        return min(max(SHARE * self.radius, 1.02), 2.2)

    @property
    def snaps(self) -> bool:
        """Whether a mark is so small that it is drawn in whole pixels."""
        return self.size < HALFTONES or self.raster.mode is not RasterMode.SMOOTH

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Where a mark is drawn: at its own place, or at the nearest pixel where it has only few."""
        return snap(self.raster, x, y) if self.snaps else (x, y)

    def tolerance(self) -> None:
        radius = max(self.px(self.scene.tolerance), 0.9)
        ring = shapes.ring(self.grid, self.view.x, self.view.y, radius, self.raster.hair)
        self.raster.paint(ring, Role.TOLERANCE)
        x, y = self.view.x, self.view.y
        self.raster.keep_free(x - radius, y - radius, x + radius, y + radius)

    def marks(self) -> None:
        """What is sure over what is not, the newest on top; the tolerance stays in view where colours allow it."""
        self.expected()
        self.tolerance()
        self.before([self.view.at(*station.before) for station in self.scene.stations if station.before])
        self.after([self.view.at(*station.after) for station in self.scene.stations if station.after])
        if self.raster.mode in (RasterMode.SMOOTH, RasterMode.ANSI) and self.px(self.scene.tolerance) >= 3:
            self.tolerance()

    def expected(self) -> None:
        """One outline around all places where marks are still expected: single ones would only cover each other."""
        raster, all_of_it = self.raster, shapes.nothing(self.grid)
        for station in self.scene.stations:
            if station.expected and self.scene.is_sure(station):
                x, y = self.view.at(*station.expected)
                a, b = (max(self.px(part), self.size + 0.4) for part in station.doubt)
                all_of_it |= shapes.ellipse(self.grid, x, y, a, b)
                raster.keep_free(x - a, y - b, x + a, y + b)
        if raster.mode is RasterMode.SMOOTH:
            raster.paint(all_of_it, Role.EXPECTED, 0.15)
        raster.paint(shapes.outline(self.grid, all_of_it, raster.hair), Role.EXPECTED)

    def before(self, places: list[tuple[float, float]]) -> None:
        """Hollow; where several touch, each keeps its own hole."""
        raster, size = self.raster, self.size + 0.4
        for x, y in places:
            if self.single:
                self.cell(x, y, Role.OLD)
            else:
                raster.paint(shapes.disc(self.grid, *self.at(x, y), size), Role.OLD)
            raster.keep_free(x - size, y - size, x + size, y + size)
        for x, y in places if not self.single else []:
            raster.paint(shapes.disc(self.grid, *self.at(x, y), size - 0.9), Role.GROUND)

    def after(self, places: list[tuple[float, float]]) -> None:
        """Solid."""
        raster, size = self.raster, self.size
        for x, y in places:
            if self.single:
                self.cell(x, y, Role.MARK)
            else:
                raster.paint(shapes.disc(self.grid, *self.at(x, y), size), Role.MARK)
            raster.keep_free(x - size, y - size, x + size, y + size)

    @property
    def single(self) -> bool:
        """Whether a mark is a single character."""
        return self.raster.mode in (RasterMode.GLYPH, RasterMode.ASCII) and self.size < SINGLE

    def cell(self, x: float, y: float, role: Role) -> None:
        """A single cell, where a mark is no larger."""
        x, y = int(x) + 0.5, (int(y // self.raster.aspect) + 0.5) * self.raster.aspect
        half = self.raster.aspect / 2 - 0.01
        self.raster.paint(shapes.bar(self.grid, x - 0.4, y - half, x + 0.4, y + half), role)

    # words

    def words(self) -> None:
        raster = self.raster
        for row, (kind, wordings) in enumerate(self.legend):
            raster.label(self.sign(kind), [(0, row, "left")], ROLES[kind], bold=True)
            raster.label(wordings, [(2, row, "left")], Role.TEXT, bold=True)
        for row, note in enumerate(self.notes, start=len(self.legend)):
            raster.label(note, [(0, row, "left")], Role.TEXT)
        for row, figure in enumerate(self.figures, start=raster.rows - 1 - len(self.figures)):
            raster.label(figure, [(0, row, "left")], Role.TEXT)
        scale_bar(raster, self.view.scale, raster.rows - 1, self.wording)
        if self.radius >= ROOMY:
            self.names()

    def sign(self, kind: str) -> str:
        """What the shape looks like in this mode, in one character."""
        if self.raster.mode in (RasterMode.GLYPH, RasterMode.ASCII):
            return GLYPHS[ROLES[kind]][self.raster.mode is RasterMode.ASCII]
        return {"before": "○", "after": "●", "expected": "▒"}[kind]

    def names(self) -> None:
        """The rings' names, on the rings; then, where the figures stand beneath, the stations' numbers."""
        raster = self.raster
        for mm, word, role, degrees in (
            (self.scene.tolerance, "tolerance", Role.TOLERANCE, (90, 270)),
            (self.scene.aperture / 2, "rim", Role.RIM, (135, 45, 225)),
        ):
            radius = self.px(mm)
            if radius <= self.radius + 0.5:
                raster.label(word, list(self._around(radius, degrees)), role)
        for number, station in enumerate(self.scene.stations, start=1):
            at = station.before or station.after
            if self.figures and at:
                raster.label(str(number), list(self._beside(*self.view.at(*at))), Role.TEXT)

    def _around(self, radius: float, degrees: tuple[int, ...]) -> Iterator[tuple[float, float, Anchor]]:
        for degree in degrees:
            angle = math.radians(degree)
            x = self.view.x + radius * math.cos(angle)
            y = self.view.y + radius * math.sin(angle)
            away = math.copysign(self.raster.aspect, math.sin(angle))
            for rows in (1, 2) if radius < 6 else (0,):
                yield x, (y + rows * away) // self.raster.aspect, "center"

    def _beside(self, x: float, y: float) -> Iterator[tuple[float, float, Anchor]]:
        row, gap = int(y // self.raster.aspect), self.size + 1.2
        sides: list[tuple[float, float, Anchor]] = [(x + gap, row, "left"), (x - gap, row, "right")]
        yield from sides if x >= self.view.x else reversed(sides)
        for up in (-1, 1):
            level = int((y + up * (gap + 0.5)) // self.raster.aspect)
            yield x, level, "center"
            yield x + gap, level, "left"
            yield x - gap, level, "right"
