"""What counts as one round of adjusting: turns or a shift, then a retest (docs/model.md)."""

from machines import make_machine

from coach import Session
from coach.advice.advice import Shot
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.standing import standing


def _rounds(session: Session) -> int:
    return standing(session, current_step(session, IN_MM)).rounds


def _retest(session: Session) -> None:
    """A pulse and its mark, wherever."""
    station = session.machine.stations[0]
    shot = Shot(station.name, station.x, station.y)
    session.arrive(shot)
    session.pulse(shot, "mark")
    session.mark(shot.name, u=0.2, v=0.1)


def test_all_turns_and_shifts_between_two_pulses_are_one_round() -> None:
    """Both mirrors' screws one by one and a shift after them: one round; after the next pulse a second one."""
    session = Session.start(make_machine())
    assert _rounds(session) == 0
    _retest(session)
    assert _rounds(session) == 0
    session.turn(1, {"B": 0.05})
    session.turn(1, {"C": 0.05})
    session.turn(2, {"B": 0.05})
    session.shift("tube", up=0.5)
    assert _rounds(session) == 1
    _retest(session)
    _retest(session)
    assert _rounds(session) == 1
    session.shift("tube", up=0.5)
    assert _rounds(session) == 2
    session.undo()
    assert _rounds(session) == 1


def test_tightened_lock_nuts_are_no_round() -> None:
    """They move a mirror a little, so that every station is confirmed again, but nobody adjusted anything."""
    session = Session.start(make_machine())
    _retest(session)
    session.lock(1)
    assert _rounds(session) == 0
    session.turn(1, {"B": 0.05})
    assert _rounds(session) == 1
    _retest(session)
    session.lock(1)
    _retest(session)
    assert _rounds(session) == 1
