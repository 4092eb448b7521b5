"""The head cut open, from the front: mirror 3, lens, nozzle and focus, and which of their sizes is asked about.

A sketch: heights in proportion, but what would be too short to be seen is drawn longer; widths are no one's measure.
With mirrors 1 and 2 on the left the beam comes in from the left, and mirror 3 looks down to the left.
"""

import math
from dataclasses import dataclass
from typing import Literal

from coach.pictures import shapes
from coach.pictures.labels import Anchor
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.pictures.view import on_side, snap
from coach.shown import Wording

Sized = Literal["screws", "focal", "gap", "hole", "curved", "hangs", "moves", ""]
Curved = Literal["up", "down", ""]
LEAST = {"hangs": 5.0, "tube": 4.0, "gap": 4.0}
"""Column widths: nothing between two of its parts is drawn shorter."""


@dataclass(frozen=True)
class HeadSizesScene:
    """Lengths in mm; `words` are the row below, shorter and shorter."""

    side: Literal["left", "right"]
    focal: float
    gap: float
    """From the nozzle down to the focus."""
    hole: float
    hangs: float
    """From mirror 3 down to the lens."""
    curved: Curved = ""
    """Which way the curved side looks; "" where nobody knows."""
    screws: bool = False
    """Whether mirror 3 has screws, or may have."""
    moves: bool = False
    """Whether the tube can be moved sideways, or may be."""
    asked: Sized = ""
    words: tuple[str, ...] = ()

    def draw(self, raster: Raster, wording: Wording) -> None:
        """Paint the scene."""
        _Drawing(self, raster).run()


class _Drawing:
    """All places in column widths, as if the beam came in from the left; `flip` turns them for the right."""

    def __init__(self, scene: HeadSizesScene, raster: Raster) -> None:
        self.scene, self.raster, self.grid = scene, raster, raster.grid
        self.roomy = raster.rows >= 9 and raster.columns >= 24
        self.half = min(7.0, raster.width / 6, raster.height / 8)
        """Half the width of the head."""
        below = 2 * raster.aspect if self.roomy else 0.0
        top, bottom = self.half + 1.0, raster.height - below - 0.5
        self.x = 0.5 * raster.width
        self.mirror_y = snap(raster, 0.0, top)[1]
        self.heights(max(bottom - top, 1.0))

    def heights(self, tall: float) -> None:
        """Mirror 3, lens, nozzle and focus, down the picture."""
        scene = self.scene
        parts = {"hangs": scene.hangs, "tube": max(scene.focal - scene.gap, 0.0), "gap": scene.gap}
        scale = tall / max(sum(parts.values()), 1e-6)
        drawn = {name: max(size * scale, LEAST[name]) for name, size in parts.items()}
        shrunk = tall / sum(drawn.values())
        places = [self.mirror_y]
        for name in parts:
            places.append(places[-1] + shrunk * drawn[name])
        self.lens_y, self.tip_y, self.focus_y = (snap(self.raster, 0.0, y)[1] for y in places[1:])

    def flip(self, x: float) -> float:
        return on_side(self.scene.side, x, self.raster.width)

    def at(self, across: float, y: float) -> tuple[float, float]:
        """A place so far to the right of the beam."""
        return self.flip(self.x + across), y

    def role(self, *asked: Sized, other: Role = Role.METAL) -> Role:
        return Role.FOCUS if self.scene.asked in asked else other

    def stroke(self, start: tuple[float, float], end: tuple[float, float], role: Role, thick: float = 0.0) -> None:
        """A line between two places; `thick` 0 for a hair."""
        self.raster.paint(shapes.line(self.grid, *start, *end, thick or self.raster.hair), role)

    def run(self) -> None:
        if self.roomy:  # nothing may push these out
            self.raster.label(self.scene.words, [(self.raster.width / 2, self.raster.rows - 1, "center")],
                              Role.TEXT, bold=True)  # fmt: skip
        self.body()
        self.beam()
        self.mirror()
        self.lens()
        self.nozzle()
        self.sheet()
        self.size()
        if self.roomy:
            self.names()

    def body(self) -> None:
        """The head's walls below mirror 3, which stands open; then the narrower tube down to the nozzle."""
        top, half, narrow = self.mirror_y + 0.8 * self.half, self.half, 0.62 * self.half
        foot, shoulder = self.lens_y - 1.5, self.tip_y - 0.35 * (self.tip_y - self.lens_y)
        role = self.role("moves", other=Role.FRAME)
        for side in (1.0, -1.0):
            outer, inner = side * half, side * narrow
            self.stroke(self.at(outer, top), self.at(outer, foot), Role.FRAME)
            self.stroke(self.at(outer, foot), self.at(inner, foot), Role.FRAME)
            self.stroke(self.at(inner, foot), self.at(inner, shoulder), role)
        self.narrow, self.shoulder = narrow, shoulder

    def beam(self) -> None:
        start = self.at(-self.half - 0.3 * self.raster.width, self.mirror_y)
        corner, focus = self.at(0, self.mirror_y), self.at(0, self.focus_y)
        self.stroke(start, corner, Role.BEAM)
        self.stroke(corner, focus, Role.BEAM)
        self.raster.keep_free(min(corner[0], focus[0]) - 0.5, self.mirror_y, corner[0] + 0.5, self.focus_y)

    def mirror(self) -> None:
        """Its plate from the upper edge, over the incoming beam, down to the right; the screws on its back."""
        reach = 0.72 * self.half
        scene, role = self.scene, self.role("screws", "hangs")
        self.stroke(self.at(-reach, self.mirror_y - reach), self.at(reach, self.mirror_y + reach), role, 1.4)
        if scene.screws and scene.asked == "screws":
            out = 0.5 * self.half
            for along in (-0.55 * reach, 0.55 * reach):
                near = self.at(along + 0.9, self.mirror_y + along - 0.9)
                far = self.at(along + out, self.mirror_y + along - out)
                self.stroke(near, far, Role.FOCUS, 1.2)

    def lens(self) -> None:
        """Flat on one side; as a plate where nobody knows which one is curved."""
        scene, y, half = self.scene, self.lens_y, 0.9 * self.narrow
        role = self.role("focal", "hangs", "curved", other=Role.TOLERANCE)
        bulge = {"up": -1.0, "down": 1.0, "": 0.0}[scene.curved] * min(0.55 * half, 0.3 * (self.tip_y - y) + 1.0)
        flat = y - math.copysign(0.4, bulge or 1.0)
        curve = [(half * k / 6, y + bulge * (1 - (k / 6) ** 2)) for k in range(-6, 7)]
        edge = [(half, flat), (-half, flat)]
        corners = [self.at(across, at) for across, at in (*curve, *edge)]
        if not bulge:
            corners = [
                self.at(across, at)
                for across, at in ((-half, y - 0.5), (half, y - 0.5), (half, y + 0.5), (-half, y + 0.5))
            ]
        self.raster.paint(shapes.polygon(self.grid, corners), role)

    def nozzle(self) -> None:
        """A cone to either side of its hole, which is drawn wider than it is."""
        hole = min(max(0.5 * self.scene.hole, 0.5), 0.5 * self.narrow)
        role = self.role("hole", "gap", "moves")
        for side in (1.0, -1.0):
            corners = [(side * self.narrow, self.shoulder), (side * hole, self.tip_y),
                       (side * (hole + 1.0), self.tip_y), (side * (self.narrow + 0.6), self.shoulder)]  # fmt: skip
            self.raster.paint(shapes.polygon(self.grid, [self.at(across, y) for across, y in corners]), role)
        self.hole = hole

    def sheet(self) -> None:
        """The focus lies on it."""
        across = 1.3 * self.half
        self.stroke(
            self.at(-across, self.focus_y), self.at(across, self.focus_y), self.role("gap", "focal", other=Role.EDGE)
        )

    def size(self) -> None:
        """What is asked about as a line with a tick at either end, beside the head; arrows for a way to move."""
        spans = {
            "focal": (self.lens_y, self.focus_y),
            "gap": (self.tip_y, self.focus_y),
            "hangs": (self.mirror_y, self.lens_y),
        }
        asked, beside = self.scene.asked, self.half + 2.5
        if asked in spans:
            high, low = spans[asked]
            self.stroke(self.at(beside, high), self.at(beside, low), Role.FOCUS, 1.2)
            for y in (high, low):
                self.stroke(self.at(beside - 1, y), self.at(beside + 1, y), Role.FOCUS, 1.2)
        elif asked == "moves" and self.scene.moves:
            y = (self.lens_y + self.shoulder) / 2
            for way in (1.0, -1.0):
                self.arrow(self.at(way * (self.narrow + 1.2), y), self.at(way * (self.narrow + 4.2), y))
        elif asked == "hole":
            for way in (1.0, -1.0):
                self.arrow(
                    self.at(way * (self.hole + 5.5), self.tip_y + 1.2), self.at(way * self.hole, self.tip_y + 1.2)
                )
        elif asked == "screws":
            self.arrow(
                self.at(2.2 * self.half, self.mirror_y - self.half),
                self.at(1.25 * self.half, self.mirror_y - 0.5 * self.half),
            )

    def arrow(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        self.raster.paint(shapes.arrow(self.grid, *start, *end, 1.2, 2.0), Role.FOCUS)

    def names(self) -> None:
        """Beside the parts, on the side where the beam comes in below it, what is asked about first."""
        aspect, out = self.raster.aspect, self.half + 1.5
        anchor: Anchor = "right" if self.scene.side == "left" else "left"
        away: Anchor = "left" if anchor == "right" else "right"
        rows: list[tuple[tuple[str, ...], float, float, Anchor, bool]] = [
            (("mirror 3", "m3"), out, self.mirror_y - self.half, away, self.scene.asked in ("screws", "hangs")),
            (("lens",), -out, self.lens_y, anchor, self.scene.asked in ("focal", "curved", "hangs")),
            (("nozzle",), -out, self.tip_y - 1.0, anchor, self.scene.asked in ("hole", "gap")),
            (("focus",), -1.3 * self.half - 1.5, self.focus_y, anchor, self.scene.asked in ("focal", "gap")),
            (("beam",), -out - 3.0, self.mirror_y - aspect, anchor, False),
        ]
        if self.scene.asked == "screws":
            rows[0] = (("look from here", "from here"), 2.2 * self.half + 1, self.mirror_y - self.half, away, True)
        for words, across, y, place, loud in sorted(rows, key=lambda row: not row[4]):
            x, row = self.at(across, y)[0], int(y // aspect)
            spots = [(x, row + move, place) for move in (0, 1, -1)]
            self.raster.label(words, spots, Role.FOCUS if loud else Role.QUIET, bold=loud)
