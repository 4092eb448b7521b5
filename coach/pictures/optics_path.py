"""The optics in the beam's order, from the tube on, and how each was found.

A sketch as the beam is folded: the tube along the back, mirror 1 in the back corner, mirror 2 before it on the
gantry, mirror 3 on the head and the lens beneath it; where there is no room for that, a list.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from coach.pictures import shapes
from coach.pictures.labels import Anchor
from coach.pictures.optic_faces import WORDS, OpticShown, draw_face
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import frame, on_side
from coach.shown import Wording

LEAST = (26, 7)
"""Columns and rows from which there is anything to see."""
LARGEST = 6.0
"""Column widths: a face of a larger radius says no more."""
NAME = len("combiner")
STATE = max(len(word) for word in WORDS.values()) + 2
"""Columns that a name takes, and a state with its sign."""
TUBE = 7.0
"""Column widths of the tube's end that is seen."""
HEAD = 1.6
"""Column widths from a face to the frame of the head around it."""
ROOMY = 2.2
"""Column widths: with smaller faces the list is the better picture."""
LEVEL = 4
"""Rows for each level from which its words stand apart from those of the next."""
FROM = "▼ from the tube"
Point = tuple[float, float]


@dataclass(frozen=True)
class OpticsScene:
    """The optics in the order in which the beam meets them, on a machine with its mirrors on that side."""

    optics: tuple[OpticShown, ...]
    side: Literal["left", "right"] = "left"

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene; nothing where it would be too small to be read."""
        if not self.optics or raster.columns < LEAST[0] or raster.rows < max(LEAST[1], len(self.optics) + 1):
            return
        folded = _Folded(self, raster)
        if folded.radius >= ROOMY:
            folded.run()
        else:
            _Listed(self, raster).run()


def _in_row(raster: Raster, x: float, y: float) -> Point:
    """The middle of the cell, on paper too: words stand in the rows above and below."""
    return math.floor(x) + 0.5, (y // raster.aspect + 0.5) * raster.aspect


class _Folded:
    """Three levels: tube, combiner and mirror 1; mirror 2 and the head; the lens beneath the head."""

    def __init__(self, scene: OpticsScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        names = [optic.name for optic in scene.optics]
        level, aspect = raster.rows // 3, raster.aspect
        beside = STATE + 3
        tube = TUBE if "combiner" in names else 2 * HEAD
        # on every level stand two faces with their words, and the tube's end or the head's frame
        wide = (raster.columns - 2 * beside - tube - 2) / 4
        self.radius = min((level * aspect - HEAD - 1.2) / 2, wide, LARGEST) if level >= LEVEL else 0.0
        more = min(max(raster.columns - 4 * self.radius - 2 * beside - tube, 0.0) / 4, 6.0)
        x0, x1 = self.radius + more + 0.5, raster.columns - beside - self.radius - more - HEAD
        top = (raster.rows - 3 * level) // 2
        ys = [(top + number * level + level / 2) * aspect for number in range(3)]
        end = raster.columns - TUBE - 0.5
        middle = max((x0 + self.radius + end - beside) / 2, x0 + 2 * self.radius + beside + 1)
        ys = [(top + number * level + level / 2) * aspect for number in range(3)]
        self.places: dict[str, Point] = {
            "combiner": self.at(middle, ys[0]), "mirror 1": self.at(x0, ys[0]), "mirror 2": self.at(x0, ys[1]),
            "mirror 3": self.at(x1, ys[1]), "lens": self.at(x1, ys[2]),
        }  # fmt: skip
        self.tube = self.at(end, ys[0])

    def at(self, x: float, y: float) -> Point:
        """As if the mirrors stood on the left; turned for the right."""
        return _in_row(self.raster, on_side(self.scene.side, x, self.raster.width), y)

    def run(self) -> None:
        raster = self.raster
        self.head()
        run = [self.tube, *(self.places[name] for name in ("mirror 1", "mirror 2", "mirror 3", "lens"))]
        for start, end in pairwise(run):
            raster.paint(shapes.line(self.grid, *start, *end, max(1.6, raster.hair)), Role.BEAM)
            (xa, xb), (ya, yb) = sorted((start[0], end[0])), sorted((start[1], end[1]))
            raster.keep_free(xa, ya, xb, yb)
        self.tube_end()
        for optic in self.scene.optics:
            draw_face(raster, optic.seen, *self.places[optic.name], self.radius)
        for optic in self.scene.optics:
            self.words(optic)

    def tube_end(self) -> None:
        raster, (x, y) = self.raster, self.tube
        far = raster.width - 0.5 if self.scene.side == "left" else 0.5
        x0, x1 = sorted((x, far))
        frame(raster, (x0, y - raster.aspect, x1, y + raster.aspect), Role.METAL, Role.GROUND)
        raster.label("tube", [((x0 + x1) / 2, int(y // raster.aspect), "center")], Role.TEXT)

    def head(self) -> None:
        """A frame around what the head holds."""
        raster, more = self.raster, self.radius + HEAD
        (x, y0), (_, y1) = self.places["mirror 3"], self.places["lens"]
        frame(raster, (x - more, y0 - more, x + more, min(y1 + more, raster.height - 0.5)), Role.FRAME)

    def words(self, optic: OpticShown) -> None:
        """Above and below the beam that leaves the optic's side, or beside the head."""
        x, y = self.places[optic.name]
        row, more = (
            int(y // self.raster.aspect),
            self.radius + (HEAD + 1 if optic.name in ("mirror 3", "lens") else 1),
        )
        left = self.scene.side == "left"
        column, anchor = (math.ceil(x + more), "left") if left else (math.floor(x - more), "right")
        side: Anchor = "left" if anchor == "left" else "right"
        role = Role.FOCUS if optic.now else Role.TEXT
        beyond = optic.name in ("mirror 3", "lens")
        self.raster.label(optic.name, [(column, row - 1, side), (column, row, side)], role, bold=optic.now)
        state = row if beyond else row + 1
        self.raster.label(optic.sign, [(column, state, side), (column, row, side)], optic.role, bold=optic.told)


class _Listed:
    """From above down, a row or more for each."""

    def __init__(self, scene: OpticsScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        count = len(scene.optics)
        self.pitch = max((raster.rows - 1) // count, 1)
        self.radius = max(min(self.pitch * raster.aspect / 2 - 0.35, LARGEST), 0.6)
        self.left = max((raster.columns - 2 * self.radius - NAME - STATE - 4) / 2, 0.0)
        self.top = 1 + max(raster.rows - 1 - self.pitch * count, 0) // 2

    def place(self, number: int) -> Point:
        row = self.top + number * self.pitch + (self.pitch - 1) // 2
        return _in_row(self.raster, self.left + self.radius + 1, (row + 0.5) * self.raster.aspect)

    def run(self) -> None:
        raster = self.raster
        places = [self.place(number) for number in range(len(self.scene.optics))]
        x = places[0][0]
        raster.label(FROM, [(int(x), self.top - 1, "left")], Role.QUIET)
        thick = max(1.6, raster.hair)
        raster.paint(shapes.line(self.grid, x, self.top * raster.aspect + 0.5, *places[-1], thick), Role.BEAM)
        for optic, (x, y) in zip(self.scene.optics, places, strict=True):
            draw_face(raster, optic.seen, x, y, self.radius)
            row, column = int(y // raster.aspect), math.ceil(x + self.radius + 1)
            role = Role.FOCUS if optic.now else Role.TEXT
            raster.label(optic.name, [(column, row, "left")], role, bold=optic.now)
            raster.label(optic.sign, [(column + NAME + 1, row, "left")], optic.role, bold=optic.told)
