"""Gates are asked in the order of the job, again after a resume, and a flame comes before them all."""

import pytest
from asked_again import AGAIN, BEAM, asked_again
from built_steps import NAMES, built

from coach import Session
from coach.practice.demo import demo_machine
from coach.session.events import Gate, Pulse
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.gates import FLAME_OUT, GATES, TUBE_OFF
from coach.steps.perform import perform
from coach.steps.table import STEPS
from coach.steps.undo import take_back

SAFETY = [name for name in AGAIN if name != "tape"]
ASKING = {gate.name: key for key, kind in STEPS.items() for gate in kind.gates}
"""The step that holds each gate."""


def asked(session: Session) -> list[str]:
    """The gates that are asked one after the other, each acknowledged; each shown by its own step."""
    names: list[str] = []
    while (step := current_step(session, IN_MM)).gate:
        assert len(names) <= len(GATES) + 1, "a gate that is acknowledged is asked again and again"
        assert step.key == ASKING[step.gate]
        assert step.choices[0].key == "acknowledge"
        names.append(step.gate)
        perform(session, step, "acknowledge")
    return names


def test_every_gate_is_asked_by_its_own_step_in_order() -> None:
    """In a new session, opened or not; and none is shown after a later one."""
    for opened in (False, True):
        session = Session.start(demo_machine())
        if opened:
            session.opened()
        assert asked(session) == [gate.name for gate in GATES]


@pytest.mark.parametrize("gate", GATES, ids=lambda gate: gate.name)
def test_one_gate_left_out_is_asked_before_anything_else(gate: object) -> None:
    """All others acknowledged: the step is that gate, with its words, whatever its step is called."""
    session = Session.start(demo_machine())
    for other in GATES:
        if other is not gate:
            session.gate(other.name)
    step = current_step(session, IN_MM)
    assert (step.gate, step.action, step.do) == (gate.name, gate.title, (gate.text,))
    assert step.choices[0].label == gate.confirm


@pytest.mark.parametrize("name", [name for name in NAMES if name not in {gate.name for gate in GATES}])
def test_after_a_resume_they_are_asked_again(name: str) -> None:
    """Opened again at any step of the job: rules, the beam's four and the tape, the flame first if there is one; no
    fresh tape while a mark waits on the old one; that the tube is off last of all.  What is asked once a session is
    not asked again."""
    session = built(name)
    session.opened()
    assert asked(session) == asked_again(name)


@pytest.mark.parametrize("acknowledged", range(len(AGAIN)))
def test_a_flame_comes_before_every_gate(acknowledged: int) -> None:
    """However many gates are acknowledged since the opening: first the flame."""
    session = built("flare")
    session.opened()
    for name in AGAIN[:acknowledged]:
        session.gate(name)
    assert current_step(session, IN_MM).gate == FLAME_OUT.name
    perform(session, current_step(session, IN_MM), "acknowledge")
    assert asked(session) == AGAIN[acknowledged:]


def test_every_flame_has_to_be_put_out() -> None:
    """The acknowledgement of an earlier flame does not count for the next one."""
    session = built("flare")
    perform(session, current_step(session, IN_MM), "acknowledge")
    for _ in range(len(GATES) + 2):
        step = current_step(session, IN_MM)
        if step.key == "pulse":
            break
        perform(session, step, step.choices[0].key)
    perform(session, current_step(session, IN_MM), "flare")
    assert current_step(session, IN_MM).gate == FLAME_OUT.name


# -- taking confirmations back --------------------------------------------------------------------


@pytest.mark.parametrize("given", range(1, len(SAFETY) + 1))
def test_undo_among_gates_takes_the_last_confirmation_back(given: int) -> None:
    """Resumed with marks in the session: U takes back the confirmation just given, then those before it, and the gate
    is asked again; no mark is touched before every confirmation since the opening is taken back."""
    session = built("adjust")
    entries = [event for event in session.effective if not isinstance(event, Gate) and event.kind != "opened"]
    session.opened()
    for _ in SAFETY[:given]:
        perform(session, current_step(session, IN_MM), "acknowledge")
    for name in reversed(SAFETY[:given]):
        event = take_back(session)
        assert isinstance(event, Gate)
        assert event.name == name
        assert current_step(session, IN_MM).gate == name
    kept = [event for event in session.effective if not isinstance(event, Gate) and event.kind != "opened"]
    assert kept == entries


def test_undo_takes_back_that_a_flame_is_out() -> None:
    """Confirmed too soon: U takes that back, not the pulse, and the flame stands there again."""
    session = built("flare")
    perform(session, current_step(session, IN_MM), "acknowledge")
    assert current_step(session, IN_MM).gate is None
    event = take_back(session)
    assert isinstance(event, Gate)
    assert current_step(session, IN_MM).gate == FLAME_OUT.name
    assert isinstance(take_back(session), Pulse)  # once more: what was seen


def test_undo_after_the_gates_means_the_job() -> None:
    """Once all gates are passed after a resume, U takes back the entry before it and asks no gate again."""
    session = built("adjust")
    last = session.effective[-1]
    session.opened()
    asked(session)
    assert take_back(session) == last
    assert current_step(session, IN_MM).gate is None


# -- the tube -------------------------------------------------------------------------------------


def test_nobody_is_sent_to_the_tube_before_it_is_off() -> None:
    """Each time anew that the tube is to be moved, and for nothing else that is moved; undo takes it back."""
    session = built("adjust-tube")
    for _ in range(2):
        session._add("plan", turns={}, part="tube", up=0.8)
        step = current_step(session, IN_MM)
        assert (step.key, step.gate) == ("unplug", TUBE_OFF.name)
        perform(session, step, "acknowledge")
        assert current_step(session, IN_MM).key == "move-tube"
        assert isinstance(take_back(session), Gate)
        assert current_step(session, IN_MM).gate == TUBE_OFF.name
        perform(session, current_step(session, IN_MM), "acknowledge")
        perform(session, current_step(session, IN_MM), "shifted")
        asked(session)
    session._add("plan", turns={}, part="head", up=0.8)
    assert current_step(session, IN_MM).key == "move"


def test_after_the_tube_everything_before_the_beam_is_asked_again() -> None:
    """The machine was unplugged: eyes, who fires, extinguisher, water and air; after another part nothing is."""
    for part, expected in (("tube", BEAM), ("head", []), ("mirror 2", [])):
        session = built("adjust")
        session.shift(part, **({"right": 1.0} if part == "mirror 2" else {"up": 1.0}))
        assert asked(session) == expected


def test_what_is_done_with_the_laser_off_comes_first() -> None:
    """May I, is it alignment, clean: before anything about the beam; tape last."""
    order = [gate.name for gate in GATES]
    assert order == ["rules", "question", "clean", *BEAM, "tape"]
