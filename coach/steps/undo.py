"""Which entry "undo" takes back, as a person means it."""

from coach.session.events import Event, Gate, Opened
from coach.session.session import Session
from coach.steps.situation import missing_gate


def take_back(session: Session) -> Event:
    """Take back the newest entry.  Raises NothingToUndo.

    Safety confirmations are passed over, unless one is in the middle of giving them: after a resume
    "undo" means the mark or the turn before it.
    """
    events = session.effective
    if missing_gate(events) is None:
        entry = next((event for event in reversed(events) if not isinstance(event, Gate | Opened)), None)
        if entry is not None:
            return session.undo(entry.id)
    return session.undo()
