"""The plain way: how far right and how far up from the aperture's centre."""

import math
from typing import Literal

from coach.reading.face import Face, seen_on
from coach.reading.model import EDGE_SD, RULER_SD, SPAN_SD, Entry, Reading, entry_mm, within_reach
from coach.shown import IN_MM, Wording
from coach.units import Unit

Tool = Literal["callipers", "ruler"]

TOOL_SD: dict[Tool, float] = {
    "callipers": SPAN_SD,
    "ruler": math.hypot(RULER_SD, EDGE_SD, EDGE_SD),
}
"""The tool's own doubt, with both centres judged by eye, mm."""


def from_offsets(
    right: Entry,
    up: Entry,
    *,
    unit: Unit = "mm",
    tool: Tool = "callipers",
    face: Face = "outer",
    wording: Wording = IN_MM,
) -> Reading:
    """The mark's offset as measured along and across.  Raises InputError."""
    u, typed_right = entry_mm(right, unit, "the offset to the right")
    v, typed_up = entry_mm(up, unit, "the offset upwards")
    typed = {"method": "offsets", "right": typed_right, "up": typed_up, "unit": unit, "tool": tool}
    reading = Reading(
        within_reach(u, "the offset to the right", wording),
        within_reach(v, "the offset upwards", wording),
        TOOL_SD[tool],
        "offsets",
        typed=typed,
    )
    return seen_on(reading, face)
