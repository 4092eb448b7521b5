"""Marks as pictures show them: one that was made, and where the next one should land; knows nothing of tapes."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class MarkShown:
    """A mark: its offset and width in mm.

    "blob" is a mark on the tape, "crosshair" one that is being measured, "before" an older one, drawn hollow.
    """

    u: float
    v: float
    kind: Literal["blob", "crosshair", "before"] = "blob"
    diameter: float = 2.0
    label: str = ""


@dataclass(frozen=True)
class ExpectedMark:
    """Where the next mark should land, and the half axes of its doubt, all in mm."""

    u: float
    v: float
    doubt_u: float
    doubt_v: float
    label: str = "expected"
