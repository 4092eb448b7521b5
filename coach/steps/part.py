"""What the table of parts says of each: what it is, what the laser is, how long it takes, and its steps."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from coach.session.session import Session
from coach.steps.about import About
from coach.steps.keys import GateName
from coach.steps.kind import Stage
from coach.steps.stages.attended import ATTENDED_CUTS
from coach.steps.stages.safety import SAFETY
from coach.visit import VisitPart

Laser = Literal["untouched", "idle", "off", "pulses", "cutting"]
"""What the machine is during a part, or at a step of it: nobody is at it; on, and nothing fires; off and unplugged,
hands in; pulsed; or it cuts, lid shut."""

LASER_WORDS: Mapping[Laser, str] = {
    "untouched": "Nobody touches the machine.",
    "idle": "On, key out: nothing fires.",
    "off": "Machine off, unplugged and cool, unless a step says otherwise.",
    "pulses": "Short pulses on tape.",
    "cutting": "It cuts, lid shut, somebody beside it.",
}


def _gates_of(stage: Stage) -> tuple[GateName, ...]:
    return tuple(gate.name for kind in stage.steps for gate in kind.gates)


ASKS: Mapping[Laser, tuple[GateName, ...]] = {
    "untouched": (),
    "idle": (),
    "off": (),
    "pulses": _gates_of(SAFETY),
    "cutting": _gates_of(ATTENDED_CUTS),
}
"""What has to be acknowledged first, whenever the program was opened or the machine was unplugged."""


@dataclass(frozen=True, kw_only=True)
class PartKind:
    """One part of the visit, a room of its own."""

    name: VisitPart
    title: str
    """As it is said in lists, beginning with a capital."""
    about: str
    """What is done there, and what it ends with, in one sentence."""
    laser: Laser
    """What the machine is for most of it."""
    minutes: int
    """About how long it takes (common practice)."""
    needs: str
    """What is needed at hand, as a list in words."""
    stages: tuple[Stage, ...]
    where: Callable[[Session], About | None]
    """The step that its events lead to; None once nothing is left to do there."""
    laser_at: Callable[[About], Laser] | None = None
    """What the machine is at a step of it, where that changes within the part."""
    counts_no_more: Callable[[Session], bool] = lambda session: False
    """Whether what was done there says nothing of the machine as it is now, so that it comes once more."""

    def needs_laser(self, there: About) -> Laser:
        """What the machine has to be for that step."""
        return self.laser if self.laser_at is None else self.laser_at(there)
