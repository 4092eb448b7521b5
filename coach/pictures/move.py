"""Which way a part is moved: on a plan where it goes right or back, seen from the front where it goes up.

x to the right, y to the back, up, as seen by someone standing at the machine's front; mm.
"""

from dataclasses import dataclass, replace
from typing import Literal

from coach.parts import Part
from coach.pictures import shapes
from coach.pictures.palette import Role
from coach.pictures.path import PathScene, has_words
from coach.pictures.raster import Raster
from coach.pictures.view import frame, snap
from coach.shown import Wording

NUMBERS: dict[Part, Literal[1, 2, 3]] = {"mirror 1": 1, "mirror 2": 2, "head": 3}
LEAST = 22
"""Columns that the view from the front takes beside a plan, at least."""


@dataclass(frozen=True)
class MoveScene:
    """A part that is moved by `right`, `back` and `up` mm, on a travel of `width` × `depth` mm."""

    width: float
    depth: float
    side: Literal["left", "right"]
    part: Part
    right: float = 0.0
    back: float = 0.0
    up: float = 0.0
    flat_words: str = ""
    """How far it goes on the plan, in the caller's words."""
    up_words: str = ""

    def plan(self) -> PathScene:
        """The machine from above with an arrow each way that the part goes in that plane."""
        ways = tuple(
            (float(right > 0) - float(right < 0), float(back > 0) - float(back < 0))
            for right, back in ((self.right, 0.0), (0.0, self.back))
            if right or back
        )
        path = PathScene(self.width, self.depth, self.side, (self.width / 2, self.depth / 2))
        return replace(path, mirror=NUMBERS.get(self.part), tube=self.part == "tube", sign=self.flat_words, ways=ways)

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene: both views where both are needed, side by side or one below the other."""
        flat = bool(self.right or self.back)
        if not self.up:
            self.plan().draw(raster, wording)
        elif not flat:
            _Front(self, raster).run()
        elif raster.columns >= 3 * LEAST or raster.rows < 18:
            left = raster.columns - max(LEAST if raster.columns >= 3 * LEAST else 0, round(0.4 * raster.columns))
            self.above(raster.pane(0, 0, left, raster.rows), wording)
            _Front(self, raster.pane(left, 0, raster.columns - left, raster.rows)).run()
        else:
            top = round(0.55 * raster.rows)
            self.above(raster.pane(0, 0, raster.columns, top), wording)
            _Front(self, raster.pane(0, top, raster.columns, raster.rows - top)).run()

    def above(self, raster: Raster, wording: Wording) -> None:
        """The plan beside the view from the front; where it is too small for words of its own they stand beneath."""
        if has_words(raster):
            self.plan().draw(raster, wording)
            return
        self.plan().draw(raster.pane(0, 0, raster.columns, max(raster.rows - 1, 1)), wording)
        row = raster.rows - 1
        raster.label(self.flat_words, [(raster.width / 2, row, "center")], Role.FOCUS, bold=True)


class _Front:
    """The part as seen from the front, and whether it goes up or down."""

    def __init__(self, scene: MoveScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.worded = raster.rows >= 7 and raster.columns >= 12
        top = raster.aspect if self.worded else 0.0
        self.top, self.bottom = top + 0.5, raster.height - top - 0.5
        self.toward = -1.0 if scene.side == "left" else 1.0
        """Which way the mirrors lie."""

    def run(self) -> None:
        raster = self.raster
        middle = (self.top + self.bottom) / 2
        size = max(min(0.16 * (self.bottom - self.top), 0.14 * raster.width, 4.0), 1.2)
        x = raster.width / 2 - 0.12 * raster.width * (1 if self.scene.up else 0)
        if self.scene.part == "tube":
            self.tube(x, middle, size)
        else:
            self.head(x, middle, size)
        self.arrow(x + 2.6 * size + 1.5, middle)
        if self.worded:
            self.words()

    def head(self, x: float, y: float, size: float) -> None:
        """The head with its nozzle below, and the beam coming in from the mirrors' side."""
        raster = self.raster
        far = 1.0 if self.toward < 0 else raster.width - 1.0
        raster.paint(shapes.line(self.grid, far, y, x, y, raster.hair), Role.BEAM)
        x, y = snap(raster, x, y)
        frame(raster, (x - 1.5 * size, y - 1.5 * size, x + 1.5 * size, y + 1.5 * size), Role.FOCUS, Role.GROUND)
        nozzle = [(x - 0.9 * size, y + 1.5 * size), (x + 0.9 * size, y + 1.5 * size), (x, y + 2.8 * size)]
        raster.paint(shapes.polygon(self.grid, nozzle), Role.FOCUS)
        raster.keep_free(x - 2 * size, y - 2 * size, x + 2 * size, y + 3 * size)

    def tube(self, x: float, y: float, size: float) -> None:
        """The tube lying across, on its two clamps."""
        raster = self.raster
        half = max(2.3 * size, 3.0)
        x, y = snap(raster, x, y)
        frame(raster, (x - half, y - 0.7 * size, x + half, y + 0.7 * size), Role.FOCUS, Role.GROUND)
        for side in (-0.6, 0.6):
            foot = shapes.bar(self.grid, x + side * half - 0.5, y + 0.7 * size, x + side * half + 0.5, y + 1.9 * size)
            raster.paint(foot, Role.METAL)
        raster.keep_free(x - half, y - size, x + half, y + 2 * size)

    def arrow(self, x: float, middle: float) -> None:
        """Up or down, beside the part."""
        raster, reach = self.raster, min(0.36 * (self.bottom - self.top), 9.0)
        sign = 1.0 if self.scene.up > 0 else -1.0
        x = min(x, raster.width - 2.6)
        thick, head = (2.0, 4.0) if reach > 5 else (1.2, 2.4)
        raster.paint(
            shapes.arrow(self.grid, x, middle + sign * reach, x, middle - sign * reach, thick, head), Role.FOCUS
        )
        raster.keep_free(x - 2, middle - reach, x + 2, middle + reach)

    def words(self) -> None:
        raster, middle = self.raster, self.raster.width / 2
        raster.label(("seen from the front", "from the front", "front view"), [(middle, 0, "center")], Role.QUIET)
        text = (f"{self.scene.part} {self.scene.up_words}", self.scene.up_words)
        raster.label(text, [(middle, raster.rows - 1, "center")], Role.FOCUS, bold=True)
