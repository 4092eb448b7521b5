"""From mm to the raster: where a scene's origin lies, how large a mm is, and the bar that says so."""

import math
from dataclasses import dataclass
from typing import Literal, Protocol

from coach.pictures.modes import RasterMode
from coach.pictures.nearest import BLOCKS, Signs
from coach.pictures.palette import DARK, GLYPHS, RUN, Palette, Role
from coach.pictures.raster import Raster
from coach.pictures.shapes import bar, outline, rounded
from coach.shown import Wording
from coach.threads import MM_PER_INCH


class Scene(Protocol):
    """Anything that can draw itself on a raster: frozen data in mm."""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the whole scene, fitted to the raster's size; lengths on it are said in that wording."""


def render(
    scene: Scene,
    columns: int,
    rows: int,
    mode: RasterMode = RasterMode.SMOOTH,
    palette: Palette = DARK,
    *,
    wording: Wording,
    aspect: float = 2.0,
    ground: tuple[int, int, int] | None = None,
    signs: Signs = BLOCKS,
) -> Raster:
    """A scene drawn at that size; `ground` is the screen's colour behind it, 0 to 255; `signs` are the terminal's."""
    raster = Raster(columns, rows, mode, palette, aspect=aspect, ground=ground, signs=signs)
    scene.draw(raster, wording)
    return raster


@dataclass(frozen=True)
class View:
    """Where (0, 0) mm lies on the raster, and how many column widths a mm takes; v and y point up."""

    x: float
    y: float
    scale: float

    def at(self, across: float, up: float) -> tuple[float, float]:
        """The place of a point given in mm."""
        return self.x + across * self.scale, self.y - up * self.scale


def on_side(side: Literal["left", "right"], x: float, width: float) -> float:
    """What is laid out as if mirrors 1 and 2 stood on the left of that width, where they stand on that side."""
    return x if side == "left" else width - x


def snap(raster: Raster, x: float, y: float) -> tuple[float, float]:
    """The nearest pixel centre, where thin lines through it are crisp; the place itself where there are no pixels."""
    if raster.exact:
        return x, y
    step = raster.aspect / 2
    return math.floor(x) + 0.5, (math.floor(y / step) + 0.5) * step


def crossed(raster: Raster, x: float, y: float) -> tuple[float, float]:
    """The middle of the cell: a pen's strokes through it lie where they are drawn; the place where there are none."""
    if raster.exact:
        return x, y
    return math.floor(x) + 0.5, (math.floor(y / raster.aspect) + 0.5) * raster.aspect


def frame(
    raster: Raster,
    corners: tuple[float, float, float, float],
    role: Role,
    fill: Role | None = None,
    opacity: float = 1.0,
) -> None:
    """A box with slightly rounded corners and an outline, laid on whole pixels so that it is crisp.

    `corners` are x and y of the upper left, then of the lower right; the outline runs through them.
    """
    x0, y0 = snap(raster, *corners[:2])
    x1, y1 = snap(raster, *corners[2:])
    if fill is not None:
        raster.paint(rounded(raster.grid, x0 - 0.5, y0 - 0.5, x1 + 0.5, y1 + 0.5, 1.2), fill)
    if raster.mode in (RasterMode.GLYPH, RasterMode.ASCII) and GLYPHS[role][0] == RUN:
        raster.box(x0, y0, x1, y1)
        return
    edge = outline(raster.grid, rounded(raster.grid, x0, y0, x1, y1, 0.9), max(1.0, raster.hair))
    raster.paint(edge, role, opacity)


def nice_below(value: float) -> float:
    """The largest of 1, 2, 5, 10, 20, … (or 0.5, 0.2, …) that is not above a positive value."""
    power = 10.0 ** math.floor(math.log10(value))
    return next(step * power for step in (5.0, 2.0, 1.0) if step * power <= value * (1 + 1e-9))


def scale_bar(raster: Raster, scale: float, row: int, wording: Wording, *, before: str = "", after: str = "") -> bool:
    """A bar of a round length with that length written beside it, at the left end of a row.

    `scale` is in column widths per mm; `before` and `after` are left out where there is no room.
    """
    longest = min(raster.width / 3, raster.width - 9)
    if longest < 2 or not 0 <= row < raster.rows:
        return False
    unit = MM_PER_INCH if wording.unit == "in" else 1.0
    length = nice_below(longest / scale / unit) * unit
    before = before if raster.columns >= 30 else ""
    start = len(before) + 1 if before else 0
    if before:
        raster.label(before, [(0, row, "left")], Role.QUIET)
    end = start + length * scale
    _draw_bar(raster, start, end, row)
    figure = wording.exact(length)
    wordings = (f"{figure} {after}", figure) if after else (figure,)
    return raster.label(wordings, [(math.ceil(end) + 1, row, "left")], Role.TEXT)


def _draw_bar(raster: Raster, start: float, end: float, row: int) -> None:
    top, bottom = row * raster.aspect, (row + 1) * raster.aspect
    if raster.mode in (RasterMode.GLYPH, RasterMode.ASCII):
        between = max(round(end - start) - 2, 0)
        left, run, right = "|-|" if raster.mode is RasterMode.ASCII else "├─┤"
        raster.label(left + run * between + right, [(start, row, "left")])
        return
    for x0, y0, x1 in ((start, (top + bottom) / 2, end), (start, top, start + 1), (end - 1, top, end)):
        raster.paint(bar(raster.grid, x0, y0, x1, bottom), Role.QUIET)
    raster.keep_free(start, top, end, bottom)
