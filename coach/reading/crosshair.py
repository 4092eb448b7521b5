"""A crosshair moved with the arrow keys over a drawing of the aperture, copied from the tape by eye."""

import contextlib
import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from coach.errors import InputError
from coach.reading.face import Face, seen_on
from coach.reading.model import FARTHEST, SMALLEST_SD, Reading
from coach.units import parse_number

EYE_SHARE = 0.03
"""By eye a place in a circle is copied to about this share of its diameter (our judgement, no source)."""
CROSSHAIR_STEPS = (0.1, 0.5, 2.0)
"""How far one key press usually moves the crosshair, mm."""


@dataclass(frozen=True)
class Crosshair:
    """Where the crosshair stands on the face that is looked at, mm, and how far one key press moves it."""

    u: float = 0.0
    v: float = 0.0
    step: float = 0.5

    def moved(self, right: int = 0, up: int = 0) -> "Crosshair":
        """Moved by so many steps; it stops where no tape reaches."""
        return replace(self, u=_moved(self.u, right * self.step), v=_moved(self.v, up * self.step))


def _moved(start: float, by: float) -> float:
    # rounded, so that a hundred steps there and back end exactly where they began
    return min(max(round(start + by, 6), -FARTHEST), FARTHEST) + 0.0


def crosshair_of(entries: Mapping[str, str]) -> Crosshair:
    """The crosshair as the entries have it; what cannot be read is in the middle."""
    values = {"cross_u": 0.0, "cross_v": 0.0, "step": CROSSHAIR_STEPS[1]}
    for name in values:
        with contextlib.suppress(InputError):
            values[name] = parse_number(entries[name]) if entries.get(name) else values[name]
    return Crosshair(values["cross_u"], values["cross_v"], values["step"])


def with_crosshair(entries: Mapping[str, str], crosshair: Crosshair) -> dict[str, str]:
    """The entries with the crosshair elsewhere."""
    cross = {"cross_u": f"{crosshair.u:g}", "cross_v": f"{crosshair.v:g}", "step": f"{crosshair.step:g}"}
    return {**entries, **cross}


def next_step(
    entries: Mapping[str, str], by: int, steps: tuple[float, float, float] = CROSSHAIR_STEPS
) -> dict[str, str]:
    """The entries with the crosshair's next coarser (+1) or finer (−1) step."""
    crosshair = crosshair_of(entries)
    nearest = min(range(len(steps)), key=lambda index: abs(steps[index] - crosshair.step))
    step = steps[min(max(nearest + by, 0), len(steps) - 1)]
    return with_crosshair(entries, replace(crosshair, step=step))


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
