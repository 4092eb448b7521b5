"""A practice session as it begins: of the beam's path alone, or of a whole visit."""

from coach.practice.demo import demo_machine, visit_machine
from coach.practice.visit_bench import OLD_SHEET, USUAL_CURRENT, VisitBench
from coach.practice.visit_kinds import VISIT_KINDS, checked_kind
from coach.session.document import Practice
from coach.session.session import Session
from coach.session.visit_events import KeptCuts, KeptLimit
from coach.steps.parts.table import PARTS


def begun(practice: Practice) -> Session:
    """A session on the demo machine with that practice bench; a visit begins with its first part.

    The visit's machine brings along what it once cut, and its tube's current.  Raises UnknownName.
    """
    if checked_kind(practice.kind) not in VISIT_KINDS:
        return Session.start(demo_machine(), practice=practice)
    session = Session.start(visit_machine(), practice=practice)
    once = VisitBench(session.machine, practice.seed, practice.kind).once()
    session.baseline(
        KeptCuts(
            material=OLD_SHEET,
            on=session.created.date(),
            stations=tuple(KeptLimit(name=name, fastest=low, next=high) for name, (low, high) in once.items()),
        )
    )
    session.usual_current(USUAL_CURRENT)
    session.begin(PARTS[0].name)
    return session


def practicable(session: Session) -> Session:
    """The session, where its practice bench is one that there is, or where it has none.  Raises UnknownName."""
    if session.practice is not None:
        checked_kind(session.practice.kind)
    return session
