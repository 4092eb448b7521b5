"""What the data folder holds to choose from: unfinished sessions first, machines, finished sessions, broken files.

Everything large is imported when it is asked for: a front end can stand before the sessions are read.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coach.machine import Machine
    from coach.session.document import Document, Practice
    from coach.session.store import Found

MOST_FINISHED = 5
"""So many finished sessions are listed."""


@dataclass(frozen=True)
class Stored:
    """A data folder's content, sessions newest first."""

    unfinished: tuple["Found[Document]", ...]
    machines: tuple["Found[Machine]", ...]
    finished: tuple["Found[Document]", ...]
    problems: tuple[str, ...]
    """One sentence for every file that could not be read; it was left as it is."""
    last: Mapping[str, "Found[Document]"]
    """Each machine's newest finished session, by the machine's name; practice is no session of a machine."""
    sessions: tuple["Found[Document]", ...] = ()
    """Every session that could be read."""


def stored(folder: Path) -> Stored:
    """Everything in the data folder; never raises for a broken file.  Raises OSError for a broken folder."""
    from coach.session.store import Store

    store = Store(folder)
    sessions, machines = store.sessions(), store.machines()
    problems = [session.problem for session in sessions if session.content is None]
    problems += [machine.problem for machine in machines if machine.content is None]
    return Stored(
        tuple(found for found in sessions if found.content and not is_finished(found.content)),
        tuple(found for found in machines if found.content),
        tuple(found for found in sessions if found.content and is_finished(found.content))[:MOST_FINISHED],
        tuple(problems),
        _last_of_each(sessions),
        tuple(found for found in sessions if found.content),
    )


def _last_of_each(sessions: "Sequence[Found[Document]]") -> "Mapping[str, Found[Document]]":
    last: dict[str, Found[Document]] = {}
    for found in sessions:
        document = found.content
        if document and document.practice is None and is_finished(document):
            last.setdefault(document.machine.name, found)
    return last


def is_finished(document: "Document") -> bool:
    """Whether the job of that session was closed."""
    from coach.session.events import Finish, effective

    return any(isinstance(event, Finish) for event in effective(document.events))


def same_practice(folder: Path, practice: "Practice") -> "Found[Document] | None":
    """The newest unfinished practice session of that kind and seed."""
    unfinished = stored(folder).unfinished
    return next((found for found in unfinished if found.content and found.content.practice == practice), None)


def session_words(found: "Found[Document]", now: datetime | None = None) -> str:
    """A session in a few words, so that two of them can be told apart: what, where in the job, and when."""
    from coach.session.events import effective
    from coach.steps.entries import doing_words, when_words

    assert found.content is not None
    document = found.content
    last = document.events[-1].at if document.events else document.created
    what = practice_words(document) or document.title
    doing = "" if is_finished(document) else f": {doing_words(effective(document.events))}"
    return f"{what}{doing}, {when_words(last, now or datetime.now().astimezone())}"


def practice_words(document: "Document") -> str:
    """A practice session's name, "" of another: without its trouble, which is to be found; the file has it."""
    if document.practice is None:
        return ""
    visit = any(event.kind == "begin" for event in document.events)
    return f"practice{' of a visit' if visit else ''}, seed {document.practice.seed}"
