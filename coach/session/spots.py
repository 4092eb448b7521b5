"""Where a pulse was made and with what dose, as the entries of `Session` take them."""

from typing import Protocol, TypedDict

from coach.machine import Target
from coach.session.events import Pulse
from coach.session.pulse_checks import Dose


class Spot(TypedDict):
    """The head's position, mm, and what stood in the beam's way there."""

    x: float
    y: float
    target: Target
    wide: bool


class Aimed(Protocol):
    """A shot that is to be made, or a pulse that was."""

    @property
    def x(self) -> float: ...
    @property
    def y(self) -> float: ...
    @property
    def target(self) -> Target: ...
    @property
    def wide(self) -> bool: ...


def spot(aimed: Aimed) -> Spot:
    """Where that is made, or was."""
    return {"x": aimed.x, "y": aimed.y, "target": aimed.target, "wide": aimed.wide}


def dose(pulse: Pulse | None) -> Dose:
    """With what it was made, as far as that is known; of none nothing is."""
    if pulse is None:
        return {"ms": None, "power": None, "layers": None}
    return {"ms": pulse.ms, "power": pulse.power, "layers": pulse.layers}
