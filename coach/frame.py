"""The controller's own numbers: from which corner of the travel its X and Y count.

Inside the coach and in its files a place has x to the right and y to the back from the front-left corner of travel,
in mm.  A person drives the head by the numbers on the controller's display, which may count from another corner.
Whatever says or reads such a place goes through `Frame`, and `coach.shown.Wording` holds one.
"""

from dataclasses import dataclass
from typing import Literal, get_args

Zero = Literal["front-left", "back-left", "front-right", "back-right"]
"""The corner of travel where the controller's display reads X 0, Y 0; both count up from there."""
ZEROS: tuple[Zero, ...] = get_args(Zero)

NEAR_ENOUGH = 5.0
"""mm; a head this far from where it was sent has its mark where it was expected: slopes of a few mrad move it by some
hundredths of a mm."""


@dataclass(frozen=True)
class Frame:
    """Counts X and Y from the controller's zero corner; `width` and `depth` of the travel in mm."""

    zero: Zero = "front-left"
    width: float = 0.0
    depth: float = 0.0

    def counted(self, x: float, y: float) -> tuple[float, float]:
        """A place in the machine's frame as the controller counts it, mm; and back, as this is its own inverse."""
        across = self.width - x if self.zero.endswith("right") else x
        along = self.depth - y if self.zero.startswith("back") else y
        return across, along


OURS = Frame()
"""X and Y as in the files: from the front-left corner."""
