"""The dose of the next pulse: arithmetic of the steps, the ceilings, and what is not said where nobody knows."""

import pytest
from machines import make_machine

from coach import Session
from coach.advice.ladder import next_dose
from coach.belief.measurements import Sighting

TIMED = {"timed": True, "percent": True}


def _unanswered(session: Session, most: int = 12) -> list[tuple[float | None, float | None]]:
    """Every advised dose while nothing is seen and the person says that it fires, until no more is advised here."""
    given = []
    for _ in range(most):
        advice = session.advice()
        if advice.cause == "not firing" and "not firing" not in session.belief.accepted:
            session.best("not firing")
            continue
        if advice.kind != "shoot":
            break
        shot = advice.stations[0]
        given.append((advice.ms, advice.power))
        session.nothing(shot.name, x=shot.x, y=shot.y, wide=shot.wide, ms=advice.ms, power=advice.power)
    return given


def test_steps_of_1_4_up_to_half_a_second() -> None:
    """60 ms, then 1.4 times as long (whole ms), the power as it is, and no more than 500 ms: derived by hand."""
    given = _unanswered(Session.start(make_machine(pulse=TIMED)))
    assert [ms for ms, _ in given] == [60, 84, 118, 165, 231, 323, 452, 500]
    assert {power for _, power in given} == {12.0}


def test_no_more_than_eight_times_what_marked_first() -> None:
    """Marked with 20 ms: 160 ms is the most."""
    session = Session.start(make_machine(pulse=TIMED))
    session.mark("back-left", u=0.1, v=0.1, ms=20, power=15)
    given = _unanswered(session)
    assert [ms for ms, _ in given] == [20, 28, 39, 55, 77, 108, 151, 160]
    assert {power for _, power in given} == {15.0}


def test_a_button_held_by_hand_has_no_time_to_set() -> None:
    """Only the power is said and raised, and no further than the slowest finger (300 ms) may make of it what 500 ms
    would: 12 · 500 / 300 = 20 per cent."""
    given = _unanswered(Session.start(make_machine(pulse={"timed": False, "percent": True})))
    assert given == [(None, 12.0), (None, 17.0), (None, 20.0)]
    session = Session.start(make_machine(pulse={"timed": False, "percent": True}))
    session.nothing("back-left", ms=70, power=12)  # somebody may have taken the time all the same
    assert (session.advice().ms, session.advice().power) == (None, 17.0)


def test_each_place_begins_at_the_foot_of_the_ladder() -> None:
    """Nothing here says nothing of the dose to begin with there: 84 ms here, 60 ms at the middle."""
    session = Session.start(make_machine(pulse=TIMED))
    session.nothing("back-left", ms=60, power=12)
    here, there = (
        Sighting(station, x, y) for station, x, y in (("back-left", 20.0, 380.0), ("middle", 300.0, 200.0))
    )
    assert [next_dose(session.belief, at).ms for at in (here, there)] == [84.0, 60.0]


def test_where_nothing_is_known_of_the_controller_no_dose_is_said() -> None:
    """Neither ms nor per cent, until somebody says one with a pulse; then the next is built on it."""
    session = Session.start(make_machine())
    assert (session.advice().ms, session.advice().power) == (None, None)
    session.nothing("back-left", ms=70)
    assert (session.advice().ms, session.advice().power) == (98.0, None)


def test_after_a_flame_one_step_less() -> None:
    """60 / 1.4 = 43 ms."""
    session = Session.start(make_machine(pulse=TIMED))
    session.pulse(session.advice().stations[0], "flare")
    assert session.advice().ms == 43.0


def test_the_machines_own_dose_comes_first_and_what_marked_is_used_again() -> None:
    """The profile's start, then whatever marked last."""
    session = Session.start(make_machine(pulse=TIMED | {"ms": 40.0, "power": 9.0}))
    assert (session.advice().ms, session.advice().power) == (40.0, 9.0)
    session.mark("back-left", u=0.3, v=0.1, ms=56, power=9)
    assert (session.advice().ms, session.advice().power) == (56.0, 9.0)


@pytest.mark.parametrize("radius", [11.0, 30.0])
def test_after_nothing_every_pulse_that_is_advised_is_still_sure_to_land(radius: float) -> None:
    """With the chance that it missed in the belief: the same tape if it is large, else a wide card."""
    session = Session.start(make_machine(pulse=TIMED, tape={"radius": radius}))
    shot = session.advice().stations[0]
    session.nothing(shot.name, ms=60, power=12)
    again = session.advice()
    assert (again.kind, again.stations[0].name, again.ms) == ("shoot", shot.name, 84.0)
    assert again.stations[0].wide == (radius < 20)
    assert "STOP" not in again.why.upper().split()
    assert "too weak" in again.why
