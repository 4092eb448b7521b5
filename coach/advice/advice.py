"""What the coach can advise: one frozen object, with its reason and its doubt.

shoot   make marks at `stations`, in that order
turn    turn the screws in `turns`
shift   move `part` sideways by `up`, `right`, `back` mm
done    every station is centred, stop turning
stop    no screw will help, because of `cause`
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from coach.machine import Target

Kind = Literal["shoot", "turn", "shift", "done", "stop"]
Cause = Literal["", "yaw", "loose", "station", "coarse", "no screws", "off the tape"]


ENOUGH = 0.94
"""Probability of every station within tolerance below which the coach never says "done"."""
GAIN = 0.15
"""An adjustment should raise the chance of every station within tolerance by this much …"""
SMALLER = 0.8
"""… or shrink the worst offset (or the squared spread) to this share of itself."""


@dataclass(frozen=True)
class Shot:
    """One pulse to make: head position in mm, which tape, and where the mark is expected."""

    name: str
    x: float
    y: float
    target: Target = "head"
    expected_u: float = 0.0
    expected_v: float = 0.0
    expected_sd: float = 0.0
    """mm, the larger of the two axes' doubts."""


@dataclass(frozen=True)
class MirrorTurn:
    """Turns of one mirror's screws: name to turns, clockwise positive."""

    mirror: int
    screws: Mapping[str, float]


@dataclass(frozen=True)
class Outlook:
    """How things stand, or would stand after an adjustment: at the machine's own stations."""

    chance: float
    """Probability that every station is within the tolerance."""
    worst: float
    """mm, the largest station offset to be expected."""
    worst_high: float
    """mm, exceeded with a chance of one in ten."""

    def better_than(self, before: "Outlook") -> bool:
        """Whether getting here is worth a person's turn of the hand."""
        clearly = self.chance > before.chance + GAIN
        return clearly or (self.chance >= before.chance and self.worst < SMALLER * before.worst)


@dataclass(frozen=True)
class Left:
    """What probably remains until "done": an expectation, not a promise."""

    pulses: float
    rounds: float


@dataclass(frozen=True)
class Advice:
    """The next action.  Fields that do not belong to `kind` keep their empty defaults."""

    kind: Kind
    why: str
    now: Outlook
    then: Outlook | None = None
    """After the turn or shift, execution doubt included."""
    stations: tuple[Shot, ...] = ()
    turns: tuple[MirrorTurn, ...] = ()
    part: str = ""
    up: float = 0.0
    right: float = 0.0
    back: float = 0.0
    cause: Cause = ""
    left: Left = Left(0.0, 0.0)
    """What probably remains to be done."""
    look_at: tuple[str, ...] = field(default=())
    """stop: what to look at, likeliest first."""
