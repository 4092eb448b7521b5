"""What all of a report asks of a session: whether it was closed, and how lists are said."""

from collections.abc import Sequence
from datetime import datetime

from coach.session.events import Finish
from coach.session.session import Session


def finished(session: Session) -> bool:
    """Whether the person closed the job."""
    return any(isinstance(event, Finish) for event in session.effective)


def time_words(when: datetime) -> str:
    """Day and time of an entry, on the clock here."""
    return f"{when.astimezone():%Y-%m-%d %H:%M}"


def clock_words(session: Session, when: datetime) -> str:
    """When an entry was made: the time of day alone on the day on which the session began."""
    same = when.astimezone().date() == session.created.astimezone().date()
    return f"{when.astimezone():%H:%M}" if same else time_words(when)


def listed(things: Sequence[object]) -> str:
    """ "1, 2 and 3"; "" for none."""
    if not things:
        return ""
    *first, last = [str(thing) for thing in things]
    return f"{', '.join(first)} and {last}" if first else last


def capital(words: str) -> str:
    """The same, beginning with a capital."""
    return f"{words[:1].upper()}{words[1:]}"
