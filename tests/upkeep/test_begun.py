"""A ten-minute check-up: begun told what to compare with, a mark at each station, then the cut check."""

from pathlib import Path

from machines import ExactMachine, make_machine, shoot

from coach import Session
from coach.advice.shots import Spot, candidates
from coach.session.document import Document
from coach.session.visit_events import Baseline
from coach.shown import IN_MM
from coach.steps.check_up import next_mark
from coach.steps.current import current_step
from coach.steps.part_state import next_part
from coach.steps.parts.table import PARTS
from coach.steps.perform import perform
from coach.steps.visit import visit_standing
from coach.upkeep.begun import KEPT, check_up

MACHINE = make_machine()


def made(turned: float = 0.0) -> ExactMachine:
    machine = ExactMachine(MACHINE, {1: "push", 2: "push"})
    machine.turn(1, {"B": turned})
    return machine


def marked(session: Session, machine: ExactMachine) -> Session:
    """Marks as the check-up asks for them, until it asks for none."""
    for _ in range(20):
        advice = next_mark(session)
        if advice is None:
            return session
        shoot(session, machine, advice)
    raise AssertionError("still shooting")


def finished() -> Document:
    """The visit before: marked, nothing turned, closed."""
    session = Session.start(MACHINE)
    for station in MACHINE.stations:
        u, v = made().mark(station.x, station.y)
        session.mark(station.name, u=u, v=v)
    session.finish()
    return session._doc


def test_it_is_a_visit_at_the_beams_path_and_the_cut_check_comes_next() -> None:
    """Gates and pulses as ever; the other parts are left out with a reason, none of them is proposed."""
    session = check_up(MACHINE, [finished()])
    assert session.title == "Check-up"
    assert visit_standing(session).now == "Beam path"
    left_out = {event.part for event in session.effective if event.kind == "skip"}
    assert left_out == {part.name for part in PARTS} - set(KEPT)
    marked(session, made())
    session.end("beam path")
    assert next_part(PARTS, session) in ("cut check", "close up")


def test_the_visit_says_as_it_was(tmp_path: Path) -> None:
    """Once every station is marked, at the step that comes then; the same after a resume."""
    path = tmp_path / "s.toml"
    session = check_up(MACHINE, [finished()])
    session.keep_in(path)
    marked(session, made())
    step = current_step(gated(session), IN_MM)
    assert (step.key, step.action, step.tone) == ("check-up", "Beam as it was", "good")
    assert step.do[0].startswith("The beam is as it was on ")
    assert current_step(gated(Session.resume(path)), IN_MM).do == step.do


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
    marked(session, made(0.3))
    step = current_step(gated(session), IN_MM)
    said = step.do[0]
    assert (step.key, step.action, step.tone) == ("check-up", "Beam moved", "do")
    perform(session, step, "align")  # a choice, and from then on as in any visit
    assert current_step(session, IN_MM).key == "adjust"
    assert any(event.kind == "item" for event in session.effective)
    assert said.startswith("The beam moved since ")
    seen = next(event for event in session.effective if isinstance(event, Baseline)).marks
    newest = {event.station: event for event in session.effective if event.kind == "mark"}
    far = max(seen, key=lambda mark: abs(newest[mark.station].u - mark.u) if mark.station in newest else 0.0)
    assert f"{far.station} {abs(newest[far.station].u - far.u):.1f} mm" in said


def test_without_an_earlier_visit_nothing_is_compared() -> None:
    """The first check-up of a machine says nothing of what was."""
    session = check_up(MACHINE, [])
    marked(session, made())
    step = current_step(gated(session), IN_MM)
    assert (step.key, step.action) == ("check-up", "Beam marked")
    assert "nothing can be compared" in step.do[0]


def test_a_check_up_of_a_machine_far_out_asks_for_marks_alone() -> None:
    """Whatever the spread, no step tells anybody to turn or move anything; each pulse asked for is sure to land."""
    session, machine, asked = check_up(MACHINE, [finished()]), made(0.9), []
    for _ in range(20):
        step = current_step(gated(session), IN_MM)
        asked.append(step.key)
        if step.key == "check-up":
            break
        assert step.shot is not None
        assert candidates(session.belief, [Spot(step.shot.name, step.shot.x, step.shot.y, step.shot.target)])[0].safe
        shoot(session, machine, step.advice)
    assert set(asked) == {"go", "check-up"}
    assert session.advice().kind in ("turn", "shift")


def test_one_mark_alone_elsewhere_is_asked_for_again() -> None:
    """It may be misread: the check-up asks for that station once more, and then says what it is."""
    session = check_up(MACHINE, [finished()])
    marked_but_one(session)
    assert next_mark(session).stations[0].name == "middle"
    u, v = made().mark(MACHINE.station("middle").x, MACHINE.station("middle").y)
    session.mark("middle", u=u, v=v)
    assert next_mark(session) is None
    assert current_step(gated(session), IN_MM).action == "Beam as it was"


def marked_but_one(session: Session) -> None:
    """Every station, the middle one misread by 2.5 mm."""
    for station in MACHINE.stations:
        u, v = made().mark(station.x, station.y)
        session.mark(station.name, u=u + 2.5 * (station.name == "middle"), v=v)
