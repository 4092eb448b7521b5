"""The tape on an aperture: the rim's imprint, the tape's edge, the tolerance, and the marks.

u to the right and v up, in mm from the aperture's centre, as seen by someone facing the tape while it
is still in place.
"""

import math
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.labels import Anchor
from coach.pictures.marks_shown import ExpectedMark, MarkShown
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, crossed, scale_bar, snap
from coach.shown import Wording

Place = tuple[float, float, Anchor]

MAGNIFICATIONS = (1, 2, 3, 4, 5, 8, 10, 15, 20)
AXIS = {False: "right", True: "left"}
"""What lies to the right on the picture, on the machine: by whether the tape's sticky side is looked at."""
STICKY = ("sticky side: left and right change places", "sticky side: mirrored", "sticky side", "sticky")
WIDE = 56
"""From so many columns on the picture makes room beside itself rather than leave a word out."""
CRISP = 18
"""Below so many column widths of radius the picture is drawn in hard pixels."""
SMALL = 3.0
"""Column widths: a tolerance whose ring is smaller is hard to see from a distance."""
MOST_SEEN = 1.6
"""How far beyond the tape the view opens for a mark that is expected off it, as a share of the tape."""


@dataclass(frozen=True)
class ApertureScene:
    """One aperture with its tape: `aperture` is a diameter, `readable` and `tolerance` are radii, in mm."""

    aperture: float
    readable: float
    tolerance: float
    marks: tuple[MarkShown, ...] = ()
    expected: ExpectedMark | None = None
    mirrored: bool = False
    """The tape is drawn as its sticky side shows it, marks and all: what lies to the right there is left on the
    machine, and the captions say so."""
    bare: bool = False
    """Without the captions above and below: other things stand there and say so."""
    view_radius: float | None = None
    """Fixes the magnification: the radius in mm that the picture shows."""

    @property
    def whole(self) -> float:
        """The radius, in mm, at which rim and tape are seen whole."""
        return 1.04 * max(self.readable, self.aperture / 2)

    def reach(self) -> float:
        """How far out the farthest thing lies that must be seen, mm."""
        far = [self.tolerance]
        far += [math.hypot(mark.u, mark.v) + 0.3 * mark.diameter for mark in self.marks]
        if (mark := self.expected) is not None:
            far.append(math.hypot(mark.u, mark.v) + max(mark.doubt_u, mark.doubt_v))
        return max(far)

    def magnification(self) -> float:
        """How many times larger than the whole tape the picture is drawn; below 1 it shows more than the tape."""
        if self.view_radius is not None:
            return self.whole / self.view_radius
        if not self.marks and self.expected is None:
            return 1.0
        room = self.whole / (1.2 * self.reach())
        if room < 1:
            return max(room, 1 / MOST_SEEN)
        return float(max(m for m in MAGNIFICATIONS if m <= room or m == 1))

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        ApertureDrawing(self, raster, wording).run()


class ApertureDrawing:
    """One scene on one raster: the measures that all parts share."""

    def __init__(self, scene: ApertureScene, raster: Raster, wording: Wording) -> None:
        self.wording = wording
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = raster.rows >= 8
        self.axis = f"{AXIS[scene.mirrored]} →"
        top = 1 if self.roomy and not scene.bare else 0
        rows = raster.rows - 2 * top
        self.radius = max(1.5, min(raster.width / 2 - 0.5, rows * raster.aspect / 2 - 0.2))
        middle = raster.width / 2
        if raster.width >= WIDE:  # room for the axis' name
            room = self.radius + len(self.axis) + 1.6
            middle = max(min(middle, raster.width - room), self.radius + 0.5)
        raster.crisp = self.radius < CRISP
        x, y = (snap if raster.crisp else crossed)(raster, middle, (top + rows / 2) * raster.aspect)
        if not raster.crisp:
            self.radius -= abs(y - (top + rows / 2) * raster.aspect)
        self.magnified = scene.magnification()
        self.view = View(x, y, self.radius * self.magnified / scene.whole)
        self.lens = self.magnified > 1.01 and self.px(scene.aperture / 2) > self.radius
        """Whether the rim is out of view."""

    def run(self) -> None:
        raster = self.raster
        if self.lens:
            raster.clip = shapes.disc(self.grid, self.view.x, self.view.y, self.radius)
        self.tape()
        self.axes()
        self.rays()
        self.expected()
        self.tolerance()
        for mark in sorted(self.scene.marks, key=lambda mark: mark.kind != "before"):
            self.mark(mark)
        if raster.mode in (RasterMode.SMOOTH, RasterMode.ANSI) and self.px(self.scene.tolerance) >= 2:
            self.tolerance()  # once more, on top, where it is more than a dot: is the mark inside?
        raster.clip = None
        if self.lens:
            lens = shapes.ring(self.grid, self.view.x, self.view.y, self.radius - 0.3, raster.hair)
            raster.paint(lens, Role.FRAME)
        if self.roomy:
            self.words()

    def px(self, mm: float) -> float:
        return mm * self.view.scale

    def tape(self) -> None:
        x, y, raster = self.view.x, self.view.y, self.raster
        edge = self.px(self.scene.readable)
        raster.paint(shapes.disc(self.grid, x, y, edge), Role.TAPE)
        raster.paint(shapes.dotted_ring(self.grid, x, y, edge, 4.5), Role.EDGE)
        raster.paint(shapes.ring(self.grid, x, y, self.px(self.scene.aperture / 2), 1.25), Role.RIM)

    def axes(self) -> None:
        x, y, raster = self.view.x, self.view.y, self.raster
        for dx, dy in ((0.0, self.radius - 0.5), (self.radius - 0.5, 0.0)):
            raster.hairline(x - dx, y - dy, x + dx, y + dy, Role.CROSS)

    def tolerance(self) -> None:
        x, y, raster = self.view.x, self.view.y, self.raster
        radius = max(self.px(self.scene.tolerance), 0.9)
        raster.paint(shapes.ring(self.grid, x, y, radius, raster.hair), Role.TOLERANCE)
        raster.keep_free(x - radius, y - radius, x + radius, y + radius)

    def rays(self) -> None:
        """Where the tolerance is small on the screen: four short rays towards it, beneath the marks."""
        x, y, raster = self.view.x, self.view.y, self.raster
        radius = max(self.px(self.scene.tolerance), 0.9)
        if radius >= SMALL:
            return
        near, far = radius + 1.4, radius + 1.4 + max(0.16 * self.radius, 1.5)
        for dx, dy in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
            a, b = near / math.sqrt(2), far / math.sqrt(2)
            ray = shapes.line(self.grid, x + a * dx, y + a * dy, x + b * dx, y + b * dy, max(1.2, raster.hair))
            raster.paint(ray, Role.TOLERANCE)

    def expected(self) -> None:
        expected, raster = self.scene.expected, self.raster
        if expected is None:
            return
        x, y = self.view.at(expected.u, expected.v)
        a, b = max(self.px(expected.doubt_u), 1.4), max(self.px(expected.doubt_v), 1.4)
        if raster.mode is RasterMode.SMOOTH and not raster.crisp:
            raster.paint(shapes.ellipse(self.grid, x, y, a, b), Role.EXPECTED, 0.12)
        edge = shapes.dashed_ellipse(self.grid, x, y, a, b, raster.hair, 5.0)
        raster.paint(edge, Role.EXPECTED)
        raster.keep_free(x - a, y - b, x + a, y + b)

    def blob(self, mark: MarkShown) -> float:
        """The drawn radius: true to scale where that can be seen and does not fill the view."""
        true = self.px(mark.diameter / 2)
        return min(max(true, 0.1 * self.radius, 1.6), 0.15 * self.radius + 0.8)

    def mark(self, mark: MarkShown) -> None:
        x, y = self.view.at(mark.u, mark.v)
        radius, raster = self.blob(mark), self.raster
        if mark.kind == "crosshair":
            self.crosshair(x, y)
        elif mark.kind == "before":
            raster.paint(shapes.ring(self.grid, x, y, radius - 0.4, raster.hair), Role.OLD)
        else:
            self.offset_line(x, y, radius)
            raster.paint(shapes.disc(self.grid, x, y, radius), Role.MARK)
            if radius >= 2.4:
                raster.paint(shapes.disc(self.grid, x, y, 0.6), Role.GROUND)
        raster.keep_free(x - radius, y - radius, x + radius, y + radius)

    def offset_line(self, x: float, y: float, radius: float) -> None:
        """From the centre to a mark well away from it, where colours allow it to stay in the background."""
        away = math.hypot(x - self.view.x, y - self.view.y)
        if self.raster.mode is RasterMode.SMOOTH and away > radius + self.px(self.scene.tolerance) + 3:
            self.raster.hairline(self.view.x, self.view.y, x, y, Role.MARK)

    def crosshair(self, x: float, y: float) -> None:
        x, y = snap(self.raster, x, y)
        arm, gap = max(3.0, 0.3 * self.radius), 1.3
        cross = shapes.nothing(self.grid)
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            cross |= shapes.line(self.grid, x + gap * dx, y + gap * dy, x + arm * dx, y + arm * dy, self.raster.hair)
        self.raster.paint(cross.grown(0.1), Role.TEXT)

    # words

    def words(self) -> None:
        rim = shapes.ring(self.grid, self.view.x, self.view.y, self.px(self.scene.aperture / 2), 1.25)
        self.lines = self.raster.touched(rim)
        self.captions()
        for mark in self.scene.marks:
            role = Role.OLD if mark.kind == "before" else Role.MARK
            self.beside(mark.u, mark.v, self.blob(mark), mark.label, role)
        if (expected := self.scene.expected) is not None:
            size = self.px(expected.doubt_v)
            self.beside(expected.u, expected.v, size, expected.label, Role.EXPECTED, below=True)
        if self.radius >= 8:
            self.on_ring(self.scene.tolerance, ("tolerance",), Role.TOLERANCE, (90, 270))
            self.on_ring(self.scene.aperture / 2, ("rim",), Role.RIM, (135, 45, 225))
            self.on_ring(self.scene.readable, ("tape edge", "tape"), Role.QUIET, (50, 130, 310))

    def captions(self) -> None:
        raster, x, y = self.raster, self.view.x, self.view.y
        row = int(y // raster.aspect)
        side = x + self.radius + 0.6
        places: list[Place] = [(raster.width, row - 1, "right")]
        if raster.width - side >= 5:
            places.insert(0, (side, row, "left"))
        whole, word = raster.width - side >= len(self.axis), AXIS[self.scene.mirrored]
        raster.label((self.axis,) if whole else (f"{word}→", word), places, Role.QUIET)
        after = f"· magnified {self.magnified:g}×" if self.lens else ""
        if not self.scene.bare:
            raster.label(("↑ up",), [(x - 0.5, 0, "left")], Role.QUIET)
            scale_bar(raster, self.view.scale, raster.rows - 1, self.wording, after=after)
        if self.scene.mirrored:
            raster.label(STICKY, [(0, 0, "left"), (raster.width, raster.rows - 1, "right")], Role.QUIET)

    def beside(self, u: float, v: float, size: float, label: str, role: Role, *, below: bool = False) -> None:
        """Write a label next to a thing, on the side away from the centre first."""
        if not label:
            return
        x, y = self.view.at(u, v)
        row, aspect = int(y // self.raster.aspect), self.raster.aspect
        over = int((y - size) // aspect) - 1
        under = int((y + size) // aspect) + 1
        right: Place = (x + size + 1.5, row, "left")
        left: Place = (x - size - 1.5, row, "right")
        sides = [right, left] if u >= 0 else [left, right]
        level: list[Place] = [(x, over, "center"), (x, under, "center")]
        if v < 0 or below:
            level.reverse()
        inward = x + size if u < 0 else x - size  # a word that reaches from a thing at the rim towards the middle
        level += [(inward, row, "left" if u < 0 else "right") for _, row, _ in level]
        fitting = [s for s in sides if self._whole(s, label)]
        places = level + fitting if below else fitting + level
        self.raster.label(label, places, role, bold=not below, off=self.lines)

    def _whole(self, place: Place, label: str) -> bool:
        """Whether a label at the side stays beside its thing instead of being moved onto it."""
        column, _, anchor = place
        return column + len(label) <= self.raster.width if anchor == "left" else column >= len(label)

    def on_ring(self, mm: float, text: tuple[str, ...], role: Role, degrees: tuple[int, ...]) -> None:
        """Write a ring's name on the ring itself, as on a map's contour lines."""
        radius = self.px(mm)
        if radius > self.radius + 0.5:
            return
        places: list[Place] = []
        for degree in degrees:
            angle = math.radians(degree)
            x = self.view.x + radius * math.cos(angle)
            y = self.view.y + radius * math.sin(angle)
            if radius < 6:
                y += self.raster.aspect * (1 if math.sin(angle) > 0 else -1)
            places.append((x, y // self.raster.aspect, "center"))
        self.raster.label(text, places, role)
