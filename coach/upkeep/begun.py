"""A ten-minute check-up as it begins: a visit of a mark at each station and a cut check."""

from collections.abc import Iterable

from coach.machine import Machine
from coach.session.document import Document
from coach.session.session import Session
from coach.steps.check_up import WHY
from coach.steps.moved import left_by_last_visit
from coach.steps.parts.table import PARTS
from coach.visit import VisitPart

TITLE = "Check-up"
FIRST: VisitPart = "beam path"
"""Its marks say whether the beam moved; nothing is turned unless the person goes on to that."""
KEPT: tuple[VisitPart, ...] = (FIRST, "cut check", "close up")


def check_up(machine: Machine, sessions: Iterable[Document], title: str = "") -> Session:
    """A visit to that machine, in memory until it is kept: at the beam's path, other parts left out with a reason.

    `sessions`: its marks are compared with those of the last finished one among them on this machine.
    """
    session = Session.start(machine, title=title or TITLE)
    marks = left_by_last_visit(sessions, machine.name)
    if marks:
        session.last_marks(marks)
    for part in PARTS:
        if part.name not in KEPT:
            session.skip(part.name, WHY)
    session.begin(FIRST)
    return session
