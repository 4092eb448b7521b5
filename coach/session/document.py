"""A session's TOML document: its shape, its schema number, and pure migrations from older shapes.

    schema = 3
    title = "Shed laser"
    created = 2026-03-01T18:02:11+01:00
    [practice]            only for the practice bench
    [draft]               what was being typed when the program last saved
    [machine]             the profile as it was
    [[events]]            what happened, in order

docs/session-format.md describes every key.
"""

from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from coach import files
from coach.errors import Unreadable
from coach.lifting import Migrations, read_lifted
from coach.machine import Machine, Name
from coach.session.bench import Practice as Practice
from coach.session.events import Event
from coach.session.moments import Moment

SCHEMA = 3


def _without_reasons(table: dict[str, Any]) -> dict[str, Any]:
    """1 → 2: a plan no longer keeps its reason as a sentence; it follows from the events before it."""
    events = table.get("events")
    if not isinstance(events, list):
        return table
    told = [
        {k: v for k, v in event.items() if k != "why"}
        if isinstance(event, dict) and event.get("kind") == "plan"
        else event
        for event in events
    ]
    return {**table, "events": told}


def _as_it_is(table: dict[str, Any]) -> dict[str, Any]:
    """2 → 3: new kinds of entries; the old ones are as they were."""
    return table


MIGRATIONS: Migrations = {1: _without_reasons, 2: _as_it_is}


class Document(BaseModel):
    """One session as it stands in its file."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    schema_: Annotated[int, Field(alias="schema")] = SCHEMA
    title: Name
    created: Moment
    practice: Practice | None = None
    draft: dict[str, str] = {}
    machine: Machine
    events: tuple[Event, ...] = ()


def read(path: Path) -> Document:
    """The document in a file, lifted to today's schema.  Raises Unreadable; never changes the file."""
    table = read_lifted(path, "a session file", SCHEMA, MIGRATIONS)
    document = files.validate(Document, table, path)
    _check_order(document, path)
    return document


def _check_order(document: Document, path: Path) -> None:
    ids = [event.id for event in document.events]
    if ids != sorted(set(ids)):
        raise Unreadable(path, "the events' ids must count upwards, each used once")


def to_table(document: Document) -> dict[str, Any]:
    """The document as plain values for TOML, without empty and default parts."""
    table: dict[str, Any] = {
        "schema": SCHEMA,
        "title": document.title,
        "created": document.created,
    }
    if document.practice is not None:
        table["practice"] = document.practice.model_dump()
    if document.draft:
        table["draft"] = dict(document.draft)
    table["machine"] = document.machine.to_table()
    table["events"] = [_event_table(event) for event in document.events]
    return table


def _event_table(event: Event) -> dict[str, Any]:
    full = event.model_dump(exclude_none=True)
    plain = event.model_dump(exclude_none=True, exclude_defaults=True)
    return {"id": event.id, "at": event.at, "kind": event.kind} | {
        key: value for key, value in full.items() if key in plain or key in ("station", "target")
    }
