"""A visit, led from the tests: the step that it is at, its gates, and its beam's path marked until it is done."""

from machines import ExactMachine, make_machine, obey_while_shooting

from coach.practice.demo import demo_machine
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.steps.step import Step


def at(session: Session) -> Step:
    """The step there."""
    return current_step(session, IN_MM)


def through_the_gates(session: Session) -> list[str]:
    """Acknowledge what is asked; which gates it was."""
    asked = []
    while gate := at(session).gate:
        asked.append(gate)
        perform(session, at(session), "acknowledge")
    return asked


def visit(part: str) -> Session:
    """A visit that begins with that part, the rules acknowledged."""
    session = Session.start(demo_machine())
    session.begin(part)
    session.gate("rules")
    return session


def mark_until_done(session: Session) -> None:
    """Marks of a machine that is aligned, until the coach says so."""
    machine = ExactMachine(session.machine, {1: "push", 2: "push"})
    assert obey_while_shooting(session, machine).kind == "done"


def aligned_visit() -> Session:
    """A visit to a machine whose beam's path was marked until the coach said done."""
    session = Session.start(make_machine())
    session.begin("beam path")
    mark_until_done(session)
    session.end("beam path")
    return session
