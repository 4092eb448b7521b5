"""Distance and direction on a clock face: 12 is up, 3 is to the right."""

import math
import re

from coach.errors import InputError, OutOfReach
from coach.reading.face import Face, seen_on
from coach.reading.model import SPAN_SD, Entry, Reading, entry_mm, within_reach
from coach.shown import IN_MM, Wording
from coach.units import Unit

DEGREES_PER_HOUR = 30.0
DIRECTION_SD = math.radians(DEGREES_PER_HOUR / 2) / math.sqrt(3)
"""People tell a clock direction to half an hour either way; rad."""

_CLOCK = re.compile(r"([0-9]{1,2})\s*(:[0-5][0-9]|[.,]5|½|\s1/2)?\s*(?:o\s?['’]?\s?clock)?", re.IGNORECASE)


def parse_clock(text: str) -> float:
    """Hours from 12, 0 ≤ hours < 12: "3", "3 o'clock", "2:30", "2.5", "2½".  Raises InputError."""
    parts = _CLOCK.fullmatch(text.strip())
    hour = int(parts[1]) if parts else 0
    if parts is None or not 1 <= hour <= 12:
        raise InputError(
            f"The clock direction {text.strip()[:40]!r} cannot be read" if text.strip() else "No clock direction",
            expected="an hour from 1 to 12, halves allowed; 12 is up and 3 is to the right",
            example="3 o'clock or 2:30",
        )
    rest = parts[2] or ""
    minutes = int(rest[1:]) if rest.startswith(":") else (30 if rest else 0)
    return hour % 12 + minutes / 60


def from_clock(
    distance: Entry, clock: str, *, unit: Unit = "mm", face: Face = "outer", wording: Wording = IN_MM
) -> Reading:
    """The mark at a distance from the aperture's centre in a clock direction.

    The doubt across the direction grows with the distance; the larger of the two is taken for u and v.
    Raises InputError, OutOfReach for a negative distance.
    """
    length, typed_distance = entry_mm(distance, unit, "the distance")
    if within_reach(length, "the distance", wording) < 0:
        raise OutOfReach(
            f"The distance {typed_distance} is negative",
            expected="a distance from the centre; the clock gives its direction",
            example="2.5 mm at 9 o'clock",
        )
    angle = math.radians(parse_clock(clock) * DEGREES_PER_HOUR)
    u, v = length * math.sin(angle), length * math.cos(angle)
    sd = max(SPAN_SD, length * DIRECTION_SD)
    typed = {"method": "clock", "distance": typed_distance, "clock": clock.strip(), "unit": unit}
    return seen_on(Reading(u, v, sd, "clock", typed=typed), face)
