"""What the coach can advise about head, lens and nozzle: one frozen object, with its reason and its doubt.

shoot   one pulse at `target`: "bed" (a card, `lowered` mm below its usual height) or "nozzle", with or without `lens`
turn    screws of mirror 3
shift   move `part`, the "lens" (the lens tube, with the nozzle) or the "head"
done    upright and through the nozzle's middle, or as near as can be had
stop    because of `cause`
"""

from dataclasses import dataclass
from typing import Literal

from coach.advice.facts import MirrorTurn
from coach.head import words
from coach.head.marks import HeadTarget
from coach.head.outlook import HeadOutlook, Suspect
from coach.head.reasons import HeadReason
from coach.shown import IN_MM

HeadKind = Literal["shoot", "turn", "shift", "done", "stop"]
HeadCause = Literal["", "nozzle", "lens", "no levers", "head coarse"]


@dataclass(frozen=True)
class HeadAdvice:
    """The next action.  Fields that do not belong to `kind` keep their empty defaults."""

    kind: HeadKind
    reason: HeadReason
    now: HeadOutlook
    target: HeadTarget | Literal[""] = ""
    lowered: float = 0.0
    lens: bool = True
    turns: tuple[MirrorTurn, ...] = ()
    part: Literal["", "lens", "head"] = ""
    up: float = 0.0
    right: float = 0.0
    back: float = 0.0
    cause: HeadCause = ""

    @property
    def lean(self) -> tuple[float, float]:
        """Degrees by which the focused beam leans to the right and to the back, the lower one looks the farther."""
        return self.now.lean

    @property
    def lean_sd(self) -> tuple[float, float]:
        """Their doubt, degrees."""
        return self.now.lean_sd

    @property
    def clipped(self) -> float:
        """Fraction of the beam that the nozzle cuts off, as expected; `now.clipped_sd` is its doubt."""
        return self.now.clipped

    @property
    def suspect(self) -> Suspect:
        """What is surely out, and most: "mirror 3", "lens", "nozzle" or "" where that is open."""
        return self.now.suspect

    @property
    def why(self) -> str:
        """The reason in one plain sentence, lengths in mm."""
        return words.why(self.reason, IN_MM)

    @property
    def look_at(self) -> tuple[str, ...]:
        """stop: what to look at, likeliest first."""
        return words.look_at(self.reason)
