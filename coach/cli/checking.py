"""`check`: whether a machine's, a session's or an upkeep's file can be used, and everything that is wrong with it.

With --json, one object: `file`, `valid`, `what` ("machine", "session" or "upkeep"), `name` (null when not valid) and
`problems`, each {line, reason}, `line` null where it cannot be told.
"""

import contextlib
from argparse import Namespace
from pathlib import Path

from coach import files
from coach.cli.folder import store_of
from coach.cli.out import complain, say, say_json
from coach.errors import InputError, UnknownName, Unreadable
from coach.machine import Machine
from coach.session.contradictions import Problem, contradictions
from coach.session.document import read
from coach.session.store import Store
from coach.upkeep.document import read as read_log

INVALID = 2


def check(arguments: Namespace) -> int:
    """Check one file; changes nothing.  Returns 2 when it cannot be used."""
    path = _file(store_of(arguments), arguments.file)
    what, name, problems = checked(path)
    if arguments.json:
        found = [{"line": line, "reason": reason} for line, reason in problems]
        say_json({"file": str(path), "valid": not problems, "what": what, "name": name, "problems": found})
    elif problems:
        for line, reason in problems:
            complain(f"{path}{f', line {line}' if line else ''}: {reason}")
    else:
        say(f"{path}: a valid {what} file ({name})")
    return INVALID if problems else 0


def checked(path: Path) -> tuple[str | None, str | None, list[Problem]]:
    """What the file is, what it is called, and all its problems with their lines."""
    what = None
    try:
        table = files.read_toml(path)
        what = "session" if {"schema", "events", "machine"} & set(table) else "machine"
        if what == "machine":
            return what, Machine.load(path).name, []
        if isinstance(table.get("machine"), str) and "events" in table:
            what = "upkeep"
            return what, read_log(path).machine, []
        doc = read(path)
    except Unreadable as error:
        return what, None, list(error.problems)
    problems = list(contradictions(doc, path))
    return what, None if problems else doc.title, problems


def _file(store: Store, given: str) -> Path:
    """A path, or a stored session or machine by its name; what is not there is left to the reading.

    Raises InputError for what names no file.
    """
    if not given.strip() or Path(given).is_dir():
        raise InputError(
            f"{given} is a folder" if given.strip() else "No file is named",
            expected="the path of one file, or the name of a stored machine or session",
            example="coach check last",
        )
    if Path(given).exists():
        return Path(given)
    with contextlib.suppress(UnknownName):
        return store.find_session(given)
    machine = store.machine_path(given)
    return machine if machine.is_file() else Path(given)
