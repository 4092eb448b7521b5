"""What "undo" takes back, as a person means it."""

import pytest
from machines import make_machine

from coach import Session
from coach.errors import NothingToUndo
from coach.session.events import Gate, Mark, Pulse
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.gates import FLAME_OUT, GATES
from coach.steps.perform import perform
from coach.steps.undo import take_back


def _acknowledge(session: Session, count: int = len(GATES)) -> None:
    for gate in GATES[:count]:
        session.gate(gate.name)


def _names(session: Session) -> list[str]:
    return [event.name for event in session.effective if isinstance(event, Gate)]


def test_a_confirmation_just_given_is_taken_back() -> None:
    """In the middle of the gates: the last one given, then the one before it, and each is asked again."""
    session = Session.start(make_machine())
    session.opened()
    _acknowledge(session, 3)
    for left in (2, 1, 0):
        taken = take_back(session)
        assert isinstance(taken, Gate)
        assert taken.name == GATES[left].name
        assert _names(session) == [gate.name for gate in GATES[:left]]
        perform(session, current_step(session, IN_MM), "acknowledge")
        assert _names(session)[-1] == GATES[left].name
        session.undo()
    with pytest.raises(NothingToUndo):
        take_back(session)


def test_a_confirmation_is_taken_back_also_when_marks_were_made_before() -> None:
    """After a resume, with some gates given again: the gate, and not the mark of an hour ago."""
    session = Session.start(make_machine())
    session.opened()
    _acknowledge(session)
    session.mark("middle", u=0.5, v=0.5)
    session.opened()
    session.gate(GATES[0].name)
    taken = take_back(session)
    assert isinstance(taken, Gate)
    assert [event for event in session.effective if isinstance(event, Mark)]


def test_once_the_gates_are_passed_the_entry_before_them_is_meant() -> None:
    """After a resume with all gates given again, undo means the mark: no confirmation is in the way."""
    session = Session.start(make_machine())
    session.opened()
    _acknowledge(session)
    session.mark("middle", u=0.5, v=0.5)
    session.opened()
    _acknowledge(session)
    assert isinstance(take_back(session), Mark)
    assert _names(session) == [gate.name for gate in GATES] * 2


def test_a_flame_that_was_said_to_be_out_can_burn_again() -> None:
    """ "It is out" was one key too many: taken back, the flame is asked about again, and the pulse stays."""
    session = Session.start(make_machine())
    session.opened()
    _acknowledge(session)
    shot = session.advice().stations[0]
    session.arrive(shot)
    session.pulse(shot, "flare")
    assert current_step(session, IN_MM).key == "flare"
    session.gate(FLAME_OUT.name)
    assert current_step(session, IN_MM).key != "flare"
    assert isinstance(take_back(session), Gate)
    assert current_step(session, IN_MM).key == "flare"
    assert any(isinstance(event, Pulse) for event in session.effective)
