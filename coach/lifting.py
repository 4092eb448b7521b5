"""Files of events and of what is kept: each says in which shape it was written, and is lifted to today's."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from coach.errors import Unreadable
from coach.toml_text import read_toml

Table = dict[str, Any]
Migrations = Mapping[int, Callable[[Table], Table]]
"""From a schema number to the pure function that lifts a table of that schema to the next."""


def read_lifted(path: Path, what: str, schema: int, migrations: Migrations) -> Table:
    """The file's table as one of today's `schema`; `what` it should be: "a session file".

    Raises Unreadable, also for a shape that is newer, or too old; never changes the file.
    """
    table = read_toml(path)
    written = table.get("schema")
    if not isinstance(written, int):
        raise Unreadable(path, f"this is not {what}: the key 'schema' with a whole number is missing", 1)
    if written > schema:
        raise Unreadable(
            path, f"written by a newer coach (schema {written}, this one knows {schema}); update the coach"
        )
    while written < schema:
        if written not in migrations:
            oldest = min(migrations, default=schema)
            raise Unreadable(path, f"schema {written} is not known; the oldest known is {oldest}", 1)
        table = migrations[written](table)
        written += 1
    return table
