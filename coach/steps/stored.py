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
    from coach.session.found import Found
    from coach.session.index import Facet, Facts, Told
    from coach.session.summary import Summary

MOST_FINISHED = 5
"""So many finished sessions are listed."""


@dataclass(frozen=True)
class Stored:
    """A data folder's content, the session that was worked on last first."""

    unfinished: tuple["Found[Summary]", ...]
    machines: tuple["Found[Machine]", ...]
    finished: tuple["Found[Summary]", ...]
    problems: tuple[str, ...]
    """One sentence for every file that could not be read; it was left as it is."""
    last: Mapping[str, "Found[Summary]"]
    """Each machine's newest finished session, by the machine's name; practice is no session of a machine."""
    sessions: tuple["Found[Summary]", ...] = ()
    """Every session that could be read."""
    facts: tuple["Facts", ...] = ()
    """What each of these answered, in no order."""
    index: str = ""
    """How the index of sessions was found."""
    read: int = 0
    """So many sessions' files had to be read."""


def stored(folder: Path, also: "Sequence[Facet]" = (), *, told: "Told | None" = None) -> Stored:
    """Everything in the data folder; never raises for a broken file.  Raises OSError for a broken folder.

    `also`: what every session is asked besides; `told`: as in `survey`.
    """
    from coach.session.index import survey
    from coach.session.store import Store, summaries
    from coach.session.summary import SUMMARY

    asked = survey(folder, (SUMMARY, *also), told=told)
    found = asked.found
    sessions, machines = summaries(found), Store(folder).machines()
    problems = [session.problem for session in sessions if session.content is None]
    problems += [machine.problem for machine in machines if machine.content is None]
    return Stored(
        tuple(each for each in sessions if each.content and not each.content.finished),
        tuple(each for each in machines if each.content),
        tuple(each for each in sessions if each.content and each.content.finished)[:MOST_FINISHED],
        tuple(problems),
        _last_of_each(sessions),
        tuple(each for each in sessions if each.content),
        tuple(each.content for each in found if each.content),
        asked.index,
        asked.read,
    )


def _last_of_each(sessions: "Sequence[Found[Summary]]") -> "Mapping[str, Found[Summary]]":
    last: dict[str, Found[Summary]] = {}
    for found in sessions:
        session = found.content
        if session and session.practice is None and session.finished:
            last.setdefault(session.machine.name, found)
    return last


def is_finished(document: "Document") -> bool:
    """Whether the job of that session was closed."""
    from coach.session.summary import summary_of

    return summary_of(document).finished


def same_practice(folder: Path, practice: "Practice") -> "Found[Summary] | None":
    """The newest unfinished practice session of that kind and seed."""
    unfinished = stored(folder).unfinished
    return next((found for found in unfinished if found.content and found.content.practice == practice), None)


def session_words(found: "Found[Summary]", now: datetime | None = None) -> str:
    """A session in a few words, so that two of them can be told apart: what, where in the job, and when."""
    from coach.steps.entries import doing_words, when_words

    assert found.content is not None
    session = found.content
    what = practice_words(session) or session.title
    doing = "" if session.finished else f": {doing_words(session.stood_at)}"
    return f"{what}{doing}, {when_words(session.last, now or datetime.now().astimezone())}"


def practice_words(session: "Summary") -> str:
    """A practice session's name, "" of another: without its trouble, which is to be found; the file has it."""
    if session.practice is None:
        return ""
    return f"practice{' of a visit' if session.visit else ''}, seed {session.practice.seed}"
