"""What may be true of a machine and its reader, each a filter of the bank with its own noise.

Shares and sizes are common practice (no published source).
"""

from dataclasses import dataclass
from typing import Literal

Cause = Literal["", "yaw", "loose"]


@dataclass(frozen=True)
class Explanation:
    """One story about where the marks come from."""

    name: str
    cause: Cause
    """What no screw cures, or "" where screws do."""
    share: float
    """How often it is so, before the first mark."""
    sd_yaw: float = 0.7
    """Doubt about the yaw term, mrad per m."""
    wander: float = 0.0
    """Beam's wandering from mark to mark after mirror 2, mrad on each axis."""
    reading: float = 1.0
    """The reader's doubt, as a multiple of the stated one."""


EXPLANATIONS = (
    Explanation("sound", "", 0.82),
    Explanation("rough reader", "", 0.15, reading=1.8),
    Explanation("yaw", "yaw", 0.015, sd_yaw=12.0),
    Explanation("loose", "loose", 0.015, wander=2.5),
)
