"""Which speeds to cut at a station: a few lines, each a tenth faster, about where the limit is expected."""

import math

from coach.cutting.limits import FASTEST, Limit, ladder
from coach.tuning.cutting import Cutting

LINES = 6
"""Lines of one series."""
LENGTH = 30.0
"""mm, of each line."""
SLOWEST = 0.1
"""mm/s, and the finest step in which a speed is set."""
_STEPS = ((10.0, SLOWEST), (30.0, 0.5), (100.0, 1.0), (math.inf, 5.0))
"""Up to which speed it is set how finely, mm/s: finer than a fifth of the ladder's step would be read by nobody."""


def series_about(speed: float, cutting: Cutting) -> tuple[float, ...]:
    """Speeds in mm/s, rising by about a tenth, that have this one in their middle."""
    return _set(speed / cutting.step ** ((LINES - 1) / 2), cutting)


def series_after(limit: Limit, cutting: Cutting) -> tuple[float, ...]:
    """The series that goes on where one ended: slower where no line fell through, faster where all did."""
    if limit.low == 0:
        return _set(limit.high / cutting.step**LINES, cutting)
    if math.isinf(limit.high):
        return _set(limit.low * cutting.step, cutting)
    return series_about(middle(limit), cutting)


def middle(limit: Limit) -> float:
    """One speed for a limit, mm/s: halfway as one multiplies, or its one known end."""
    if limit.low == 0:
        return limit.high
    return limit.low if math.isinf(limit.high) else math.sqrt(limit.low * limit.high)


def ended(limit: Limit, cutting: Cutting) -> bool:
    """Whether no further series can go on: nobody cuts slower, or faster."""
    speeds = series_after(limit, cutting)
    open_ = limit.low == 0 or math.isinf(limit.high)
    return open_ and not (speeds[-1] < limit.high if limit.low == 0 else speeds[0] > limit.low)


def _set(slowest: float, cutting: Cutting) -> tuple[float, ...]:
    """As a controller takes them: rounded, each above the one before, within what can be cut."""
    most = FASTEST / cutting.step ** (LINES - 1)
    speeds: list[float] = []
    for speed in ladder(min(max(slowest, SLOWEST), most), LINES, cutting.step):
        fine = next(step for below, step in _STEPS if speed < below)
        said = round(round(speed / fine) * fine, 1)
        speeds.append(said if not speeds or said > speeds[-1] else round(speeds[-1] + fine, 1))
    return tuple(speeds)
