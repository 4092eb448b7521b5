"""A ten-minute check-up: begun told what to compare with, a mark at each station, then the cut check."""

from pathlib import Path

from machines import ExactMachine, make_machine, shoot

from coach import Session
from coach.session.document import Document
from coach.session.visit_events import Baseline
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.part_state import next_part
from coach.steps.parts.table import PARTS
from coach.steps.visit import visit_standing
from coach.upkeep.begun import KEPT, check_up

MACHINE = make_machine()


def made(turned: float = 0.0) -> ExactMachine:
    machine = ExactMachine(MACHINE, {1: "push", 2: "push"})
    machine.turn(1, {"B": turned})
    return machine


def aligned(session: Session, machine: ExactMachine) -> Session:
    """Marks as they are asked for, until something else is advised."""
    for _ in range(20):
        advice = session.advice()
        if advice.kind != "shoot":
            return session
        shoot(session, machine, advice)
    raise AssertionError("still shooting")


def finished() -> Document:
    """The visit before: marked, nothing turned, closed."""
    session = aligned(Session.start(MACHINE), made())
    session.finish()
    return session._doc


def test_it_is_a_visit_at_the_beams_path_and_the_cut_check_comes_next() -> None:
    """Gates and pulses as ever; the other parts are left out with a reason, none of them is proposed."""
    session = check_up(MACHINE, [finished()])
    assert session.title == "Check-up"
    assert visit_standing(session).now == "Beam path"
    left_out = {event.part for event in session.effective if event.kind == "skip"}
    assert left_out == {part.name for part in PARTS} - set(KEPT)
    aligned(session, made())
    session.end("beam path")
    assert next_part(PARTS, session) in ("cut check", "close up")


def test_the_visit_says_as_it_was(tmp_path: Path) -> None:
    """Once every station is marked, at the step that comes then; the same after a resume."""
    path = tmp_path / "s.toml"
    session = check_up(MACHINE, [finished()])
    session.keep_in(path)
    told = []
    for _ in range(20):
        advice = session.advice()
        told.append(current_step(gated(session), IN_MM).news)
        if advice.kind != "shoot":
            break
        shoot(session, made(), advice)
    assert advice.kind == "done"
    assert not any(told[:-1])
    assert told[-1][0].startswith("The beam is as it was on ")
    assert current_step(gated(Session.resume(path)), IN_MM).news == told[-1]


def gated(session: Session) -> Session:
    """The session with every gate that is asked acknowledged."""
    for _ in range(12):
        step = current_step(session, IN_MM)
        if not step.gate:
            return session
        session.gate(step.gate)
    raise AssertionError(step.key)


def test_the_visit_says_where_it_moved() -> None:
    """A third of a turn at mirror 1: said as soon as it is more than chance, with the offset that it made."""
    session = check_up(MACHINE, [finished()])
    aligned(session, made(0.3))
    (said,) = current_step(gated(session), IN_MM).news
    assert said.startswith("The beam moved since ")
    seen = next(event for event in session.effective if isinstance(event, Baseline)).marks
    newest = {event.station: event for event in session.effective if event.kind == "mark"}
    far = max(seen, key=lambda mark: abs(newest[mark.station].u - mark.u) if mark.station in newest else 0.0)
    assert f"{far.station} {abs(newest[far.station].u - far.u):.1f} mm" in said


def test_without_an_earlier_visit_nothing_is_compared() -> None:
    """The first check-up of a machine says nothing of what was."""
    session = check_up(MACHINE, [])
    aligned(session, made())
    assert current_step(gated(session), IN_MM).news == ()
