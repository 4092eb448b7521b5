"""What holds for every piece of advice, whatever was entered before."""

import math

import numpy as np
import pytest
from chances import beyond, mark_beyond
from hypothesis import event, given, settings
from hypothesis import strategies as st
from machines import obey_exactly
from strategies import entries, exact_machines, machines

from coach import Session
from coach.belief import belief as beliefs
from coach.parts import DIRECTIONS
from coach.session.events import Lock, Mark, Shift, Turn

OFF_TAPE = 0.01
"""A pulse whose mark leaves the tape once in a hundred times is already too many."""


@pytest.mark.parametrize(
    ("radius", "sd", "out", "passes"),
    [(6, 1.5, 3, 0.965865), (6, 1.5, 6, 0.449728), (1, 0.5, 0.5, 0.730988), (5, 1.75, 2, 0.923974)],
)
def test_the_independent_chance_is_right_itself(radius, sd, out, passes) -> None:
    """Noncentral χ² (Marcum 1950, memory): what passes a round opening of that radius."""
    assert 1 - beyond([[out * 0.6, out * 0.8]], [sd**2 * np.eye(2)], radius)[0] == pytest.approx(passes, abs=1e-6)


@given(st.data())
@settings(max_examples=30)
def test_whatever_happened_the_advice_is_safe_and_can_be_followed(data) -> None:
    """On machines of any kind, after advice followed and up to three times not followed (marks right and wrong,
    misses, turns, shifts of one's own): every advice keeps every promise of its kind, and the session takes it."""
    machine = data.draw(machines())
    truth = data.draw(exact_machines(machine))
    own_ways = data.draw(st.dictionaries(st.integers(0, 12), entries(machine), max_size=3))
    session = Session.start(machine)
    for step in range(30):
        advice = session.advice()
        event(advice.kind + " " + advice.cause)
        check(session, advice)
        if step in own_ways:
            name, what = own_ways[step]
            getattr(session, name)(**what)
        elif advice.kind in ("done", "stop"):
            break
        else:
            obey_exactly(session, truth, advice)


def check(session, advice) -> None:
    """The promises of docs/model.md."""
    assert advice.kind in CHECKS
    assert advice.why.strip()
    assert "\n" not in advice.why
    assert 0 <= advice.now.chance <= 1
    assert (advice.now.worst > 0) == (advice.now.worst_high > 0)
    CHECKS[advice.kind](session, advice)


def check_shoot(session, advice) -> None:
    """Inside the travel, and with the predicted mark, its doubt included, well on the tape."""
    assert advice.stations
    machine, belief = session.machine, session.belief
    for shot in advice.stations[:1]:
        assert 0 <= shot.x <= machine.bed.width
        assert 0 <= shot.y <= machine.bed.depth
        assert shot.target in ("head", "mirror 2")
        radius = machine.tape.readable(shot.target, shot.wide)
        rows = belief.layout.measurement_matrix(shot.x, shot.y, shot.target)
        assert mark_beyond(belief.settled, rows, radius) < OFF_TAPE


def check_turn(session, advice) -> None:
    """Real screws only, none by more than a turn, in steps that a hand can do, and no station thrown off."""
    machine, belief = session.machine, session.belief
    assert advice.turns
    assert len({turn.mirror for turn in advice.turns}) == len(advice.turns)
    after = belief
    for turn in advice.turns:
        screws = {screw.name for screw in machine.mount(turn.mirror).screws}
        assert turn.mirror in (1, 2)
        assert turn.screws
        assert set(turn.screws) <= screws
        for amount in turn.screws.values():
            assert 0 < abs(amount) <= 1
            assert amount * 60 == pytest.approx(round(amount * 60), abs=1e-9)
        after = beliefs.turn(after, turn.mirror, turn.screws)
    for station in machine.stations:
        rows = belief.layout.measurement_matrix(station.x, station.y)
        before = mark_beyond(belief.settled, rows, machine.tape.radius)
        assert mark_beyond(after.settled, rows, machine.tape.radius) < max(before, 0.02) + OFF_TAPE


def check_shift(session, advice) -> None:
    """A part that can be moved, in a direction that centres, by something."""
    moved = {"up": advice.up, "right": advice.right, "back": advice.back}
    assert any(moved.values())
    assert all(way in DIRECTIONS[advice.part] for way, amount in moved.items() if amount)
    assert advice.then is not None


def check_done(session, advice) -> None:
    """At least 90 % sure, and confirmed by a mark at every station since the last adjustment."""
    assert advice.now.chance >= 0.9
    adjusting = [e.id for e in session.effective if isinstance(e, Turn | Shift | Lock)]
    since = [
        e
        for e in session.effective
        if isinstance(e, Mark) and e.target == "head" and e.id > max(adjusting, default=0)
    ]
    for station in session.machine.stations:
        assert any(math.hypot(e.x - station.x, e.y - station.y) < 2 for e in since)


def check_stop(session, advice) -> None:
    """A cause, and what to look at."""
    assert advice.cause
    assert advice.look_at
    assert all(text.strip() for text in advice.look_at)


CHECKS = {
    "shoot": check_shoot,
    "turn": check_turn,
    "shift": check_shift,
    "done": check_done,
    "stop": check_stop,
}


@given(st.data())
@settings(max_examples=15)
def test_advice_is_a_pure_function_of_the_belief(data) -> None:
    """Asked twice, and asked of a session replayed from its events, the coach says the same."""
    machine = data.draw(machines())
    session = Session.start(machine)
    for name, what in data.draw(st.lists(entries(machine), max_size=8)):
        getattr(session, name)(**what)
    again = Session(session._doc)
    assert session.advice() == session.advice() == again.advice()
