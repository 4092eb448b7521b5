"""The pointer's spot beside the mark, seen from above, at two heights of the bed.

x to the right and y to the back, in mm from the mark; right is right and back is up.
"""

import math
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.flat import BACK, RIGHT, Flat, cross, off, on_the_flat, spot
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, scale_bar, snap
from coach.shown import Wording

LEAST = (28, 8)
"""Columns and rows from which there is anything to see."""
APART = 2
"""Columns between the two heights."""
SHOWN = 1.6
"""The picture reaches so many times as far as the tolerance, at least."""
NOT_YET = "not looked yet"
ON_IT = "on the mark"
FROM_ABOVE = (f"seen from above: {RIGHT}, {BACK}", f"{RIGHT}, {BACK}", "from above")


@dataclass(frozen=True)
class PointerScene:
    """The spot less the mark, mm, at the upper height and `lowered` mm below it; None while nobody looked."""

    high: Flat | None = None
    low: Flat | None = None
    lowered: float = 0.0
    """mm between the heights; 0 where the second one is not yet told."""
    tolerance: float = 0.5

    def good(self, place: Flat) -> bool:
        """Whether that is near enough."""
        return off(place) <= self.tolerance

    def heights(self, wording: Wording) -> tuple[tuple[tuple[str, ...], Flat | None], ...]:
        """Both heights with their names, and where the spot lay there."""
        lower = f"{wording.exact(self.lowered)} lower" if self.lowered > 0 else "bed lower"
        return (("usual height", "usual"), self.high), ((lower, "lower"), self.low)

    def said(self, place: Flat | None, wording: Wording) -> tuple[str, ...]:
        """Where the spot lies, in shorter and shorter words."""
        if place is None:
            return NOT_YET, "not yet"
        if self.good(place):
            return f"✓ {ON_IT} ({wording.length(off(place))})", f"✓ {ON_IT}", "✓"
        return on_the_flat(place, wording), f"{wording.length(off(place))} off"

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if raster.columns < LEAST[0] or raster.rows < LEAST[1]:
            return
        half, high = (raster.columns - APART) // 2, raster.rows - 1
        views = [_Height(self, raster.pane(column, 0, half, high), wording) for column in (0, raster.columns - half)]
        for view, (name, place) in zip(views, self.heights(wording), strict=True):
            view.run(name, place)
        scale_bar(raster, views[0].view.scale, raster.rows - 1, wording)
        raster.label(FROM_ABOVE, [(raster.columns, raster.rows - 1, "right")], Role.QUIET)


class _Height:
    """What is seen at one height of the bed."""

    def __init__(self, scene: PointerScene, raster: Raster, wording: Wording) -> None:
        self.scene, self.raster, self.grid, self.wording = scene, raster, raster.grid, wording
        high = (raster.rows - 2) * raster.aspect
        self.radius = min(high / 2, raster.width / 2) - 0.4
        self.size = min(max(0.1 * self.radius, 1.2), 2.4)
        x, y = snap(raster, raster.width / 2, raster.aspect + high / 2)
        far = max([SHOWN * scene.tolerance, *(off(place) for place in (scene.high, scene.low) if place)])
        self.view = View(x, y, (self.radius - self.size - 0.6) / far)

    def run(self, name: tuple[str, ...], place: Flat | None) -> None:
        raster, (x, y) = self.raster, (self.view.x, self.view.y)
        raster.paint(shapes.disc(self.grid, x, y, self.radius), Role.TAPE)
        raster.paint(shapes.ring(self.grid, x, y, self.radius - 0.3, raster.hair), Role.FRAME)
        cross(raster, x, y, self.radius - 1)
        tolerance = shapes.ring(self.grid, x, y, self.scene.tolerance * self.view.scale, raster.hair)
        raster.paint(tolerance, Role.TOLERANCE)
        if place is not None:
            spot(raster, x, y, 0.8 * self.size, Role.MARK)
            self.pointer(*self.view.at(*place))
        self.words(name, place)

    def pointer(self, x: float, y: float) -> None:
        """The spot: a cross of thick strokes, so that a mark below it is still seen."""
        raster, arm = self.raster, self.size + 0.4
        thick = max(0.45 * self.size, raster.hair)
        for dx, dy in ((arm, 0.0), (0.0, arm)):
            raster.paint(shapes.line(self.grid, x - dx, y - dy, x + dx, y + dy, thick), Role.FOCUS)
        raster.keep_free(x - arm, y - arm, x + arm, y + arm)

    def words(self, name: tuple[str, ...], place: Flat | None) -> None:
        raster, middle, y = self.raster, self.raster.width / 2, self.view.y
        above = max(int((y - self.radius) // raster.aspect) - 1, 0)
        last = min(int((y + self.radius) // raster.aspect) + 1, raster.rows - 1)
        raster.label(name, [(middle, above, "center")], Role.QUIET)
        role = Role.QUIET if place is None else Role.DONE if self.scene.good(place) else Role.FOCUS
        raster.label(self.scene.said(place, self.wording), [(middle, last, "center")], role, bold=place is not None)
        if place is None or self.radius < 8:
            return
        self.beside("mark", 0.0, 0.0, Role.MARK)
        if off(place) * self.view.scale > 3 * self.size:
            self.beside("pointer", *place, Role.FOCUS)

    def beside(self, text: str, right: float, back: float, role: Role) -> None:
        x, y = self.view.at(right, back)
        row, gap = int(y // self.raster.aspect), self.size + 1.5
        under, over = math.ceil((y + gap) / self.raster.aspect), int((y - gap) // self.raster.aspect) - 1
        self.raster.label(text, [(x, under, "center"), (x, over, "center"), (x + gap, row, "left")], role)
