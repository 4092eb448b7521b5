"""Into which session a sheet is typed: one that is open, where it goes on as it was left, or one of its own."""

from dataclasses import dataclass
from pathlib import Path

from coach.machine import Machine
from coach.session.session import Session
from coach.steps.stored import session_words, stored
from coach.worksheet.made import checked_made
from coach.worksheet.typed_in import DAY, TypedIn, begun_for

OWN = "Into a session of its own"


@dataclass(frozen=True)
class Into:
    """An unfinished session on that machine."""

    path: Path
    label: str


def sessions_for(folder: Path, machine: str) -> tuple[Into, ...]:
    """The unfinished sessions on the machine of that name, those with a half-typed sheet first."""
    found = []
    for each in stored(folder).unfinished:
        session = each.content
        if session and session.practice is None and session.machine.name == machine:
            half = DAY in session.typing
            words = session_words(each)
            found.append((not half, Into(each.path, f"{'Go on with the sheet in' if half else 'Into'} {words}")))
    return tuple(into for _, into in sorted(found, key=lambda pair: pair[0]))


def half_typed(path: Path) -> TypedIn | None:
    """The sheet that is being typed into that session, as it was left; None where none is.  Raises Unreadable."""
    return TypedIn.resumed(Session.resume(path))


def begun_in(path: Path, day: str) -> TypedIn:
    """A sheet into that session, made on the day that was typed.  Raises CoachError."""
    session = Session.resume(path)
    return TypedIn.begin(session, checked_made(day, session))


def begun_alone(machine: Machine, folder: Path, day: str) -> TypedIn:
    """A sheet into a new session of that day, kept in that data folder.  Raises CoachError."""
    made = checked_made(day, None)
    session = begun_for(machine, made)
    session.keep_new(folder)
    return TypedIn.begin(session, made)
