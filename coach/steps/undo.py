"""Which entry "undo" takes back, as a person means it."""

from coach.session.events import Event, Gate, Opened, Undo
from coach.session.session import Session
from coach.session.visit_events import Baseline
from coach.steps.gates import FLAME_OUT, TUBE_OFF
from coach.steps.situation import missing_gate
from coach.steps.stages.switches import ISOLATED, KEY_OUT, POWERED
from coach.steps.visit import whereabouts

SWITCHED = (ISOLATED.name, POWERED.name, KEY_OUT.name)
"""What was said of the machine's plug: a slip there is taken back itself, else hands go in with power on."""
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
    """The last thing that happened was about gates, and one is open, or flame, tube or plug were said to be off."""
    if not session.events:
        return False
    last = session.events[-1]
    if isinstance(last, Undo):
        last = next(event for event in session.events if event.id == last.takes_back)
    at_once = (FLAME_OUT.name, TUBE_OFF.name, *(() if _just_opened(session) else SWITCHED))
    if isinstance(last, Gate) and last.name in at_once:
        return True
    return isinstance(last, Gate | Opened) and _gate_open(session)


def _gate_open(session: Session) -> bool:
    """Whether a gate is asked now: in a visit by the part that the person is in, not all of the beam's."""
    if session.is_visit:
        return whereabouts(session).gate is not None
    return missing_gate(session.effective) is not None


def _just_opened(session: Session) -> bool:
    """Whether nothing but confirmations were entered since the program was opened."""
    newest = next((event for event in reversed(session.events) if not isinstance(event, Gate | Undo)), None)
    return isinstance(newest, Opened)
