"""What dose each station needs, relative to the one nearest the tube: from doses of pulses and widths of marks.

The dose that just marks at a place grows with the beam's area there; what is needed beyond that is clipping or dirt.
Only pulses with the same power, the same layers and the same target are compared: their doses are their times.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import fmean

from coach.machine import Machine
from coach.optics.gaussian import beam_radius
from coach.optics.legs import leg_lengths
from coach.optics.marking import radius_from_widths, threshold
from coach.session.events import Event, Mark, Pulse
from coach.tuning.belief import Beam

WIDTH_SD = 0.2
"""mm, how well a mark's width is measured: two edges judged by eye (common practice)."""
RADIUS_SHARE = 0.15
"""Relative doubt about the beam's radius where it is that of a usual machine (our judgement)."""
COVERS = 1.645
"""Deviations to each side of an interval of 90 %."""


@dataclass(frozen=True)
class RelativeDose:
    """The dose that just marks at a station, over that at the station nearest the tube: as a factor."""

    needed: float
    low: float
    high: float
    """9 in 10 lie between these."""
    expected: float
    """What the growth of a usual beam makes by itself."""


@dataclass(frozen=True)
class _Needed:
    """Logarithm of the dose that just marks, its doubt, and where."""

    log: float
    sd: float
    along: float
    """m from mirror 1."""


def relative_doses(machine: Machine, events: Iterable[Event], beam: Beam) -> dict[str, RelativeDose]:
    """Station to its relative dose; without what cannot be said.  Events that count, in order."""
    pulses = [e for e in events if isinstance(e, Mark | Pulse) and e.target == "head" and not e.wide and e.ms]
    group = _largest_alike(pulses)
    found = {
        name: needed
        for name in dict.fromkeys(p.station for p in group)
        if (needed := _needed(machine, [p for p in group if p.station == name], beam)) is not None
    }
    if len(found) < 2:
        return {}
    first = min(found.values(), key=lambda needed: needed.along)
    return {name: _over(needed, first, beam) for name, needed in found.items()}


def _largest_alike(pulses: list[Mark | Pulse]) -> list[Mark | Pulse]:
    """Those of one power and one number of layers, whichever are most; the newest setting where two are as many."""
    settings = [(p.power, p.layers) for p in pulses]
    if not settings:
        return []
    most = max(reversed(settings), key=settings.count)
    return [p for p, setting in zip(pulses, settings, strict=True) if setting == most]


def _needed(machine: Machine, here: list[Mark | Pulse], beam: Beam) -> _Needed | None:
    """From the widths at one station; where there are none, between a dose that left nothing and one that marked."""
    along = sum(leg_lengths(machine, here[0].x, here[0].y))
    wide = [(p.ms, p.width) for p in here if isinstance(p, Mark) and p.ms and p.width and p.shape == "round"]
    if wide:
        radius, share = _radius(wide, along, beam)
        logs = [math.log(threshold(ms, width, radius)) for ms, width in wide]
        width = fmean(w for _, w in wide)
        by_width = width * WIDTH_SD / radius**2 / math.sqrt(len(wide))
        return _Needed(fmean(logs), math.hypot(by_width, width**2 / radius**2 * share), along)
    none = [p.ms for p in here if isinstance(p, Pulse) and p.outcome == "nothing" and p.ms]
    marked = [p.ms for p in here if isinstance(p, Mark) and p.ms]
    if not none or not marked or max(none) >= min(marked):
        return None
    low, high = math.log(max(none)), math.log(min(marked))
    return _Needed((low + high) / 2, (high - low) / math.sqrt(12), along)  # anything between the two


def _radius(wide: list[tuple[float, float]], along: float, beam: Beam) -> tuple[float, float]:
    """The beam's radius there, mm, and its relative doubt: from two doses at this very place, else a usual beam's."""
    (low, narrow), (high, broad) = min(wide), max(wide)
    usual = beam_radius(along, beam.waist, m2=beam.m2)
    if high <= low or broad <= narrow:
        return usual, RADIUS_SHARE
    radius = radius_from_widths(narrow, low, broad, high)
    by_widths = WIDTH_SD * math.hypot(narrow, broad) / (broad**2 - narrow**2)
    return (radius, by_widths) if by_widths < RADIUS_SHARE else (usual, RADIUS_SHARE)


def _over(here: _Needed, first: _Needed, beam: Beam) -> RelativeDose:
    grown = [beam_radius(place.along, beam.waist, m2=beam.m2) for place in (here, first)]
    expected = (grown[0] / grown[1]) ** 2
    if here is first:
        return RelativeDose(1.0, 1.0, 1.0, 1.0)
    log, sd = here.log - first.log, math.hypot(here.sd, first.sd)
    return RelativeDose(math.exp(log), math.exp(log - COVERS * sd), math.exp(log + COVERS * sd), expected)
