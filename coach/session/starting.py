"""A visit to a machine, from its first part or from one alone."""

from coach.machine import Machine
from coach.session.session import Session
from coach.visit import VISIT_PARTS, VisitPart


def started_visit(machine: Machine, part: VisitPart = VISIT_PARTS[0]) -> Session:
    """A new session that begins with that part of the visit."""
    session = Session.start(machine)
    session.begin(part)
    return session
