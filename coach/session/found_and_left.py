"""The marks by which a visit found the beam, and those by which it left it; nothing is reckoned for them."""

from collections.abc import Iterable, Sequence

from coach.session.changes import rails_mended
from coach.session.events import Best, Disturbed, Event, Lock, Mark, Mended, Shift, Turn
from coach.session.visit_events import Care


def moving(events: Sequence[Event]) -> frozenset[int]:
    """Ids of the entries of which a mark made before says nothing of how the beam lies after."""
    return rails_mended(events) | {event.id for event in events if _is_moving(event)}


def _is_moving(event: Event) -> bool:
    return isinstance(event, Turn | Shift | Lock | Disturbed | Mended | Best) or (
        isinstance(event, Care) and event.taken_out
    )


def marks_first(events: Sequence[Event]) -> tuple[Mark, ...]:
    """The marks at the head before anything was adjusted: how the machine was found."""
    moved = moving(events)
    end = next((index for index, event in enumerate(events) if event.id in moved), len(events))
    return _at_head(events[:end])


def marks_last(events: Sequence[Event]) -> tuple[Mark, ...]:
    """The marks at the head since the last adjustment: how the machine was left."""
    moved = moving(events)
    begin = max((index for index, event in enumerate(events) if event.id in moved), default=-1)
    return _at_head(events[begin + 1 :])


def _at_head(events: Iterable[Event]) -> tuple[Mark, ...]:
    return tuple(event for event in events if isinstance(event, Mark) and event.target == "head")
