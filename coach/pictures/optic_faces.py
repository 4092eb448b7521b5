"""The face of an optic, as somebody sees it who looks at it: a sign, a word, and what was found drawn on it."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from coach.pictures import shapes
from coach.pictures.modes import RasterMode
from coach.pictures.palette import Role
from coach.pictures.raster import Raster
from coach.triage.cleaned import Cleaned, Optic

Seen = Cleaned | Literal["to do", "open", "now"]

SIGNS: dict[Seen, str] = {
    "clean": "✓", "haze": "!", "scratched": "!", "burnt": "!", "cracked": "!", "not opened": "–", "to do": "○",
    "open": "–",
    "now": "▶",
}  # fmt: skip
WORDS: dict[Seen, str] = {
    "clean": "clean", "haze": "haze stays", "scratched": "scratched", "burnt": "burnt", "cracked": "cracked",
    "not opened": "not opened", "to do": "to do", "open": "not seen", "now": "now",
}  # fmt: skip
ROLES: dict[Seen, Role] = {
    "clean": Role.DONE, "haze": Role.MARK, "scratched": Role.MARK, "burnt": Role.MARK, "cracked": Role.MARK,
    "not opened": Role.TODO, "to do": Role.TODO, "open": Role.TODO, "now": Role.FOCUS,
}  # fmt: skip
SMALLEST, SMALLEST_PLAIN = 1.6, 2.2
"""Column widths: a face of a smaller radius is left out, its sign and its word stay; and one made of letters."""
RUNS: dict[Seen, tuple[tuple[float, float], ...]] = {
    "clean": ((-0.8, 0.1), (-0.2, 0.7), (0.9, -0.6)),
    "scratched": ((-0.9, 0.9), (0.9, -0.9)),
    "cracked": ((-0.5, -1.1), (0.35, -0.3), (-0.35, 0.3), (0.5, 1.1)),
}
"""What is drawn as strokes from point to point, in shares of its size; y downwards."""


@dataclass(frozen=True)
class OpticShown:
    """One optic: how it was found, None as long as nobody looked; `now` for the one whose turn it is."""

    name: Optic
    state: Cleaned | None = None
    now: bool = False
    asked: bool = True
    """Whether it is cleaned in this visit's turn: else it is nobody's to do, and only said to be open."""

    @property
    def seen(self) -> Seen:
        """What is shown of it."""
        return "now" if self.now else self.state or ("to do" if self.asked else "open")

    @property
    def sign(self) -> str:
        """Its state as it is written beside it."""
        return f"{SIGNS[self.seen]} {WORDS[self.seen]}"

    @property
    def role(self) -> Role:
        """The colour of its state."""
        return ROLES[self.seen]

    @property
    def told(self) -> bool:
        """Whether there is anything to tell: then its state is written boldly."""
        return self.seen not in ("to do", "open", "not opened")

    @property
    def said(self) -> str:
        """In words; of the one whose turn it is also how it was found before."""
        before = f", before: {WORDS[self.state]}" if self.now and self.state else ""
        return f"{self.name}: {WORDS[self.seen]}{before}"


def draw_face(raster: Raster, seen: Seen, x: float, y: float, radius: float) -> None:
    """A face of that radius; nothing where it is too small to be seen."""
    plain = raster.mode in (RasterMode.GLYPH, RasterMode.ASCII)
    if radius < (SMALLEST_PLAIN if plain else SMALLEST):
        return
    grid, role = raster.grid, ROLES[seen]
    raster.paint(shapes.disc(grid, x, y, radius + 0.4), Role.GROUND)
    if seen == "now":
        raster.paint(shapes.disc(grid, x, y, radius), role)
    elif seen == "not opened":
        raster.paint(shapes.dashed_ellipse(grid, x, y, radius - 0.4, radius - 0.4, raster.hair, 2.6), role)
    else:
        raster.paint(shapes.disc(grid, x, y, radius), Role.SURFACE)
        raster.paint(shapes.ring(grid, x, y, radius - 0.4, max(raster.hair, 0.17 * radius)), role)
        _draw_found(raster, seen, (x, y), 0.55 * radius)
    raster.keep_free(x - radius, y - radius, x + radius, y + radius)


def _draw_found(raster: Raster, seen: Seen, middle: tuple[float, float], size: float) -> None:
    """What was found on a face, within `size` of its middle."""
    (x, y), grid, role = middle, raster.grid, ROLES[seen]
    if raster.mode in (RasterMode.GLYPH, RasterMode.ASCII) and size < 1.6:
        return  # a blot of a few cells would tell nothing: the sign and the word do
    if seen == "burnt":
        raster.paint(shapes.disc(grid, x, y, max(0.75 * size, 0.8)), role)
    elif seen == "haze":
        for turn in range(6):
            angle = math.tau * turn / 6
            dot = shapes.disc(grid, x + size * math.cos(angle), y + size * math.sin(angle), max(0.26 * size, 0.5))
            raster.paint(dot, role)
    run = RUNS.get(seen, ())
    for (x0, y0), (x1, y1) in pairwise(run):
        ends = (x + size * x0, y + size * y0, x + size * x1, y + size * y1)
        raster.paint(shapes.line(grid, *ends, max(raster.hair, 0.35 * size)), role)
