"""`check`: whether a machine or session file can be used, and everything that is wrong with it.

With --json, one object: `file`, `valid`, `what` ("machine" or "session"), `name` (null when not valid) and
`problems`, each {line, reason}, `line` null where it cannot be told.
"""

from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path

from coach import files
from coach.belief.belief import Belief
from coach.cli.out import complain, say, say_json
from coach.cli.where import store_of
from coach.errors import CoachError, Unreadable
from coach.machine import Machine
from coach.session.document import Document, read
from coach.session.events import Amend, Event, Mark, Undo, effective
from coach.session.replay import after
from coach.session.store import Store, slug
from coach.toml_lines import line_of

INVALID = 2

Problem = tuple[int | None, str]


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
        doc = read(path)
    except Unreadable as error:
        return what, None, list(error.problems)
    problems = list(_contradictions(doc, path))
    return what, None if problems else doc.title, problems


def _file(store: Store, given: str) -> Path:
    """A path, or a stored file by its name, sessions first; what is not there is left to the reading."""
    if Path(given).exists():
        return Path(given)
    for path in (store.sessions_folder / f"{given}.toml", store.machines_folder / f"{slug(given)}.toml"):
        if path.is_file():
            return path
    return Path(given)


def _contradictions(doc: Document, path: Path) -> Iterator[Problem]:
    """Entries that are well formed but cannot have happened on this machine."""
    text = path.read_text(encoding="utf-8")
    place = {event.id: line_of(text, ("events", index)) for index, event in enumerate(doc.events)}
    belief = Belief.initial(doc.machine, doc.created.date())
    for event in effective(doc.events):
        try:
            belief = after(belief, event)
        except CoachError as error:
            yield place[event.id], f"entry {event.id}: {error}"
    for event in doc.events:
        reason = _points_nowhere(event, doc)
        if reason:
            yield place[event.id], f"entry {event.id}: {reason}"


def _points_nowhere(event: Event, doc: Document) -> str:
    """Why an entry about another entry means nothing, or "" where it does."""
    earlier = [other for other in doc.events if other.id < event.id]
    if isinstance(event, Undo) and event.takes_back not in {other.id for other in earlier}:
        return f"takes back entry {event.takes_back}, which is not an earlier one"
    if isinstance(event, Amend) and event.of not in {other.id for other in earlier if isinstance(other, Mark)}:
        return f"corrects entry {event.of}, which is not an earlier mark"
    return ""
