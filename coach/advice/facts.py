"""What an advice is made of: pulses to make, turns, and how things stand."""

from collections.abc import Mapping
from dataclasses import dataclass

from coach.machine import Target


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
    """mm, in the direction in which the mark is least sure, how it will be read included."""
    wide: bool = False
    """On a wide card before the opening, in place of tape."""
    ms: float | None = None
    """How long to pulse, ms; None where the button does it, or nothing is known of the controller."""
    power: float | None = None
    """Per cent; None where nothing is known of it."""
    layers: int | None = None
    """Layers of tape, where somebody said so; None: as many as always."""


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


@dataclass(frozen=True)
class Left:
    """What probably remains until "done": an expectation, not a promise."""

    pulses: float
    rounds: float


NOTHING_LEFT = Left(0.0, 0.0)
