"""The pointer: its spot onto the mark at the focus, then at a second height, by its own screws.

It proves nothing about the beam; so it comes last of all.  With the spot minus the mark p0 at the usual height and p1
with the bed h mm lower, the pointer crosses the beam's way at an angle of (p1 − p0)/h.
"""

from dataclasses import dataclass
from math import hypot
from typing import Literal

from coach.optics.below import degrees_of, two_height_slope
from coach.tuning import Head


@dataclass(frozen=True)
class PointerSpot:
    """The pointer's spot minus the mark, mm, seen from above, with the bed `lowered` mm below its usual height."""

    right: float
    back: float
    lowered: float = 0.0

    @property
    def off(self) -> float:
        """mm."""
        return hypot(self.right, self.back)


@dataclass(frozen=True)
class PointerAdvice:
    """The next action about the pointer.

    look    put its spot beside a mark, with the bed `lowered` so far
    turn    its own screws, until the spot goes by `right` and `back` mm, with the bed `lowered` so far
    done    on the mark at both heights
    """

    kind: Literal["look", "turn", "done"]
    lowered: float = 0.0
    right: float = 0.0
    back: float = 0.0
    angle: tuple[float, float] | None = None
    """Degrees between pointer and beam, to the right and to the back the lower one looks; None: one height only."""

    @property
    def why(self) -> str:
        """In one plain sentence."""
        if self.kind == "look":
            where = "at the usual height" if not self.lowered else f"with the bed {self.lowered:g} mm lower"
            return f"The pointer's spot beside a fresh mark {where} tells how far it is off."
        if self.kind == "turn":
            return (
                f"The pointer's spot is {hypot(self.right, self.back):.1f} mm off the mark: by its own screws alone."
            )
        return "The pointer lies on the mark at both heights; it says nothing about the beam."


def standing_spots(spots: tuple[PointerSpot, ...], tuning: Head) -> dict[float, PointerSpot]:
    """The newest spot at each height, since its screws were last turned: that moves the spot at the other height."""
    newest: dict[float, PointerSpot] = {}
    for spot in spots:
        before = newest.get(spot.lowered)
        if before is not None and before.off > tuning.pointer:
            newest = {}
        newest[spot.lowered] = spot
    return newest


def pointer_advice(spots: tuple[PointerSpot, ...], tuning: Head) -> PointerAdvice:
    """From where the spot was seen, oldest first: the usual height, then a second one, and the first once more where
    the screws were turned at the second."""
    newest = standing_spots(spots, tuning)
    if not newest:
        return PointerAdvice("look")
    high = newest[min(newest)]
    low = newest[max(newest)] if len(newest) > 1 else None
    apart = low.lowered - high.lowered if low else 0.0
    angle = None
    if low is not None:
        angle = (
            degrees_of(two_height_slope(low.right - high.right, apart)),
            degrees_of(two_height_slope(low.back - high.back, apart)),
        )
    for spot in (high, low):
        if spot is not None and spot.off > tuning.pointer:
            return PointerAdvice("turn", spot.lowered, 0.0 - spot.right, 0.0 - spot.back, angle)
    if low is None:
        return PointerAdvice("look", 0.0 if high.lowered else tuning.off_focus)
    return PointerAdvice("done", angle=angle)
