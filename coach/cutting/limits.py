"""What one station of a cut check says: the fastest line that fell through, and the next, which did not.

The speed at which the sheet is just cut through lies between the two; which is all that is known of it.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from coach.errors import InputError, OutOfReach
from coach.units import given_number

FASTEST = 2000.0
"""mm/s; nobody cuts faster."""
FEWEST = 3
"""Stations from which cuts say something of the beam's way."""


@dataclass(frozen=True)
class Limit:
    """The fastest speed that falls through at a station lies from `low` to `high`, mm/s."""

    station: str
    low: float
    """0 where no line fell through."""
    high: float
    """Infinite where all did."""

    @property
    def logs(self) -> tuple[float, float]:
        """Both as natural logarithms; −∞ and ∞ where open."""
        return (math.log(self.low) if self.low > 0 else -math.inf), math.log(self.high)


def checked_limit(station: str, fastest: Any, next_: Any) -> Limit:
    """A station's limit from what was entered, mm/s; None, None: no line at all.  Raises InputError or OutOfReach."""
    low, high = checked_speed("The fastest that fell through", fastest), checked_speed("The next speed", next_)
    if low is None and high is None:
        raise InputError(
            "No speed was given",
            expected="the fastest that fell through and the next, which did not; one of them where none or all did",
            example="18 and 20",
        )
    if low is not None and high is not None and high <= low:
        raise InputError(
            f"The next speed, {high:g} mm/s, is not above {low:g} mm/s, which fell through: the order is not that of "
            "the lines",
            expected="speeds that rise, the fastest that fell through first",
            example="18 and 20",
        )
    return Limit(station, low or 0.0, math.inf if high is None else high)


def checked_speed(what: str, value: Any) -> float | None:
    """A speed in mm/s, or None.  Raises InputError or OutOfReach."""
    if value is None:
        return None
    number = given_number(what, value, "mm/s", "18")
    if not math.isfinite(number) or not 0 < number <= FASTEST:
        raise OutOfReach(
            f"{what} is {number:g} mm/s", expected=f"more than 0 and at most {FASTEST:g} mm/s", example="18"
        )
    return number


def ladder(slowest: float, lines: int, step: float) -> tuple[float, ...]:
    """The speeds of that many lines, mm/s, each so many times the one before."""
    return tuple(slowest * step**line for line in range(lines))


def enough(limits: Iterable[Limit]) -> tuple[Limit, ...]:
    """The limits, at three stations at the least.  Raises InputError."""
    found = tuple(limits)
    if len(found) < FEWEST:
        cut = ", ".join(limit.station for limit in found) or "none yet"
        raise InputError(
            f"Too few stations were cut to compare ({cut})",
            expected=f"the same sheet cut at {FEWEST} stations at the least, those far apart first",
        )
    return found
