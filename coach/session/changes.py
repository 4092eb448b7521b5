"""Which entries say that something was done to the machine that an older check does not know of (`triage.stale`)."""

from collections.abc import Iterator, Sequence

from coach.session.events import Disturbed, DisturbedPart, Event, Mended, Shift
from coach.session.head_events import BedMark, HeadPulse
from coach.session.visit_events import Care, Check, Cut, SheetLaid
from coach.triage.causes import CheckName
from coach.triage.stale import Change, reason

_DISTURBED: dict[DisturbedPart, Change] = {
    "machine": "machine bumped",
    "mirror 1": "mirror bumped",
    "mirror 2": "mirror bumped",
    "mirror 3": "mirror bumped",
    "lens": "lens bumped",
    "head": "head bumped",
    "tube": "tube out",
}
_SEEN_TO: dict[CheckName, Change] = {"bed": "bed levelled", "rail": "rail mended", "supply": "supply mended"}
"""Checks whose mending moves something that others were measured by: bad once, and good at a later look."""


def stale_checks(events: Sequence[Event]) -> dict[CheckName, str]:
    """Check that ended well to why it is to be made once more; those that still hold are left out.

    One that was bad is looked at again for that alone, and one that nobody looked at knows of nothing.
    """
    newest = {event.name: place for place, event in enumerate(events) if isinstance(event, Check)}
    good = {name: place for name, place in newest.items() if _ended_well(events[place])}
    found = list(_changes(events))
    whys = {name: reason(name, (what for at, what in found if at > place)) for name, place in good.items()}
    return {name: why for name, why in whys.items() if why}


def rails_mended(events: Sequence[Event]) -> frozenset[int]:
    """Ids of the looks that found a rail good that was bad: gantry and head ride otherwise on it since."""
    return frozenset(events[place].id for place, change in _changes(events) if change == "rail mended")


def _ended_well(event: Event) -> bool:
    return isinstance(event, Check) and event.result == "good"


def _changes(events: Sequence[Event]) -> Iterator[tuple[int, Change]]:
    """Everything that was done to the machine, each with its place among the events."""
    bad: set[CheckName] = set()
    sheet = ""
    for place, event in enumerate(events):
        match event:
            case Check(result="bad"):
                bad.add(event.name)
            case Check(result="good") if event.name in bad:
                bad.remove(event.name)
                if event.name in _SEEN_TO:
                    yield place, _SEEN_TO[event.name]
            case Cut() | SheetLaid():
                if sheet and event.material != sheet:
                    yield place, "another sheet"
                sheet = event.material
            case Disturbed():
                yield place, _DISTURBED[event.part]
            case _:
                yield from ((place, change) for change in _at_the_head(event))


def _at_the_head(event: Event) -> Iterator[Change]:
    """What hands did to gantry, head and lens without anybody calling it bumped."""
    match event:
        case Mended(cause="yaw"):
            yield "gantry squared"
        case Mended(cause="lens") | Care(optic="lens", taken_out=True):
            yield "lens out"
        case HeadPulse(target="bed", lens=False) | BedMark(lens=False):  # it comes out for them, and goes in again
            yield "lens out"
        case Shift(part="head"):
            yield "head moved"
        case Shift(part="lens"):
            yield "lens moved"
