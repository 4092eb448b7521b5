"""The events of a session that still count, gone on from: one entry more costs no look at all those before."""

from dataclasses import dataclass

from coach.session.events import Amend, Event, Undo, effective


@dataclass(frozen=True, eq=False)
class Counting:
    """Those of so many events that still count."""

    events: tuple[Event, ...] = ()
    effective: tuple[Event, ...] = ()

    def of(self, events: tuple[Event, ...]) -> "Counting":
        """Those of these; all are looked through only where one rewrites what was, or other ones came before."""
        if events is self.events:
            return self
        known = len(self.events)
        further = events[known:]
        if events[:known] != self.events or any(isinstance(event, Undo | Amend) for event in further):
            return Counting(events, effective(events))
        return Counting(events, self.effective + further)
