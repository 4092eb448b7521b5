"""The card on the bed, seen from above, with the marks of two heights of the bed: the beam leans as they lie apart.

x to the right and y to the back, in mm; right is right and back is up.  From where on the card they were counted does
not matter: the mark that came first stands in the middle.
"""

import math
from dataclasses import dataclass

from coach.pictures import shapes
from coach.pictures.flat import BACK, FROM_ABOVE, RIGHT, Flat, cross, off, on_the_flat, spot
from coach.pictures.head_shown import HeadShown
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, frame, scale_bar, snap
from coach.shown import Wording

LEAST = (28, 8)
"""Columns and rows from which there is anything to see."""
SHOWN = 2.0
"""mm that the card shows to all sides of its middle, at least."""
NOT_YET = "not pulsed yet"
Place = tuple[float, float, Anchor]


@dataclass(frozen=True)
class CardScene:
    """Where the marks lie, with the bed at the upper height and `lowered` mm below it; None while there is none."""

    high: Flat | None = None
    low: Flat | None = None
    lowered: float = 0.0
    """mm between the heights; 0 as long as the second one is not known."""
    upper: float = 0.0
    """mm by which the bed stands below its usual height for the first mark."""
    lens: bool = True
    most: float = 0.3
    """Degrees that it may lean."""

    @property
    def lean(self) -> Flat | None:
        """Degrees, to the right and to the back the lower one looks; None without marks at two heights."""
        if self.moved is None or self.lowered <= 0:
            return None
        across, along = self.moved
        return math.degrees(math.atan2(across, self.lowered)), math.degrees(math.atan2(along, self.lowered))

    @property
    def moved(self) -> Flat | None:
        """How far the mark went from the upper height to the lower one, mm; None without both."""
        if self.high is None or self.low is None:
            return None
        return self.low[0] - self.high[0], self.low[1] - self.high[1]

    def lower(self, wording: Wording) -> str:
        """What the second height is called."""
        return f"{wording.exact(self.upper + self.lowered)} lower" if self.lowered > 0 else "lower"

    def first(self, wording: Wording) -> str:
        """What the first height is called."""
        return f"{wording.exact(self.upper)} lower" if self.upper > 0 else "usual height"

    def said(self, wording: Wording) -> tuple[str, ...]:
        """What the two marks say, in shorter and shorter words."""
        if self.lean is None or self.moved is None:
            waiting = (
                f"{self.first(wording)}: {NOT_YET}" if self.high is None else f"{self.lower(wording)}: {NOT_YET}"
            )
            return waiting, NOT_YET
        shown = HeadShown(lean=self.lean)
        ways = [shown.leans(axis)[-1] for axis in (0, 1)]
        flat = all(shown.leans(axis)[0] == "upright" for axis in (0, 1))
        moved = on_the_flat(self.moved, wording)
        leans = "upright" if flat else f"leans {', '.join(way for way in ways if way != '0.0°')}"
        lens = "lens in" if self.lens else "lens out"
        whole = leans if flat else f"leans {off(self.lean):.1f}°"
        return f"{leans} ({moved} over {wording.exact(self.lowered)}), {lens}", f"{leans}, {lens}", leans, whole

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if raster.columns >= LEAST[0] and raster.rows >= LEAST[1]:
            _Drawing(self, raster, wording).run()


class _Drawing:
    def __init__(self, scene: CardScene, raster: Raster, wording: Wording) -> None:
        self.scene, self.raster, self.grid, self.wording = scene, raster, raster.grid, wording
        high = (raster.rows - 3) * raster.aspect
        self.half = min(high / 2 - 1.0, raster.width / 2 - len(RIGHT) - 1)
        x, y = snap(raster, raster.width / 2, raster.aspect + high / 2)
        self.size = min(max(0.09 * self.half, 1.3), 2.6)
        far = max([SHOWN, *map(abs, scene.moved or ())])
        self.view = View(x, y, (self.half - self.size - 1.5) / far)

    @property
    def shown(self) -> tuple[Flat | None, Flat | None]:
        """Both marks as they are drawn, in mm from the card's middle."""
        middle: Flat = (0.0, 0.0)
        if self.scene.high is None:
            return None, middle if self.scene.low is not None else None
        return middle, self.scene.moved

    def run(self) -> None:
        raster, (x, y), half = self.raster, (self.view.x, self.view.y), self.half
        frame(raster, (x - half, y - half, x + half, y + half), Role.FRAME, Role.TAPE)
        cross(raster, x, y, half - 1)
        edge = shapes.bar(self.grid, x - half, y - half, x + half, y + half)
        self.lines = raster.touched(shapes.outline(self.grid, edge, 1.6))
        high, low = self.shown
        if high is not None and low is not None:
            self.arrow(self.view.at(*high), self.view.at(*low))
        if high is not None:
            spot(raster, *self.view.at(*high), self.size, Role.MARK)
        if low is not None:
            at = self.view.at(*low)
            raster.paint(shapes.disc(self.grid, *at, self.size + 0.3), Role.GROUND)
            raster.paint(shapes.ring(self.grid, *at, self.size, max(0.5 * self.size, raster.hair)), Role.MARK)
            raster.keep_free(at[0] - self.size, at[1] - self.size, at[0] + self.size, at[1] + self.size)
        self.words()

    def arrow(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """From the upper height's mark to the lower one's, where they lie apart."""
        way = math.hypot(end[0] - start[0], end[1] - start[1])
        gap = self.size + 0.8
        if way < 2 * gap + 1.5:
            return
        x, y = ((b - a) / way for a, b in zip(start, end, strict=True))
        body = shapes.arrow(
            self.grid,
            start[0] + gap * x,
            start[1] + gap * y,
            end[0] - gap * x,
            end[1] - gap * y,
            max(0.6 * self.size, 1.2),
            1.8 * self.size,
        )
        self.raster.paint(body, Role.FOCUS)
        self.lines |= self.raster.touched(body)

    def words(self) -> None:
        raster, scene, (x, y), last = self.raster, self.scene, (self.view.x, self.view.y), self.raster.rows - 1
        raster.label(BACK, [(x - 0.5, 0, "left")], Role.QUIET)
        raster.label(FROM_ABOVE, [(0, 0, "left")], Role.QUIET)
        raster.label(RIGHT, [(x + self.half + 0.8, int(y // raster.aspect), "left")], Role.QUIET)
        lean = scene.lean
        role = Role.TEXT if lean is None else Role.DONE if off(lean) <= scene.most else Role.MARK
        raster.label(scene.said(self.wording), [(raster.width / 2, last - 1, "center")], role, bold=True)
        scale_bar(raster, self.view.scale, last, self.wording, after="on the card")
        self.names()

    def names(self) -> None:
        """Each mark's height; one word for both where they lie on each other."""
        high, low = self.shown
        lower = (self.scene.lower(self.wording), "low")
        if (
            high is not None
            and low is not None
            and math.dist(self.view.at(*high), self.view.at(*low)) < 1.6 * self.size
        ):
            self.name(high, None, ("both heights", "both"))
            return
        for mark, other, text in ((high, low, (self.scene.first(self.wording), "high")), (low, high, lower)):
            if mark is not None:
                self.name(mark, other, text)

    def name(self, mark: Flat, other: Flat | None, text: tuple[str, ...]) -> None:
        """Beside the mark, clearly nearer to it than to the other one; off edge and arrow where it can be."""
        places = self.around(mark, other or (0.0, 0.0))
        tried = ((wording, place) for wording in text for place in places)
        own = [(wording, place) for wording, place in tried if other is None
               or self.away(wording, place, mark) + 1 <= self.away(wording, place, other)]  # fmt: skip
        for wording, place in sorted(own, key=lambda each: self.crosses(*each)):
            if self.raster.label(wording, [place], Role.MARK):
                return

    def around(self, mark: Flat, other: Flat) -> list[Place]:
        """Where a word may stand, those first that lie away from the other mark."""
        (x, y), gap = self.view.at(*mark), self.size + 1.2
        row, aspect = int(y // self.raster.aspect), self.raster.aspect
        over, under = int((y - self.size - 0.4) // aspect) - 1, int((y + self.size + 0.4) // aspect) + 1
        right: list[Place] = [(x + gap, row + down, "left") for down in (0, -1, 1)]
        left: list[Place] = [(x - gap, row + down, "right") for down in (0, -1, 1)]
        first, second = (right, left) if mark[0] >= other[0] else (left, right)
        rows = (over, under) if mark[1] >= other[1] else (under, over)
        level: list[Place] = [(x, each, "center") for each in rows]
        return [*first[:1], *level, *second[:1], *first[1:], *second[1:]]

    def away(self, text: str, place: Place, mark: Flat) -> float:
        """How far a text's nearest sign lies from a mark's middle, column widths."""
        (x, y), (column, row, anchor) = self.view.at(*mark), place
        start, aspect = self.raster.start(text, column, anchor), self.raster.aspect
        across = max(start - x, x - start - len(text), 0.0)
        return math.hypot(across, max(row * aspect - y, y - (row + 1) * aspect, 0.0))

    def crosses(self, text: str, place: Place) -> bool:
        """Whether it would lie on the card's edge."""
        column, row, anchor = place
        start = self.raster.start(text, column, anchor)
        inside = 0 <= int(row) < self.raster.rows and start >= 0
        return inside and bool(self.lines[int(row), start : start + len(text)].any())
