"""What a mark on mirror 1's own tape tells, through the exact trace."""

from dataclasses import replace

import numpy as np
import pytest
from machines import ExactMachine, make_machine

from coach import Session
from coach.optics.mounts import PlateMotion
from coach.optics.trace import at_mirror1


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_mark_at_mirror_1_is_carried_through_everything_that_is_moved(side: str) -> None:
    """Marked once and read to 0.1 mm (a rough reader: 0.18); then mirror 1 is turned and slid, mirror 2 and the head
    moved, and the tube last: the next mark is expected where the trace has it, as surely as the tube was moved."""
    machine = make_machine(side)
    truth = ExactMachine(machine, {}, {"tube_back": 3.0, "tube_up": -2.0, "aperture1_up": 1.0}).state
    session = Session.start(machine)
    u, v = at_mirror1(truth)
    session.mark("mirror 1", u=u, v=v, x=0.0, y=400.0, target="mirror 1", sd=0.1)
    session.turn(1, {"B": 0.25})
    session.shift("mirror 1", right=1.5)
    session.shift("mirror 2", right=1.0)
    session.shift("head", up=1.0)
    moved = replace(truth, mirror1=PlateMotion(8.75, 0.0, 0.1), mirror1_right=1.5, mirror2_right=1.0, head_up=1.0)
    expected = session.belief.expected(300.0, 200.0, "mirror 1", sd=0.0)
    assert expected.mean == pytest.approx(at_mirror1(moved), abs=0.05)
    assert expected.sd < 0.13
    session.shift("tube", up=2.0, back=-3.0)
    expected = session.belief.expected(0.0, 0.0, "mirror 1", sd=0.0)
    assert expected.mean == pytest.approx(at_mirror1(replace(moved, tube_up=0.0, tube_back=0.0)), abs=0.05)
    assert 0.2 < expected.sd < 0.5


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_beam_that_comes_in_off_is_felt_at_every_opening(side: str) -> None:
    """The tube 4 mm to the back and 3 mm too high, nothing else wrong: marks at the head alone already tell on which
    side of mirror 1's opening the beam comes in, and roughly how far."""
    truth = ExactMachine(make_machine(side), {}, {"tube_back": 4.0, "tube_up": 3.0})
    session = Session.start(truth.machine)
    before = session.belief.expected(0.0, 0.0, "mirror 1", sd=0.0)
    for station in truth.machine.stations:
        u, v = truth.mark(station.x, station.y)
        session.mark(station.name, u=u, v=v)
    expected = session.belief.expected(0.0, 0.0, "mirror 1", sd=0.0)
    true = np.array(at_mirror1(truth.state))
    assert np.all(np.sign(expected.mean) == np.sign(true))
    assert np.hypot(*(expected.mean - true)) < 2.5
    assert expected.sd < 0.75 * before.sd
