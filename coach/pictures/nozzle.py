"""The tape under the nozzle, seen from above: the imprint of its hole's rim, the mark, and the beam around it.

x to the right and y to the back, in mm from the middle of the hole; right is right and back is up.
"""

import math
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.aperture import CRISP
from coach.pictures.flat import BACK, FROM_ABOVE, RIGHT, Flat, cross, off, on_the_flat, per_cent, spot
from coach.pictures.labels import Anchor
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, crossed, scale_bar, snap
from coach.shown import Wording

LEAST = (28, 8)
"""Columns and rows from which there is anything to see."""
AROUND = 1.3
"""How many times the hole's radius the picture shows at least."""
NOTHING_CAME = "no mark: nothing came through"
NOT_YET = "no mark yet"
Place = tuple[float, float, Anchor]


@dataclass(frozen=True)
class NozzleScene:
    """A hole of that diameter, the tolerance around its middle and the beam's radius there, all in mm."""

    hole: float
    tolerance: float
    mark: Flat | None = None
    beam: float | None = None
    """The 1/e² radius of the beam where it passes the hole; None where nobody knows."""
    clipped: float | None = None
    """Fraction of the beam that the rim cuts off, as the caller expects it."""
    nothing_came: bool = False
    """A pulse was fired and nothing came through."""

    @property
    def reach(self) -> float:
        """The radius that the picture shows, mm."""
        far = off(self.mark) + (self.beam or 0.2 * self.hole) if self.mark else 0.0
        return max(AROUND * self.hole / 2, 1.05 * far)

    @property
    def good(self) -> bool:
        """Whether the mark lies within the tolerance."""
        return self.mark is not None and off(self.mark) <= self.tolerance

    def said(self, wording: Wording) -> tuple[str, ...]:
        """What there is to say of the mark, in shorter and shorter words."""
        if self.mark is None:
            return (NOTHING_CAME, "nothing came") if self.nothing_came else (NOT_YET,)
        place = on_the_flat(self.mark, wording, 2)
        short = f"{wording.length(off(self.mark), 2)} off"
        if self.clipped is None:
            return place, short
        cut = f"the rim cuts off {per_cent(self.clipped)}"
        return f"{place}: {cut}", f"{short}: {cut}", place, short

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if raster.columns >= LEAST[0] and raster.rows >= LEAST[1]:
            _Drawing(self, raster, wording).run()


class _Drawing:
    def __init__(self, scene: NozzleScene, raster: Raster, wording: Wording) -> None:
        self.scene, self.raster, self.grid, self.wording = scene, raster, raster.grid, wording
        top, bottom = 1, 2
        high = (raster.rows - top - bottom) * raster.aspect
        self.radius = min(high / 2 - 0.2, raster.width / 2 - len(RIGHT) - 0.7)
        raster.crisp = self.radius < CRISP
        middle = top * raster.aspect + high / 2
        x, y = (snap if raster.crisp else crossed)(raster, raster.width / 2, middle)
        self.radius -= abs(y - middle)
        self.view = View(x, y, self.radius / scene.reach)

    def px(self, mm: float) -> float:
        return mm * self.view.scale

    def run(self) -> None:
        raster, (x, y), scene = self.raster, (self.view.x, self.view.y), self.scene
        raster.paint(shapes.disc(self.grid, x, y, self.radius), Role.TAPE)
        self.cut_off()
        cross(raster, x, y, self.radius)
        raster.paint(shapes.ring(self.grid, x, y, self.px(scene.hole / 2), 1.3), Role.RIM)
        self.tolerance()
        if scene.mark is not None:
            self.beam(*self.view.at(*scene.mark))
            spot(raster, *self.view.at(*scene.mark), self.mark_radius(), Role.MARK)
            if raster.mode in (RasterMode.SMOOTH, RasterMode.ANSI) and self.px(scene.tolerance) >= 2:
                self.tolerance()  # once more, on top: is the mark inside?
        self.words()

    def cut_off(self) -> None:
        """What of the beam lies beyond the rim: all of it, and the hole laid over it."""
        scene, raster = self.scene, self.raster
        if scene.mark is None or scene.beam is None or off(scene.mark) + scene.beam <= scene.hole / 2:
            return
        raster.paint(shapes.disc(self.grid, *self.view.at(*scene.mark), self.px(scene.beam)), Role.MARK, 0.7)
        raster.paint(shapes.disc(self.grid, self.view.x, self.view.y, self.px(scene.hole / 2)), Role.GROUND)

    def tolerance(self) -> None:
        radius = max(self.px(self.scene.tolerance), 0.9)
        ring = shapes.ring(self.grid, self.view.x, self.view.y, radius, self.raster.hair)
        self.raster.paint(ring, Role.TOLERANCE)

    def mark_radius(self) -> float:
        return max(min(0.35 * self.px(self.scene.beam or 0.2 * self.scene.hole), 3.2), 1.3)

    def beam(self, x: float, y: float) -> None:
        """The beam around its mark."""
        raster, scene = self.raster, self.scene
        if scene.beam is None:
            return
        radius = self.px(scene.beam)
        if raster.mode is RasterMode.SMOOTH:
            raster.paint(shapes.disc(self.grid, x, y, radius), Role.MARK, 0.18)
        edge = shapes.dashed_ellipse(self.grid, x, y, radius, radius, raster.hair, 3.6)
        raster.paint(edge, Role.EXPECTED)
        raster.keep_free(x - radius, y - radius, x + radius, y + radius)

    # words

    def words(self) -> None:
        raster, scene, (x, y) = self.raster, self.scene, (self.view.x, self.view.y)
        row, last = int(y // raster.aspect), raster.rows - 1
        raster.label(BACK, [(x - 0.5, 0, "left")], Role.QUIET)
        side = x + self.radius + 0.6
        right = RIGHT if raster.width - side >= len(RIGHT) else "→"
        raster.label(right, [(side, row, "left"), (raster.width, row, "right")], Role.QUIET)
        raster.label(FROM_ABOVE, [(0, 0, "left")], Role.QUIET)
        role = Role.TEXT if scene.mark is None else Role.DONE if scene.good else Role.MARK
        raster.label(scene.said(self.wording), [(raster.width / 2, last - 1, "center")], role, bold=True)
        hole, good = self.wording.length(scene.hole), self.wording.length(scene.tolerance)
        longer = f"· hole {hole}, good to {good}"
        after = longer if len(longer) + raster.width / 3 + 9 <= raster.width else f"· good to {good}"
        scale_bar(raster, self.view.scale, last, self.wording, after=after)
        self.named()

    def named(self) -> None:
        """The rim and the beam by their names: beside the picture, where there is room."""
        scene = self.scene
        self.lead(("rim",), scene.hole / 2, (0.0, 0.0), 135, Role.RIM)
        if scene.mark is not None and scene.beam is not None:
            radius = self.wording.length(scene.beam, 2)
            away = 45 if scene.mark[1] >= 0 else -45
            self.lead((f"beam, radius {radius}", "beam"), scene.beam, scene.mark, away, Role.EXPECTED)

    def lead(self, text: tuple[str, ...], radius: float, middle: Flat, degrees: int, role: Role) -> None:
        """Words outside of the tape, a thin line from a ring to them."""
        raster, angle = self.raster, math.radians(degrees)
        x, y = self.view.at(middle[0] + radius * math.cos(angle), middle[1] + radius * math.sin(angle))
        left = math.cos(angle) < 0
        edge = self.view.x + (-1 if left else 1) * self.radius
        row = int(y // raster.aspect)
        place: Place = (edge - 1, row, "right") if left else (edge + 1, row, "left")
        room = edge - 2 if left else raster.width - edge - 2
        fitting = tuple(each for each in text if len(each) <= room)
        if fitting and raster.label(fitting, [place], role):
            raster.hairline(x, (row + 0.5) * raster.aspect, edge, (row + 0.5) * raster.aspect, role)
