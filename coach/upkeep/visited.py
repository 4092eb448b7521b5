"""What visits did of a machine's upkeep, read from its sessions.

A visit's deeds stand in its session alone: there they are entered, corrected and taken back.  The log copies none of
them, so neither can say what the other does not.  Practice is no visit.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from coach.cutting.limits import FEWEST
from coach.session.cut_checks import cut_runs
from coach.session.document import Document
from coach.session.events import Event, Gate, Lock, effective
from coach.session.found_and_left import marks_last
from coach.session.index import Facet, Facts
from coach.session.part_events import Item
from coach.session.summary import SUMMARY, as_summary
from coach.session.visit_events import Care, Check
from coach.triage.cleaned import MIRRORS
from coach.upkeep.items import ItemName


@dataclass(frozen=True)
class Visited:
    """An item that a visit did."""

    item: ItemName
    on: date
    session: str
    """The session's title."""


def visited(sessions: Iterable[Document], machine: str) -> tuple[Visited, ...]:
    """What the sessions on that machine did of its upkeep."""
    return visited_by(
        [{SUMMARY.name: SUMMARY.of(each), VISITED.name: VISITED.of(each)} for each in sessions], machine
    )


def visited_by(sessions: Iterable[Facts], machine: str) -> tuple[Visited, ...]:
    """The same of what sessions answered when they were asked for `SUMMARY` and `VISITED`."""
    return tuple(
        Visited(item, datetime.fromisoformat(at).astimezone().date(), session.title)
        for facts in sessions
        if facts[VISITED.name] and (session := as_summary(facts[SUMMARY.name])).practice is None
        and session.machine.name == machine
        for item, at in facts[VISITED.name]
    )  # fmt: skip


def _in_session(session: Document) -> list[tuple[ItemName, str]]:
    """Each item that the session did, and when."""
    events = effective(session.events)
    found = ((item, when(session, events)) for item, when in _FOUND.items())
    return [(item, at.isoformat()) for item, at in found if at is not None]


VISITED = Facet("upkeep", _in_session)
"""What a session did of its machine's upkeep."""
Events = tuple[Event, ...]


def _looked_at_lens(_: Document, events: Events) -> datetime | None:
    """A check of the lens, or the lens cleaned or at least opened."""
    return _last(
        event
        for event in events
        if (isinstance(event, Check) and event.name == "lens" and event.result != "not checked")
        or (isinstance(event, Care) and event.optic == "lens" and event.result != "not opened")
        or _is_cleaning(event)
    )


def _cleaned(_: Document, events: Events) -> datetime | None:
    """All three mirrors and the lens, each opened; or the gate that says so for all of them."""
    opened = {event.optic: event.at for event in events if isinstance(event, Care) and event.result != "not opened"}
    whole = [opened.get(optic) for optic in (*MIRRORS, "lens")]
    times = [at for at in whole if at is not None]
    by_gate = _last(event for event in events if _is_cleaning(event))
    if len(times) == len(whole):
        return max(times) if by_gate is None else max(*times, by_gate)
    return by_gate


def _is_cleaning(event: Event) -> bool:
    return isinstance(event, Gate) and event.name == "clean"


def _nuts(_: Document, events: Events) -> datetime | None:
    """Tried at closing up, where it was not said that there was nothing to try; or tightened at both mirrors."""
    tightened = {event.mirror: event.at for event in events if isinstance(event, Lock)}
    done = [event for event in events if isinstance(event, Item) and event.name == "locks" and event.done]
    tried = _last(event for event in done if not event.why)
    both = max(tightened[1], tightened[2]) if {1, 2} <= set(tightened) else None
    return max((at for at in (tried, both) if at is not None), default=None)


def _check_up(session: Document, events: Events) -> datetime | None:
    """A mark at every station as the beam lies at the end, and a cut check of enough stations."""
    marked = {mark.station: mark.at for mark in marks_last(events)}
    cuts = [run for run in cut_runs(events) if len(run.limits) >= FEWEST]
    if not cuts or not {station.name for station in session.machine.stations} <= set(marked):
        return None
    cut = next(event.at for event in events if event.id == cuts[-1].last)
    return max(cut, *marked.values())


def _last(events: Iterable[Any]) -> datetime | None:
    return max((event.at for event in events), default=None)


_FOUND: dict[ItemName, Callable[[Document, Events], datetime | None]] = {
    "lens": _looked_at_lens,
    "optics": _cleaned,
    "lock nuts": _nuts,
    "check-up": _check_up,
}
"""What a visit can do of it, and how that is seen in its events.  The others are done at the machine alone."""
