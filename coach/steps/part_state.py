"""What became of the parts of a visit: by what was said of them, and by what is left to do there."""

from collections.abc import Iterable

from coach.session.session import Session
from coach.steps.part import PartKind
from coach.steps.visit_progress import State, state_of
from coach.visit import VisitPart


def became(part: PartKind, session: Session) -> State:
    """What became of a part; one with nothing left to do in it is done, whether that was said or not."""
    state = state_of(part.name, session.effective)
    if state in ("done", "left out") and part.counts_no_more(session):
        return "to come"
    at_its_end = state in ("now", "left open") and part.where(session) is None
    return "done" if at_its_end else state


def next_part(parts: Iterable[PartKind], session: Session) -> VisitPart | None:
    """The first part that is neither done nor left out."""
    return next((part.name for part in parts if became(part, session) not in ("done", "left out")), None)
