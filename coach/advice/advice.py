"""What the coach can advise: one frozen object, with its reason and its doubt.

shoot   make marks at `stations`, in that order
turn    turn the screws in `turns`
shift   move `part` sideways by `up`, `right`, `back` mm
done    every station is centred, or the machine is at the best that can be had
stop    no screw will help, because of `cause`
"""

from dataclasses import dataclass
from typing import Literal

from coach.advice import words
from coach.advice.facts import NOTHING_LEFT, Left, MirrorTurn, Outlook, Shot
from coach.advice.reasons import Reason
from coach.advice.stop_words import look_at
from coach.parts import Part
from coach.shown import IN_MM

__all__ = ["Advice", "Cause", "Kind", "Left", "MirrorTurn", "Outlook", "Shot"]

Kind = Literal["shoot", "turn", "shift", "done", "stop"]
Cause = Literal["", "yaw", "loose", "station", "coarse", "no screws", "off the tape", "not firing", "edge"]


@dataclass(frozen=True)
class Advice:
    """The next action.  Fields that do not belong to `kind` keep their empty defaults."""

    kind: Kind
    reason: Reason
    now: Outlook
    then: Outlook | None = None
    """After the turn or shift, execution doubt included."""
    stations: tuple[Shot, ...] = ()
    turns: tuple[MirrorTurn, ...] = ()
    part: Part | Literal[""] = ""
    up: float = 0.0
    right: float = 0.0
    back: float = 0.0
    cause: Cause = ""
    reachable: float | None = None
    """mm, done and stop: the best worst-station offset that can be had."""
    left: Left = NOTHING_LEFT
    """What probably remains to be done."""

    @property
    def ms(self) -> float | None:
        """shoot: how long to pulse, ms; None where the button does it, or nothing is known of the controller."""
        return self.stations[0].ms if self.stations else None

    @property
    def power(self) -> float | None:
        """shoot: the power to set, per cent; None where nothing is known of it."""
        return self.stations[0].power if self.stations else None

    @property
    def why(self) -> str:
        """The reason in one plain sentence, lengths in mm; `words.why` says it in another unit."""
        return words.why(self.reason, IN_MM)

    @property
    def look_at(self) -> tuple[str, ...]:
        """stop: what to look at, likeliest first."""
        return look_at(self.reason)
