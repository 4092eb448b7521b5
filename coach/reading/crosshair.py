"""A crosshair moved with the arrow keys over a drawing of the aperture, copied from the tape by eye."""

import math
from dataclasses import dataclass, replace

from coach.reading.face import Face, seen_on
from coach.reading.model import FARTHEST, SMALLEST_SD, Reading

EYE_SHARE = 0.03
"""By eye a place in a circle is copied to about this share of its diameter (our judgement, no source)."""


@dataclass(frozen=True)
class Crosshair:
    """Where the crosshair stands on the face that is looked at, mm, and how far one key press moves it."""

    u: float = 0.0
    v: float = 0.0
    step: float = 0.5

    def moved(self, right: int = 0, up: int = 0) -> "Crosshair":
        """Moved by so many steps; it stops where no tape reaches."""
        return replace(self, u=_moved(self.u, right * self.step), v=_moved(self.v, up * self.step))


def _moved(start: float, way: float) -> float:
    # rounded, so that a hundred steps there and back end exactly where they began
    return min(max(round(start + way, 6), -FARTHEST), FARTHEST) + 0.0


def from_crosshair(crosshair: Crosshair, aperture_diameter: float, *, face: Face = "outer") -> Reading:
    """The crosshair's place as a reading; its doubt comes from the step and from copying by eye."""
    half_step = crosshair.step / 2 / math.sqrt(3)
    sd = max(SMALLEST_SD, math.hypot(half_step, EYE_SHARE * aperture_diameter))
    typed = {
        "method": "crosshair",
        "right": f"{crosshair.u:g} mm",
        "up": f"{crosshair.v:g} mm",
        "step": f"{crosshair.step:g} mm",
    }
    return seen_on(Reading(crosshair.u, crosshair.v, sd, "crosshair", typed=typed), face)
