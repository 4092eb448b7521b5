"""What dose each station needs, and what power gets there, relative to the one nearest the tube.

Only pulses with the same power, the same layers and the same target are compared: their doses are their times.  What
they left is read by `coach.delivered`; what a station needs beyond the beam's growth and the mirrors' edges is
clipping elsewhere, or dirt.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from coach.belief.belief import Belief
from coach.delivered.power import Delivered, Interval, Place, delivered
from coach.machine import Machine
from coach.optics.legs import leg_lengths
from coach.session.events import Event, Mark, Pulse
from coach.session.openings import passed_mirror2
from coach.session.visit_events import Care


@dataclass(frozen=True)
class RelativeDose:
    """The dose that just marks at a station, over that at the station nearest the tube: as a factor."""

    needed: float
    low: float
    high: float
    """19 in 20 lie between these."""
    expected: float
    """What the growth of a usual beam makes by itself."""
    power: Interval
    """The power that gets there, over that at the station nearest the tube: low, value, high, 19 in 20 between."""
    excess: Interval
    """How many times the dose is needed that growth and mirror 2's edge, as believed, explain; 1: no more."""


def relative_doses(belief: Belief, events: Iterable[Event]) -> dict[str, RelativeDose]:
    """Station to its relative dose; without what cannot be said.  Events that count, in order."""
    pulses = [e for e in _since_cleaned(events) if e.target == "head" and not e.wide and e.ms]
    group = _largest_alike(pulses)
    machine, tuning = belief.layout.machine, belief.tuning
    places = {
        name: _place(machine, [p for p in group if p.station == name])
        for name in dict.fromkeys(p.station for p in group)
    }
    found = delivered(places, tuning.beam, tuning.doses)
    if not found:
        return {}
    first = min(found, key=lambda name: places[name].along)
    passes = passed_mirror2(belief, {p.station: p.y for p in group})
    return {name: _dose(each, passes, name, first) for name, each in found.items()}


def _since_cleaned(events: Iterable[Event]) -> list[Mark | Pulse]:
    """The pulses since an optic was cleaned last: what was dirt before is none now."""
    pulses: list[Mark | Pulse] = []
    for event in events:
        if isinstance(event, Care) and event.result != "not opened":
            pulses = []
        elif isinstance(event, Mark | Pulse):
            pulses.append(event)
    return pulses


def _dose(each: Delivered, passes: Mapping[str, float], name: str, first: str) -> RelativeDose:
    """With what the mirrors' edges explain taken off: excess = (1/power) · passes here / passes at the first."""
    low, needed, high = each.needed
    share = passes[name] / passes[first]
    excess = (share / each.power[2], share / each.power[1], share / each.power[0])
    return RelativeDose(needed, low, high, each.grown, each.power, excess)


def _largest_alike(pulses: list[Mark | Pulse]) -> list[Mark | Pulse]:
    """Those of one power and one number of layers, whichever are most; the newest setting where two are as many."""
    settings = [(p.power, p.layers) for p in pulses]
    if not settings:
        return []
    most = max(reversed(settings), key=settings.count)
    return [p for p, setting in zip(pulses, settings, strict=True) if setting == most]


def _place(machine: Machine, here: list[Mark | Pulse]) -> Place:
    """The widths at one station; where there are none, a dose that left nothing and one that marked."""
    along = sum(leg_lengths(machine, here[0].x, here[0].y))
    wide = [(p.ms, p.width) for p in here if isinstance(p, Mark) and p.ms and p.width and p.shape == "round"]
    none = [p.ms for p in here if isinstance(p, Pulse) and p.outcome == "nothing" and p.ms]
    marked = [p.ms for p in here if isinstance(p, Mark) and p.ms]
    return Place(along, tuple(wide), max(none, default=None), min(marked, default=None))
