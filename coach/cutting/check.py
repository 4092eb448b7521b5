"""A cut check read: how evenly it cuts, how that compares with how it once cut, and what it looks like.

Delivered power is in the ratio of the speeds (P/(t·v) constant: common practice, to first order), one sheet, focus
gauged, all else alike.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from coach.cutting.cuts import Cuts
from coach.cutting.fading import Fading
from coach.cutting.likelihood import Array
from coach.cutting.limits import Limit, enough
from coach.cutting.pattern import Pattern, Shape, pattern
from coach.cutting.posterior import DRAWS, draws, interval
from coach.errors import UnknownName
from coach.machine import Machine
from coach.optics.focus import depth_of_focus
from coach.tuning.cutting import Cutting

Interval = tuple[float, float, float]
"""Low, value, high: 19 in 20 lie between the first and the last."""
CutPattern = Literal["alike", "legs", "bed", "one place", "fine"]
Again = Literal["yes", "no", "unsure", ""]
SAID_AS_WHOLE = 0.995
"""A share that is said as 100 %: an interval that reaches it has not shown that anything is less."""
_EVEN = 1e-3
"""Logarithm: what the geometry lets pass differs by no more, so there is nothing to take off."""


@dataclass(frozen=True)
class Surroundings:
    """What is known of the machine beside its cuts."""

    machine: Machine
    expected: Mapping[str, float] = field(default_factory=dict)
    """Station to the share of the beam that passes by the geometry: its growth, the openings, where it was marked."""
    gaps: Mapping[str, float] | None = None
    """Station to the gap head to bed, mm, where that was measured."""
    focal: float = 50.8
    """mm."""


@dataclass(frozen=True)
class Comparison:
    """One cut check beside another; ratios of delivered power."""

    change: Interval
    """Over all stations cut both times."""
    again: Again
    """Whether every one of them cuts as it did."""
    nearly: bool
    """Whether none of them fell far below it."""
    worst: Interval
    """At whichever station lost most."""


@dataclass(frozen=True)
class CutCheck:
    """One cut check; ratios of delivered power, 1 where nothing is lost."""

    stations: dict[str, tuple[float, float]]
    """Station to the speeds between which the sheet is just cut through, mm/s; 0 and infinite where open."""
    uniformity: Interval
    """The slowest station over the fastest."""
    pattern: CutPattern
    """"fine": as the baseline at every station; "alike": the stations do not differ (less than the baseline, or there
    is none); "legs": falling along them; "bed": as its gaps, or as a twist of it; "one place"."""
    beyond: Shape
    """The pattern that is left once what the geometry explains is taken off: "alike" where it explains all."""
    place: str
    """The station of "one place"."""
    also: tuple[Shape, ...]
    """Patterns that explain the cuts nearly as well."""
    left: dict[str, Interval]
    """Station to what it gets over what the geometry gives it, all stations' mean being 1."""
    change: Interval | None
    """Against the baseline, over the stations cut both times; None where there is none that can be compared."""
    again: Again
    """Whether it cuts as the baseline did, at every station; "" where nobody can tell."""
    nearly: bool
    """Whether no station fell far below the baseline, though it may not be told that it cuts as it did."""
    worst: Interval | None
    """Against the baseline, at whichever station lost most; None as `change`."""
    not_compared: str
    """Why there is no change: another batch, another power, …; "" where there is, or where there is no baseline."""
    opposite: tuple[str, ...] = ()
    """The stations at two opposite corners, of "bed" where those are weak: twisted, most likely."""
    fading: Fading | None = None
    """A station cut once more while the tube was warm, beside the same one cold; None where none was."""

    @property
    def uneven(self) -> bool:
        """Whether some station surely cuts slower than another; else a pattern is only what it would be if so."""
        return shown_less(self.uniformity)


def shown_less(share: Interval) -> bool:
    """Whether a share is shown to be below the whole: its interval, as it is said, leaves out 100 %."""
    return share[2] < SAID_AS_WHOLE


def read(now: Cuts, around: Surroundings, baseline: Cuts | None, cutting: Cutting) -> CutCheck:
    """What these cuts say.  Raises InputError where fewer than three stations were cut."""
    limits = enough(now.limits)
    unknown = [limit.station for limit in limits if limit.station not in {s.name for s in around.machine.stations}]
    if unknown:
        raise UnknownName(f"There is no station {unknown[0]!r}", expected="stations of this machine")
    drawn = draws(limits, np.zeros(len(limits)), cutting)
    explained = _explained(limits, around)
    reason = now.not_compared(baseline) if baseline is not None else ""
    beside = compared(now, baseline, cutting) if baseline is not None and not reason else None
    seen = beyond = _pattern(limits, around, np.zeros(len(limits)), cutting)
    left = drawn
    if np.ptp(explained) > _EVEN:
        beyond, left = _pattern(limits, around, explained, cutting), draws(limits, explained, cutting)
    return CutCheck(
        stations={limit.station: (limit.low, limit.high) for limit in limits},
        uniformity=interval(np.exp(drawn.min(axis=1) - drawn.max(axis=1))),
        pattern="fine" if beside is not None and beside.again == "yes" else _called(seen.shape),
        beyond=beyond.shape,
        place=seen.place,
        also=seen.also,
        left=_left(limits, left),
        change=beside.change if beside is not None else None,
        again=beside.again if beside is not None else "",
        nearly=beside is not None and beside.nearly,
        worst=beside.worst if beside is not None else None,
        not_compared=reason,
        opposite=seen.opposite,
    )


def _called(shape: Shape) -> CutPattern:
    """Two opposite corners are the bed's business first of all: its gaps tell, at no cost."""
    return "bed" if shape == "crosswise" else shape


def compared(now: Cuts, before: Cuts, cutting: Cutting) -> Comparison:
    """How one check compares with another, over the stations cut both times."""
    names = [limit.station for limit in now.limits if limit.station in {each.station for each in before.limits}]
    one, other = (_drawn(cuts, names, cutting, seed) for seed, cuts in enumerate((now, before), start=1))
    sheet = cutting.sheet_sd * np.random.default_rng(3).standard_normal(DRAWS)
    apart = one - other + sheet[:, None]
    worst = apart.min(axis=1)
    sure = float(np.mean(worst >= np.log(cutting.again)))
    again: Again = "yes" if sure >= cutting.again_sure else "no" if 1 - sure >= cutting.again_sure else "unsure"
    nearly = float(np.mean(worst >= np.log(cutting.nearly))) >= cutting.again_sure
    return Comparison(interval(np.exp(apart.mean(axis=1))), again, nearly, interval(np.exp(worst)))


def _drawn(cuts: Cuts, names: Sequence[str], cutting: Cutting, seed: int) -> Array:
    """Draws of the stations' logarithms, in the order of the names, mixed so that two checks are independent."""
    drawn = draws(cuts.limits, np.zeros(len(cuts.limits)), cutting, seed)
    at = [[limit.station for limit in cuts.limits].index(name) for name in names]
    return np.asarray(np.random.default_rng(10 + seed).permutation(drawn[:, at], axis=0), dtype=np.float64)


def _explained(limits: Sequence[Limit], around: Surroundings) -> Array:
    """Logarithm of what the geometry lets pass at each station; nothing is explained where nobody can tell."""
    return np.log([max(around.expected.get(limit.station, 1.0), 1e-6) for limit in limits])


def _left(limits: Sequence[Limit], drawn: Array) -> dict[str, Interval]:
    apart = np.exp(drawn - drawn.mean(axis=1, keepdims=True))
    return {limit.station: interval(apart[:, k]) for k, limit in enumerate(limits)}


def _pattern(limits: Sequence[Limit], around: Surroundings, explained: Array, cutting: Cutting) -> Pattern:
    depth = depth_of_focus(around.focal, cutting.radius, cutting.m2)
    return pattern(around.machine, limits, explained, around.gaps, depth, cutting)
