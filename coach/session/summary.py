"""What a list says of a session, and when it was worked on last."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from coach.session.index import Facet

if TYPE_CHECKING:  # a list from the index needs no model
    from coach.machine import Machine, Side
    from coach.session.bench import Practice
    from coach.session.document import Document
    from coach.session.events import Event

AHEAD = timedelta(minutes=1)
"""So far may two clocks be apart; a time that lies further ahead of this one tells nothing of when it was."""
MOST_TIMES = 8
"""So many setbacks of the clock are told apart in one session."""
NEVER = datetime.min.replace(tzinfo=UTC)
TELLS_NOTHING = frozenset(
    {"opened", "gate", "disturbed", "described", "refused", "mended", "best", "amend", "note"}
    | {"finish", "undo", "baseline"}
)
"""Entries after which a session is where it was before."""


@dataclass(frozen=True)
class Outline:
    """A machine's name and its travel from above, mm: enough to list and to draw it."""

    name: str
    width: float
    depth: float
    side: "Side"
    mirror1_gap: float
    mirror2_gap: float


@dataclass(frozen=True)
class Summary:
    """A session in a list."""

    title: str
    machine: Outline
    """As it was when the session began."""
    created: datetime
    times: tuple[datetime, ...]
    """When its last entry was made (it was opened, or begun, where there is none; else opening it to look counts for
    nothing); then, where a clock was set back before that, earlier entries' times that lie after it."""
    practice: "Practice | None"
    finished: bool
    """Whether the job was closed."""
    visit: bool
    """Whether it has parts."""
    entries: int
    """How many count."""
    marks: int
    """How many of them are marks of the beam's path."""
    typing: tuple[str, ...]
    """The fields that were being typed into when the program was left."""
    stands: dict[str, Any] | None
    """The newest entry that counts and tells where in the job the session is, as plain values."""

    @property
    def last(self) -> datetime:
        """When the last entry was made, by the clock of that moment."""
        return self.times[0]

    @property
    def stood_at(self) -> "tuple[Event, ...]":
        """The newest entry that tells where in the job the session is; empty where it is at its beginning."""
        from coach.session.events import EVENT

        return () if self.stands is None else (EVENT.validate_python(self.stands),)

    def worked_on(self, now: datetime) -> datetime:
        """The latest time in it that does not lie ahead of this clock; `NEVER` where all do."""
        return max((time for time in self.times if time <= now + AHEAD), default=NEVER)


def outline_of(machine: "Machine") -> Outline:
    """What lists need of a machine."""
    bed, path = machine.bed, machine.path
    return Outline(machine.name, bed.width, bed.depth, path.side, path.mirror1_gap, path.mirror2_gap)


def summary_of(document: "Document") -> Summary:
    """A session as lists tell it."""
    return as_summary(_facts(document))


def as_summary(facts: dict[str, Any]) -> Summary:
    """From the plain values that the index keeps."""
    practice = facts["practice"]
    if practice:
        from coach.session.bench import Practice
    return Summary(
        title=facts["title"],
        machine=Outline(*facts["machine"]),
        created=datetime.fromisoformat(facts["created"]),
        times=tuple(map(datetime.fromisoformat, facts["times"])),
        practice=Practice(**practice) if practice else None,
        finished=facts["finished"],
        visit=facts["visit"],
        entries=facts["entries"],
        marks=facts["marks"],
        typing=tuple(facts["typing"]),
        stands=facts["stands"],
    )


def _facts(document: "Document") -> dict[str, Any]:
    from coach.session.events import effective

    events = effective(document.events)
    kinds = [event.kind for event in events]
    outline = outline_of(document.machine)
    stands = next((event for event in reversed(events) if event.kind not in TELLS_NOTHING), None)
    return {
        "title": document.title,
        "machine": list(vars(outline).values()),
        "created": document.created.isoformat(),
        "times": [time.isoformat() for time in _times(document)],
        "practice": document.practice.model_dump() if document.practice else None,
        "finished": "finish" in kinds,
        "visit": any(event.kind == "begin" for event in document.events),
        "entries": len(events),
        "marks": kinds.count("mark"),
        "typing": list(document.draft),
        "stands": stands.model_dump(mode="json", exclude_defaults=True) | {"kind": stands.kind} if stands else None,
    }


def working(events: "Sequence[Event]") -> "Sequence[Event]":
    """Those that say that it was worked on: looking at it is no work, unless nothing else was done to it."""
    return [event for event in events if event.kind != "opened"] or events


def _times(document: "Document") -> list[datetime]:
    """From the end: the last time, then each that lies after all those behind it."""
    found = list(_rising(document))
    return found[:MOST_TIMES]


def _rising(document: "Document") -> Iterator[datetime]:
    latest = NEVER
    for time in [event.at for event in reversed(working(document.events))] or [document.created]:
        if time > latest:
            yield time
            latest = time


SUMMARY = Facet("summary", _facts)
