"""What the table of parts says of each: what it is, what the laser is, how long it takes, and its steps."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from coach.session.session import Session
from coach.steps.about import About
from coach.steps.kind import Stage
from coach.visit import VisitPart

Laser = Literal["untouched", "off", "pulses", "cutting"]
"""What the machine is during a part: nobody is at it; off and unplugged, hands in; pulsed; or it cuts, lid shut."""


@dataclass(frozen=True, kw_only=True)
class PartKind:
    """One part of the visit, a room of its own."""

    name: VisitPart
    title: str
    """As it is said in lists, beginning with a capital."""
    about: str
    """What is done there, and what it ends with, in one sentence."""
    laser: Laser
    minutes: int
    """About how long it takes (common practice)."""
    needs: str
    """What is needed at hand, as a list in words."""
    stages: tuple[Stage, ...]
    where: Callable[[Session], About | None]
    """The step that its events lead to; None once nothing is left to do there."""
