"""Which entry "undo" takes back, as a person means it."""

from coach.session.events import Event, Gate, Opened, Undo
from coach.session.session import Session
from coach.steps.situation import missing_gate


def take_back(session: Session) -> Event:
    """Take back the newest entry.  Raises NothingToUndo.

    Safety confirmations are passed over, unless one is in the middle of giving them: after a resume
    "undo" means the mark or the turn before it.
    """
    if not _confirming(session):
        entry = next((event for event in reversed(session.effective) if not isinstance(event, Gate | Opened)), None)
        if entry is not None:
            return session.undo(entry.id)
    return session.undo()


def _confirming(session: Session) -> bool:
    """A gate is open, and the last thing that happened was about gates."""
    if not session.events or missing_gate(session.effective) is None:
        return False
    last = session.events[-1]
    if isinstance(last, Undo):
        last = next(event for event in session.events if event.id == last.takes_back)
    return isinstance(last, Gate | Opened)
