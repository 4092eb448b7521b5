"""The head from two sides, from the front and from the right: how the beam comes in, leans and passes the nozzle.

From the front right is right; from the right side the back is right.  From the lens down all is to scale, heights by
one and sideways by another that is so many times larger: what leans, leans that much more, and as far as it should
beside hole and beam.  What lies above the lens is a sketch.
"""

from dataclasses import dataclass
from typing import Literal

from coach.pictures import shapes
from coach.pictures.head_shown import HeadShown, Part
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import frame, snap
from coach.shown import Wording

LEAST = (30, 8)
"""Columns and rows from which there is anything to see."""
TITLES = (("from the front", "front"), ("from the right", "right side"))
ENDS = (("left", "right"), ("front", "back"))
"""What lies at the left and at the right of each view."""
ROOMY = 18
"""Columns of a view from which it says what lies to its left and right."""
APART = 2
"""Columns between the views."""
SKETCH = 0.24
"""Share of the height for mirror 3 and what lies above the lens."""
UNDER = 1.3
"""The board reaches so many times its thickness below the focus: so that its lower side is seen."""


@dataclass(frozen=True)
class HeadScene:
    """The head on a machine with its mirrors on that side; `part` is what is in question."""

    shown: HeadShown
    side: Literal["left", "right"] = "left"
    part: Part = ""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if raster.columns < LEAST[0] or raster.rows < LEAST[1]:
            return
        half, high = (raster.columns - APART) // 2, raster.rows - 2
        scale = _Scale(self.shown, half - 1, (high - 2) * raster.aspect)
        for axis, column in ((0, 0), (1, raster.columns - half)):
            _View(self, raster.pane(column, 0, half, high), axis, scale).run()
        _told(self.shown, raster, scale, wording)


class _Scale:
    """Heights and widths in column widths per mm, alike in both views."""

    def __init__(self, shown: HeadShown, wide: float, tall: float) -> None:
        lens = shown.lens
        below = lens.focal + UNDER * shown.board
        self.sketch = SKETCH * tall
        self.up = (tall - self.sketch) / below
        top = max(abs(shown.at(axis, lens.to_nozzle)) for axis in (0, 1)) + lens.beam
        far = max(abs(shown.at(axis, -lens.nozzle_distance - shown.board)) for axis in (0, 1)) + 0.5
        self.across = (wide / 2 - 1) / max(top, far, 0.8 * lens.hole)

    @property
    def times(self) -> float:
        """How many times larger things are drawn sideways."""
        return self.across / self.up


class _View:
    """One side of the head; `axis` 0 is x, seen from the front, 1 is y, seen from the right."""

    def __init__(self, scene: HeadScene, raster: Raster, axis: int, scale: _Scale) -> None:
        self.scene, self.raster, self.grid, self.axis, self.scale = scene, raster, raster.grid, axis, scale
        self.shown, self.lens = scene.shown, scene.shown.lens
        self.middle = snap(raster, raster.width / 2, 0)[0]
        self.top = raster.aspect
        self.lens_y = self.top + scale.sketch
        self.nozzle_y = self.lens_y + self.lens.to_nozzle * scale.up
        self.focus_y = self.lens_y + self.lens.focal * scale.up

    def x(self, mm: float) -> float:
        return self.middle + mm * self.scale.across

    def ink(self, part: Part) -> Role:
        return Role.FOCUS if self.scene.part == part else Role.METAL

    def run(self) -> None:
        self.board()
        self.upright()
        self.beam()
        self.mirror()
        self.glass()
        self.nozzle()
        self.words()

    def upright(self) -> None:
        """Straight down through the nozzle's middle."""
        end = self.raster.height - self.raster.aspect
        self.raster.hairline(self.middle, self.lens_y, self.middle, end, Role.CROSS)

    def board(self) -> None:
        """The board with its upper side in the focus, and the cut through it."""
        raster, shown = self.raster, self.shown
        thick = max(shown.board * self.scale.up, 1.0)
        box = shapes.bar(self.grid, 1, self.focus_y, raster.width - 1, self.focus_y + thick)
        letters = raster.mode in (RasterMode.GLYPH, RasterMode.ASCII)
        raster.paint(box, Role.QUIET if letters else Role.FRAME)
        if shown.lean is None:
            return
        x0, x1 = (self.x(shown.at(self.axis, -self.lens.nozzle_distance - deep)) for deep in (0.0, shown.board))
        cut = max(1.2, raster.hair)
        raster.paint(shapes.line(self.grid, x0, self.focus_y, x1, self.focus_y + thick, cut), Role.GROUND)

    def beam(self) -> None:
        """The cone from the lens to the focus, as much of it as passes the nozzle, and its middle."""
        raster, shown, lens = self.raster, self.shown, self.lens
        if shown.lean is None:
            if shown.nozzle is not None:
                place = (self.x(shown.nozzle[self.axis]), self.nozzle_y)
                raster.paint(shapes.disc(self.grid, *place, 1.2), Role.BEAM)
            return
        top, there, focus = (
            self.x(shown.at(self.axis, above)) for above in (lens.to_nozzle, 0.0, -lens.nozzle_distance)
        )
        wide = lens.beam * self.scale.across
        narrow = wide * lens.nozzle_distance / lens.focal
        cone = [(top - wide, self.lens_y), (top + wide, self.lens_y),
                (there + narrow, self.nozzle_y), (there - narrow, self.nozzle_y)]  # fmt: skip
        self.light(cone)
        low, high = self.x(-lens.hole / 2), self.x(lens.hole / 2)
        left, right = (min(max(there + narrow * way, low), high) for way in (-1, 1))
        if right - left > 0.1:
            passed = [(left, self.nozzle_y), (right, self.nozzle_y), (focus, self.focus_y)]
            self.light(passed)
        middle = shapes.line(self.grid, top, self.lens_y, focus, self.focus_y, max(1.0, raster.hair))
        raster.paint(middle, Role.MARK)
        self.before(top)

    def light(self, corners: list[tuple[float, float]]) -> None:
        """A piece of the beam: filled faintly where that can be, else its outline."""
        raster = self.raster
        if raster.mode is RasterMode.SMOOTH:
            raster.paint(shapes.polygon(self.grid, corners), Role.BEAM, 0.45)
            return
        for one, other in zip(corners, [*corners[1:], corners[0]], strict=True):
            if one[1] != other[1]:
                raster.paint(shapes.line(self.grid, *one, *other, raster.hair), Role.BEAM)

    def before(self, top: float) -> None:
        """From mirror 3 to the lens: its own lean where that was measured, else only that it comes from there."""
        high = self.lens_y - self.mirror_y
        start = self.middle
        if self.shown.slope is not None:
            turned = HeadShown(lean=self.shown.slope).tangent(self.axis)
            start = top - high / self.scale.up * turned * self.scale.across
            body = shapes.line(self.grid, start, self.mirror_y, top, self.lens_y, 1.6)
            self.raster.paint(body, Role.BEAM)
        else:
            self.raster.hairline(start, self.mirror_y, top, self.lens_y, Role.BEAM)

    @property
    def mirror_y(self) -> float:
        return self.top + 0.35 * self.scale.sketch

    def mirror(self) -> None:
        """Mirror 3: from the front its slant and the beam that comes in; from the right its plate alone."""
        raster, (x, y) = self.raster, snap(self.raster, self.middle, self.mirror_y)
        size = max(0.3 * self.scale.sketch, 1.2)
        if self.axis == 0:
            way = 1.0 if self.scene.side == "left" else -1.0
            start = 0.0 if way > 0 else raster.width
            raster.paint(shapes.line(self.grid, start, y, x, y, max(1.2, raster.hair)), Role.BEAM)
            plate = shapes.line(self.grid, x - way * size, y - size, x + way * size, y + size, 1.5)
            raster.paint(plate, self.ink("mirror 3"))
        else:
            frame(raster, (x - 1.4 * size, y - size, x + 1.4 * size, y + size), self.ink("mirror 3"), Role.GROUND)
            raster.paint(shapes.disc(self.grid, x, y, max(0.5 * size, 0.8)), Role.BEAM)
        raster.keep_free(x - 1.5 * size, y - size, x + 1.5 * size, y + size)

    def glass(self) -> None:
        """The lens, curved side up, as wide as the view."""
        half = self.raster.width / 2 - 1
        thick = max(0.16 * self.scale.sketch, 0.9)
        body = shapes.ellipse(self.grid, self.middle, self.lens_y, half, thick)
        self.raster.paint(body, self.ink("lens"), 0.8 if self.scene.part != "lens" else 1.0)

    def nozzle(self) -> None:
        """Its wall to both sides of the hole, and the tube above it."""
        raster, role = self.raster, self.ink("nozzle")
        for way in (-1, 1):
            inner, outer = self.x(way * self.lens.hole / 2), self.middle + way * (raster.width / 2 - 1)
            end = inner + way * max(0.35 * abs(outer - inner), 1.2)
            x0, x1 = sorted((inner, end))
            raster.paint(shapes.bar(self.grid, x0, self.nozzle_y - 0.7, x1, self.nozzle_y + 0.5), role)
            raster.paint(shapes.line(self.grid, end, self.nozzle_y, outer, self.lens_y, raster.hair), Role.FRAME)

    def words(self) -> None:
        raster, last = self.raster, self.raster.rows - 1
        raster.label(TITLES[self.axis], [(raster.width / 2, 0, "center")], Role.QUIET)
        role = Role.TEXT if self.shown.lean is None else Role.DONE if self.shown.good else Role.MARK
        raster.label(self.shown.leans(self.axis), [(raster.width / 2, last, "center")], role, bold=True)
        if raster.width < ROOMY:
            return
        left, right = ENDS[self.axis]
        row = int(self.nozzle_y // raster.aspect) - 1
        raster.label(left, [(0, row, "left")], Role.QUIET)
        raster.label(right, [(raster.width, row, "right")], Role.QUIET)


def _told(shown: HeadShown, raster: Raster, scale: _Scale, wording: Wording) -> None:
    """Below both: what the lean and the nozzle cost, and how many times too large sideways is drawn."""
    facts = [fact for fact in (shown.over_board(wording), shown.cut_off()) if fact]
    both = " · ".join(facts)
    middle, row = raster.width / 2, raster.rows - 2
    if facts:
        raster.label((both, *facts), [(middle, row, "center")], Role.TEXT, bold=True)
    times = f"{float(f'{scale.times:.2g}'):g}"
    drawn = (f"sideways drawn {times} times as large", f"sideways {times}×")
    raster.label(drawn, [(middle, row + 1, "center")], Role.QUIET)
