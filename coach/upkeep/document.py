"""A log's TOML document: its shape, its schema number, and what cannot be in it.

    schema = 1
    machine = "Shed laser"
    [[events]]            what was entered, in order

docs/upkeep-format.md describes every key.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from coach import files
from coach.errors import CoachError, Unreadable
from coach.lifting import Migrations, read_lifted
from coach.machine import Name
from coach.session import belongings
from coach.session.events import Undo
from coach.toml_lines import line_of
from coach.toml_text import text_of
from coach.upkeep.entries import Counted, Done, Entry, counting
from coach.upkeep.use import Reading, checked_day, checked_reading, reading_of

SCHEMA = 1

MIGRATIONS: Migrations = {}


class LogDocument(BaseModel):
    """One machine's log as it stands in its file."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    schema_: Annotated[int, Field(alias="schema")] = SCHEMA
    machine: Name
    events: tuple[Entry, ...] = ()


def path_of(folder: Path, machine: str) -> Path:
    """Where that machine's log is, or would be, kept."""
    return belongings.path_of(folder, "upkeep", machine)


def read(path: Path) -> LogDocument:
    """The log in a file, lifted to today's schema.  Raises Unreadable; never changes the file."""
    table = read_lifted(path, "a log of upkeep", SCHEMA, MIGRATIONS)
    document = files.validate(LogDocument, table, path)
    problems = tuple(_problems(document, path))
    if problems:
        raise Unreadable(path, problems[0][1], problems[0][0], problems)
    return document


def _problems(document: LogDocument, path: Path) -> Iterator[tuple[int | None, str]]:
    """Entries that are well formed and yet cannot be: slips of a hand edit, each with its line."""
    ids = [entry.id for entry in document.events]
    if ids != sorted(set(ids)):
        yield None, "the events' ids must count upwards, each used once"
        return
    text = text_of(path)
    for index, reason in _impossible(document.events):
        yield line_of(text, ("events", index)), f"entry {ids[index]}: {reason}"


def _impossible(entries: tuple[Entry, ...]) -> Iterator[tuple[int, str]]:
    counts = {entry.id for entry in counting(entries)}
    known: list[Reading] = []
    for index, entry in enumerate(entries):
        if isinstance(entry, Undo):
            if entry.takes_back not in {other.id for other in entries[:index]}:
                yield index, f"takes back entry {entry.takes_back}, which is not an earlier one"
        elif isinstance(entry, Done | Counted):
            try:
                checked_day(entry.on, _day_after(entry))
                if entry.id in counts and (new := reading_of(entry)) is not None:
                    checked_reading(tuple(sorted(known, key=lambda reading: reading.on)), new)
                    known.append(new)
            except CoachError as error:
                yield index, str(error)


def _day_after(entry: Done | Counted) -> date:
    """The last day that it can have been anywhere on Earth when it was entered: files travel between time zones."""
    return entry.at.date() + timedelta(days=1)


def to_table(document: LogDocument) -> dict[str, Any]:
    """The log as plain values for TOML, without empty and default parts."""
    events = [
        {"id": entry.id, "at": entry.at, "kind": entry.kind}
        | entry.model_dump(exclude_none=True, exclude_defaults=True)
        for entry in document.events
    ]
    return {"schema": SCHEMA, "machine": document.machine, "events": events}
