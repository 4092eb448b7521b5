"""What was shot at is what is entered: mirror 2's own tape, or a wide card."""

import pytest
from built_steps import built

from coach.advice.facts import Shot
from coach.session.events import Mark, Miss
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform

SHOTS = (Shot("mirror 2", 0.0, 380.0, "mirror 2"), Shot("middle", 300.0, 200.0, wide=True))


@pytest.mark.parametrize("shot", SHOTS, ids=lambda shot: shot.name)
def test_a_miss_is_a_miss_of_that_very_target(shot: Shot) -> None:
    """Arrived there, pulsed, nothing seen, called missed: the entry names the same target and the same card."""
    session = built("go", practice=False)
    session.arrive(shot)
    session.pulse(shot, "nothing")
    perform(session, current_step(session, IN_MM), "missed")
    miss = session.events[-1]
    assert isinstance(miss, Miss)
    assert (miss.station, miss.target, miss.wide) == (shot.name, shot.target, shot.wide)


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_way_to_a_mirror_s_own_tape_keeps_hands_off_the_tube_and_the_faces(side: str) -> None:
    """At its own step, before anything else is said: the tube's ends are lethal, isolated first, tape on the rim;
    mirror 1 asks for no place of the head, mirror 2 for one of the gantry; no word of the head's tape."""
    for target in ("mirror 1", "mirror 2"):
        session = _unsure_of(target, side)
        advice = session.advice()
        assert advice.stations[0].target == target
        step = current_step(session, IN_MM)
        assert step.key == "go-mirror"
        assert [caution.key for caution in step.cautions[:3]] == ["supply", "not-firing", "faces"]
        told = " ".join(step.do)
        assert f"{target}'s holder" in told
        assert "clear of the face" in told
        assert "head's opening" not in told
        assert ("gantry at Y" in told) == (target == "mirror 2")
        perform(session, step, "arrived")
        pulse = current_step(session, IN_MM)
        assert pulse.key == "pulse"
        assert pulse.shot is not None
        assert pulse.shot.target == target


def _unsure_of(target: str, side: str) -> Session:
    """Every station in its middle, gates acknowledged, and that mirror's mark at its edge."""
    session = built("go", practice=False)
    machine = session.machine.model_copy(update={"path": session.machine.path.model_copy(update={"side": side})})
    session = Session(session._doc.model_copy(update={"machine": machine}))
    for station in machine.stations:
        session.mark(station.name, u=0.0, v=0.0)
    session.mark(target, u=7.0, v=0.0, x=0.0, y=0.0, target=target)
    return session


def test_a_mark_on_a_wide_card_is_kept_as_such() -> None:
    """Its doubt is that of a card, and its station still wants a mark on tape."""
    session = built("go", practice=False)
    before = session.belief.unmarked()
    session.mark("middle", u=14.0, v=-3.0, wide=True)
    mark = session.events[-1]
    assert isinstance(mark, Mark)
    assert mark.wide
    assert session.belief.round_sightings[-1].sd == 0.5
    assert session.belief.unmarked() == before
