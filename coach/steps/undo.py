"""Which entry "undo" takes back, as a person means it."""

from coach.session.events import Event, Gate, Opened, Undo
from coach.session.session import Session
from coach.session.visit_events import Baseline
from coach.steps.gates import FLAME_OUT, TUBE_OFF
from coach.steps.situation import missing_gate

UNASKED = (Gate, Opened, Baseline)
"""Entries about no part of the job: confirmed before it goes on, or taken from the data folder."""


def take_back(session: Session) -> Event:
    """Take back the newest entry.  Raises NothingToUndo.

    Safety confirmations are passed over, unless one is in the middle of giving them: after a resume
    "undo" means the mark or the turn before it.
    """
    if not _confirming(session):
        entry = next((event for event in reversed(session.effective) if not isinstance(event, UNASKED)), None)
        if entry is not None:
            return session.undo(entry.id)
    return session.undo()


def _confirming(session: Session) -> bool:
    """The last thing that happened was about gates, and one is open, or a flame, or the tube, was said to be off."""
    if not session.events:
        return False
    last = session.events[-1]
    if isinstance(last, Undo):
        last = next(event for event in session.events if event.id == last.takes_back)
    if isinstance(last, Gate) and last.name in (FLAME_OUT.name, TUBE_OFF.name):
        return True
    return isinstance(last, Gate | Opened) and missing_gate(session.effective) is not None
