"""Entries of a file that are well formed but cannot have happened on its machine: a slip of a hand edit."""

from collections.abc import Iterator
from pathlib import Path

from coach import files
from coach.errors import CoachError
from coach.session.described import Described, with_head
from coach.session.document import Document
from coach.session.events import Amend, Arrive, Event, Mark, Miss, Pulse, Undo, effective
from coach.session.possible import check_possible, check_screws
from coach.toml_lines import lines_of
from coach.toml_text import text_of

Problem = tuple[int | None, str]
"""The line of the file, where it can be told, and what is wrong there."""


def contradictions(doc: Document, path: Path) -> Iterator[Problem]:
    """Every entry of the document, as read from `path`, that cannot be; nothing when all can."""
    outside = ((event, reason) for event in doc.events if (reason := _outside(event, doc)))
    found = [*_impossible(doc), *_pointing_nowhere(doc), *outside]
    if not found:
        return
    index = {event.id: index for index, event in enumerate(doc.events)}
    told = found[: files.MOST_TOLD]
    lines = lines_of(text_of(path), [("events", index[event.id]) for event, _ in told])
    for line, (event, reason) in zip(lines, told, strict=True):
        yield line, f"entry {event.id}: {reason}"
    if len(found) > len(told):
        yield None, f"and {len(found) - len(told)} more"


def _impossible(doc: Document) -> Iterator[tuple[Event, str]]:
    """What the machine does not have or allow: another screw, a turn too far, a shift that cannot help."""
    machine, so_far = doc.machine, list[Event]()
    for event in effective(doc.events):
        so_far.append(event)
        try:
            check_possible(machine, event)
            if isinstance(event, Described):
                machine = with_head(machine, event)
                check_screws(doc.machine, so_far)
        except CoachError as error:
            yield event, str(error)


def _outside(event: Event, doc: Document) -> str:
    """Why the head cannot have stood there, or "" where it can."""
    bed = doc.machine.bed
    if not isinstance(event, Arrive | Pulse | Mark | Miss) or (
        0 <= event.x <= bed.width and 0 <= event.y <= bed.depth
    ):
        return ""
    return f"({event.x:g}, {event.y:g}) lies outside the travel of {bed.width:g} × {bed.depth:g} mm"


def _pointing_nowhere(doc: Document) -> Iterator[tuple[Event, str]]:
    """Entries about another entry that is not an earlier one; ids rise (`document.read`)."""
    earlier, marks = set[int](), set[int]()
    for event in doc.events:
        if isinstance(event, Undo) and event.takes_back not in earlier:
            yield event, f"takes back entry {event.takes_back}, which is not an earlier one"
        if isinstance(event, Amend) and event.of not in marks:
            yield event, f"corrects entry {event.of}, which is not an earlier mark"
        earlier.add(event.id)
        if isinstance(event, Mark):
            marks.add(event.id)
