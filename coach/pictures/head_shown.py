"""How the beam goes through head, lens and nozzle, for pictures from two sides: figures, and what is said of them."""

import math
from dataclasses import dataclass
from typing import Literal

from coach.pictures.flat import Flat, per_cent
from coach.shown import Wording

Part = Literal["", "mirror 3", "lens", "nozzle", "head"]
NOT_YET = "not measured yet"
UPRIGHT = 0.05
"""Degrees below which a lean has no direction that could be said."""
WAYS = (("right", "left"), ("back", "front"))
"""Of either axis: where the beam lands the lower one looks, for a lean that is positive, and for one that is not."""


@dataclass(frozen=True)
class Lens:
    """What the beam is led through: lengths in mm, `beam` the 1/e² radius at the lens."""

    focal: float = 50.8
    nozzle_distance: float = 8.0
    hole: float = 2.5
    beam: float = 3.5

    @property
    def to_nozzle(self) -> float:
        """From the lens down to the nozzle's opening."""
        return self.focal - self.nozzle_distance


@dataclass(frozen=True)
class HeadShown:
    """What is known of the beam there; each pair to the right and to the back, None where nobody measured it."""

    lens: Lens = Lens()
    lean: Flat | None = None
    """Degrees by which the focused beam leans, positive where it lands farther right or back the lower one looks."""
    give: float | None = None
    """Degrees: give or take."""
    nozzle: Flat | None = None
    """mm by which it passes beside the nozzle's middle."""
    slope: Flat | None = None
    """Degrees by which it leans before the lens."""
    clipped: float | None = None
    """Fraction that the nozzle cuts off."""
    board: float = 6.0
    """mm: what a lean makes is said over a board of that thickness."""

    most: float = 0.3
    """Degrees that it may lean."""

    @property
    def good(self) -> bool:
        """Whether it leans no more than it may."""
        return self.lean is not None and math.hypot(*self.lean) <= self.most

    def tangent(self, axis: int) -> float:
        """Of the lean on that axis."""
        return math.tan(math.radians(self.lean[axis])) if self.lean else 0.0

    def at(self, axis: int, above_nozzle: float) -> float:
        """Where the middle of the beam is so many mm above the nozzle's opening, mm from the nozzle's middle."""
        beside = self.nozzle[axis] if self.nozzle else 0.0
        return beside - above_nozzle * self.tangent(axis)

    def leans(self, axis: int) -> tuple[str, ...]:
        """As it is written under one view, in shorter and shorter words."""
        if self.lean is None:
            return f"lean {NOT_YET}", NOT_YET, "not measured", "?"
        lean = self.lean[axis]
        if abs(lean) < UPRIGHT:
            return "upright", "0.0°"
        way = WAYS[axis][lean < 0]
        give = f", give or take {self.give:.1f}°" if self.give is not None else ""
        return f"leans {abs(lean):.1f}° {way}{give}", f"leans {abs(lean):.1f}° {way}", f"{abs(lean):.1f}° {way}"

    def over_board(self, wording: Wording) -> str:
        """What the whole lean makes over the board."""
        if self.lean is None:
            return ""
        far = self.board * math.hypot(self.tangent(0), self.tangent(1))
        return f"{wording.length(far, 2)} over {wording.exact(self.board)}"

    def cut_off(self) -> str:
        """What the nozzle takes."""
        if self.clipped is None:
            return ""
        return f"nozzle cuts off {per_cent(self.clipped)}"
