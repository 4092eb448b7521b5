"""The beam's path from above: the tube along the back, mirror 1, mirror 2 on the gantry, the head.

A sketch, not a plan: the fixed gaps beside the travel are drawn at a size that can be seen.  x to the
right and y to the back, in mm from the front-left corner of travel.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from coach.pictures import shapes
from coach.pictures.folded import seen_from_above
from coach.pictures.labels import Anchor, Box, Place, Words
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import View, frame, on_side, snap
from coach.shown import Wording


@dataclass(frozen=True)
class PathScene:
    """Where the head stands on a travel of `width` × `depth` mm; which part is in question, which leg is judged."""

    width: float
    depth: float
    side: Literal["left", "right"]
    head: tuple[float, float]
    mirror: Literal[1, 2, 3] | None = None
    leg: Literal[1, 2] | None = None
    tube: bool = False
    """Whether the tube is in question."""
    sign: str = "this one"
    """Written beside the part in question."""
    ways: tuple[tuple[float, float], ...] = ()
    """Directions on the plan, to the right and to the back, in which the part in question is moved: an arrow each."""

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        _Drawing(self, raster).run()


def has_words(raster: Raster) -> bool:
    """Whether a path of that size is large enough for names."""
    return raster.rows >= 9 and raster.columns >= 26


class _Drawing:
    """All places in column widths, for mirrors on the left; `flip` turns them for the right."""

    def __init__(self, scene: PathScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = has_words(raster)
        bottom = raster.aspect if self.roomy else 0.0
        side, back = (9.6, 11.0) if self.roomy else (2.5, 2.5)
        wide = max(raster.width - side - 4.0, 2.0)
        tall = max(raster.height - back - bottom - (3.5 if self.roomy else 1.0), 1.0)
        scale = min(wide / scene.width, tall / scene.depth)
        spare = max(wide - scene.width * scale, 0.0) / 2
        left = side + spare
        self.down = max(tall - scene.depth * scale, 0.0) / 2
        self.view = View(left, self.down + back + scene.depth * scale, scale)
        self.size = 2.0 if self.roomy else 1.0
        self.margin = 2.6 if self.roomy else 0.5
        self.places(left, side)

    def places(self, left: float, side: float) -> None:
        """Where tube, mirrors and head come to lie, as if the mirrors stood on the left."""
        scene = self.scene
        across, along = scene.head
        head_x, head_y = self.view.at(on_side(scene.side, across, scene.width), along)
        mirror_x = left - side + (4.5 if self.roomy else 1.5)
        steps = self.raster.aspect
        tube_y = self.down // steps * steps + (3.5 if self.roomy else 1.0)  # the word in it takes a whole row
        self.mirror1 = self.place(mirror_x, tube_y)
        self.mirror2 = self.place(mirror_x, head_y)
        self.head = self.place(head_x, head_y)
        self.tube = self.place(left + 0.1 * scene.width * self.view.scale, tube_y)
        self.tube_end = self.place(left + scene.width * self.view.scale + self.margin, tube_y)

    def flip(self, x: float) -> float:
        return on_side(self.scene.side, x, self.raster.width)

    def place(self, x: float, y: float) -> tuple[float, float]:
        return snap(self.raster, self.flip(x), y)

    def run(self) -> None:
        self.floor()
        self.beam()
        self.parts()
        for number in (1, 2, 3):
            self.mirror(number)
        self.arrows()
        if self.roomy:
            self.words()

    def floor(self) -> None:
        scene, raster = self.scene, self.raster
        x0, y1 = self.view.at(0, 0)
        x1, y0 = self.view.at(scene.width, scene.depth)
        x0, x1 = sorted((self.flip(x0), self.flip(x1)))
        more = self.margin
        frame(raster, (x0 - more, y0 - more, x1 + more, y1 + more), Role.FRAME, Role.SURFACE, 0.6)

    def beam(self) -> None:
        self.leg(self.tube, self.mirror1, thick=False)
        self.leg(self.mirror1, self.mirror2, thick=self.scene.leg == 1)
        self.leg(self.mirror2, self.head, thick=self.scene.leg == 2)

    def leg(self, start: tuple[float, float], end: tuple[float, float], *, thick: bool) -> None:
        raster = self.raster
        if thick:
            raster.paint(shapes.line(self.grid, *start, *end, 3.0), Role.MARK)
            (x0, x1), (y0, y1) = sorted((start[0], end[0])), sorted((start[1], end[1]))
            raster.keep_free(x0 - 1, y0 - 1, x1 + 1, y1 + 1)
        else:
            raster.paint(shapes.line(self.grid, *start, *end, raster.hair), Role.BEAM, 0.75)

    def parts(self) -> None:
        raster = self.raster
        (x0, y), (x1, _) = self.tube, self.tube_end
        x0, x1 = sorted((x0, x1))
        top, low = (y - 2, y + 1) if self.roomy else (y - 0.5, y + 0.5)
        frame(raster, (x0, top, x1, low), Role.FOCUS if self.scene.tube else Role.METAL, Role.GROUND)
        x, y = self.head
        size = self.size
        frame(raster, (x - size, y - size, x + size, y + size), Role.METAL, Role.GROUND)
        raster.keep_free(x - size, y - size, x + size, y + size)

    def mirror(self, number: int) -> None:
        """A slanted plate; the one in question is larger, in a ring of its own."""
        raster = self.raster
        x, y = (self.mirror1, self.mirror2, self.head)[number - 1]
        asked = self.scene.mirror == number
        arm = 2.0 if self.roomy else 1.0
        role = Role.FOCUS if asked else Role.METAL
        if asked:
            self.brackets(x, y, self.size + 2.0)
        if number == 3:
            raster.paint(shapes.disc(self.grid, x, y, 1.1 if asked else 0.8), role)
        else:
            across, down = seen_from_above(self.scene.side)[number - 1]
            reach = arm * math.sqrt(2)
            ends = (x - reach * across, y - reach * down, x + reach * across, y + reach * down)
            plate = shapes.line(self.grid, *ends, 1.4)
            if asked:
                plate = plate.grown(0.3)
                raster.paint(plate.grown(0.9), Role.GROUND)
            raster.paint(plate, role)
        raster.keep_free(x - arm, y - arm, x + arm, y + arm)

    def brackets(self, x: float, y: float, half: float) -> None:
        """Four corners around the mirror in question."""
        raster, length = self.raster, 0.55 * half
        for right in (-1, 1):
            for down in (-1, 1):
                corner_x, corner_y = snap(raster, x + right * half, y + down * half)
                for dx, dy in ((-right * length, 0.0), (0.0, -down * length)):
                    stroke = shapes.line(
                        self.grid, corner_x, corner_y, corner_x + dx, corner_y + dy, max(1.0, raster.hair)
                    )
                    raster.paint(stroke, Role.FOCUS)
        raster.keep_free(x - half, y - half, x + half, y + half)

    def asked_at(self) -> tuple[float, float] | None:
        """Where the part in question lies."""
        if self.scene.tube:
            return (self.tube[0] + self.tube_end[0]) / 2, self.tube[1]
        return (self.mirror1, self.mirror2, self.head)[self.scene.mirror - 1] if self.scene.mirror else None

    def arrows(self) -> None:
        """From the part in question, beyond its brackets, the way it is moved; room is found on the picture."""
        at = self.asked_at()
        if at is None:
            return
        near, long = (self.size + 2.6, 6.5) if self.roomy else (self.size + 1.2, 3.5)
        for right, back in self.scene.ways:
            x, y = at[0] + near * right, at[1] - near * back
            tip = (x + long * right, y - long * back)
            behind = not (0.5 <= tip[0] <= self.raster.width - 0.5 and 0.5 <= tip[1] <= self.raster.height - 0.5)
            if behind:  # no room ahead of it: the arrow comes from behind
                x, y = at[0] - (near + long) * right, at[1] + (near + long) * back
                tip = (x + long * right, y - long * back)
            thick = 2.2 if self.roomy else 1.2
            self.raster.paint(shapes.arrow(self.grid, x, y, *tip, thick + 1.6, 5.2), Role.GROUND)
            self.raster.paint(shapes.arrow(self.grid, x, y, *tip, thick, 4.0 if self.roomy else 2.4), Role.FOCUS)
            (x0, x1), (y0, y1) = sorted((x, tip[0])), sorted((y, tip[1]))
            self.raster.keep_free(x0 - 1, y0 - 1, x1 + 1, y1 + 1)

    # words

    def words(self) -> None:
        raster, aspect = self.raster, self.raster.aspect
        if self.scene.mirror in (1, 2):
            self.name_mirror(self.scene.mirror, (self.mirror1, self.mirror2)[self.scene.mirror - 1])
        elif self.scene.mirror == 3:
            self.name_head()
        (x0, y), (x1, _) = self.tube, self.tube_end
        asked = self.scene.tube
        name, role = (f"▶ tube: {self.scene.sign} ◀", Role.FOCUS) if asked else ("tube", Role.TEXT)
        rows = (0, *range(2, 9)) if asked else (0,)
        places: list[Place] = [((x0 + x1) / 2, y // aspect + row, "center") for row in rows]
        self.name("tube", (name, self.scene.sign, "tube!") if asked else name, places, role, asked=asked)
        bottom = (self.view.y + self.margin) / aspect
        front: list[Place] = [(raster.width / 2, min(int(bottom + 0.5) + 1, raster.rows - 1), "center")]
        raster.label("front", front, Role.QUIET)
        for number, at in ((1, self.mirror1), (2, self.mirror2)):
            if self.scene.mirror != number:
                self.name_mirror(number, at)
        if self.scene.mirror != 3:
            self.name_head()
        self.name_leg(1)
        self.name_leg(2)

    def things(self) -> dict[str, Box]:
        """Where each part that has a name lies."""
        arm, size = 2.0, self.size
        left, right = sorted((self.tube[0], self.tube_end[0]))
        boxes: dict[str, Box] = {"tube": (left, right, self.tube[1] - 2, self.tube[1] + 1)}
        for name, (x, y), half in (
            ("mirror 1", self.mirror1, arm), ("mirror 2", self.mirror2, arm), ("head", self.head, size)
        ):  # fmt: skip
            boxes[name] = (x - half, x + half, y - half, y + half)
        return boxes

    def name(self, thing: str, text: Words, places: Sequence[Place], role: Role, *, asked: bool) -> None:
        """A part's name, only where that part is the nearest; the one that is asked about is named in any case."""
        things = self.things()
        for wording in self.raster.words(text):
            near = [place for place in places if self.raster.is_nearest(wording, place, thing, things)]
            others = [place for place in places if asked and place not in near]
            if self.raster.label(wording, near + others, role, bold=asked):
                return

    def inside(self) -> float:
        """Where a word begins (or ends) that stands just inside the bed's edge on the mirrors' side."""
        return self.flip(self.view.x - self.margin + 2.0)

    def name_mirror(self, number: int, at: tuple[float, float]) -> None:
        asked = self.scene.mirror == number
        inward: Anchor = "left" if self.scene.side == "left" else "right"
        step = 1.0 if inward == "left" else -1.0
        x, row = self.inside() + step, int(at[1] // self.raster.aspect)
        name = f"mirror {number}"
        told = self.scene.sign
        signed = (f"◀ {name}: {told}", f"◀ {told}", told, f"{name}!") if step > 0 else (
            f"{name}: {told} ▶", f"{told} ▶", told, f"{name}!")  # fmt: skip
        rows = (row + 2, row + 1, row + 3) if number == 1 else (row - 2, row + 2, row - 3, row + 3, row - 1)
        outward: Anchor = "right" if inward == "left" else "left"
        places: list[Place] = [(x, r, inward) for r in rows]
        places += [(at[0] - step * 3.0, r, outward) for r in (row, row + 1, row - 1)]
        places += [(at[0], r, "center") for r in (row + 2, row - 2)]
        role = Role.FOCUS if asked else Role.TEXT
        self.name(name, signed if asked else name, places, role, asked=asked)

    def name_head(self) -> None:
        x, y = self.head
        asked = self.scene.mirror == 3
        row, away = int(y // self.raster.aspect), 3 if asked else 2
        text = (f"head: {self.scene.sign}", self.scene.sign, "head!") if asked else ("head",)
        places: list[Place] = [(x, row + way * n, "center") for n in (away, away + 1) for way in (-1, 1)]
        beside = self.size + 3.5
        if asked:
            places[:0] = [(x + beside, row + n, "left") for n in (-1, 1)] + [
                (x - beside, row + n, "right") for n in (1,)
            ]
            places += [(x + beside, row, "left"), (x - beside, row, "right")]
        step = 1.0 if self.scene.side == "left" else -1.0
        away_from_mirrors: Anchor = "left" if step > 0 else "right"
        places += [(x + step * (self.size + more), row, away_from_mirrors) for more in (1.5, 3.5)]
        self.name("head", text, places, Role.FOCUS if asked else Role.TEXT, asked=asked)

    def name_leg(self, number: int) -> None:
        judged = self.scene.leg == number
        role = Role.MARK if judged else Role.QUIET
        start, end = (self.mirror1, self.mirror2) if number == 1 else (self.mirror2, self.head)
        x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        row = int(y // self.raster.aspect)
        side: Anchor = "left" if self.scene.side == "left" else "right"
        places: list[Place] = (
            [(self.inside(), row + r, side) for r in (0, 1, -1)]
            if number == 1
            else [(x, row + r, "center") for r in (1, -1, 2, -2)]
        )
        self.raster.label(f"leg {number}", places, role, bold=judged)
