"""What a cut check says of one station, for pictures: between which speeds its limit lies, in words too."""

import math
from dataclasses import dataclass

Limits = tuple[float, float]
"""The fastest that fell through and the next, mm/s: 0 where none did, infinite where all did."""
NOT_YET = "not cut"


@dataclass(frozen=True)
class CutShown:
    """A station: its limit now and before, None where it was not cut; `now` for the one whose turn it is."""

    station: str
    limit: Limits | None = None
    before: Limits | None = None
    now: bool = False
    x: float = 0.0
    y: float = 0.0
    """mm on the bed."""

    @property
    def figure(self) -> str:
        """The limit as it is written beside it."""
        if self.limit is None:
            return "now" if self.now else NOT_YET
        return between(self.limit)

    @property
    def earlier(self) -> str:
        """The one before."""
        return between(self.before) if self.before else ""


def speed(value: float) -> str:
    """Digits of a speed, to three figures."""
    return f"{value:.3g}" if value < 1000 else f"{value:.0f}"


def between(limit: Limits) -> str:
    """ "18–20", "under 12" where no line fell through, "over 24" where all did."""
    low, high = limit
    if low <= 0:
        return f"under {speed(high)}"
    return f"over {speed(low)}" if math.isinf(high) else f"{speed(low)}–{speed(high)}"


def said(limit: Limits) -> str:
    """The same as a sentence has it."""
    return f"{between(limit).replace('–', ' to ')} mm/s"


def top_speed(cuts: tuple[CutShown, ...], ladder: tuple[float, ...] = ()) -> float:
    """The fastest speed that was tried anywhere, mm/s; 20 as long as nothing was."""
    ends = [end for cut in cuts for limit in (cut.limit, cut.before) if limit for end in limit]
    return max([end for end in (*ends, *ladder) if 0 < end < math.inf], default=20.0)


def slowest(cuts: tuple[CutShown, ...]) -> frozenset[str]:
    """The stations whose lines all stopped before those of the others; none where that cannot be told."""
    done = [(cut.station, cut.limit) for cut in cuts if cut.limit]
    if len(done) < 2:
        return frozenset()
    least = min(limit for _, limit in done)
    others = [limit for _, limit in done if limit != least]
    told = others and all(low >= least[1] for low, _ in others)
    return frozenset(name for name, limit in done if limit == least) if told else frozenset()
