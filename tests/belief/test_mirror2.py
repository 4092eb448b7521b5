"""What a mark on mirror 2's own tape tells, through the exact trace."""

import numpy as np
import pytest
from machines import ExactMachine, make_machine

from coach import Session
from coach.optics.mounts import PlateMotion

PLACES = [(20.0, 380.0), (20.0, 200.0), (20.0, 20.0)]


def _seen_at_mirror2(truth: ExactMachine) -> Session:
    """Marks on mirror 2's tape with the gantry at the back, in the middle and in front, read to 0.1 mm."""
    session = Session.start(truth.machine)
    for number, (x, y) in enumerate(PLACES):
        u, v = truth.mark(x, y, "mirror 2")
        session.mark(f"P{number}", u=u, v=v, x=x, y=y, target="mirror 2", sd=0.1)
    return session


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(
    "errors",
    [
        {"aperture2_right": 2.0, "aperture2_up": -1.5},
        {"aperture2_right": -2.0, "mirror1": PlateMotion(1.5, -1.5)},
        {"mirror1": PlateMotion(-1.5, 1.5)},
    ],
)
def test_marks_at_mirror_2_tell_its_opening_from_leg_1s_slope(side: str, errors: dict) -> None:
    """Its opening off its place, mirror 1 tilted, or both: after three marks the next is expected where it is, along
    the whole travel, and at the head the change along leg 1 alone is expected (the fold swaps left and right)."""
    truth = ExactMachine(make_machine(side), {}, errors)
    session = _seen_at_mirror2(truth)
    for y in (380.0, 290.0, 110.0, 20.0):
        expected = session.belief.expected(20.0, y, "mirror 2").mean
        assert expected == pytest.approx(truth.mark(20.0, y, "mirror 2"), abs=0.15)
    along = np.subtract(truth.mark(300.0, 20.0), truth.mark(300.0, 380.0))
    said = session.belief.expected(300.0, 20.0).mean - session.belief.expected(300.0, 380.0).mean
    assert said == pytest.approx(along, abs=0.3)


@pytest.mark.parametrize("where", [(20.0, 20.0, "mirror 2"), (20.0, 20.0, "head")])
def test_a_miss_says_that_the_mark_lies_beyond_that_very_tape(where: tuple) -> None:
    """Nothing on mirror 2's tape of 25 mm means farther out than nothing on the head's of 11 mm: by so much the doubt
    about the next mark grows (both were believed near the middle)."""
    session = Session.start(make_machine(tape={"radius": 11.0, "mirror2_radius": 25.0}))
    x, y, target = where
    before = session.belief.expected(x, y, target, sd=0.0).cov
    session.miss("P", x=x, y=y, target=target)
    mark = session.belief.expected(x, y, target, sd=0.0)
    reach = np.sqrt(np.trace(mark.cov) + mark.mean @ mark.mean)
    radius = 25.0 if target == "mirror 2" else 11.0
    assert radius < reach < 1.6 * radius
    assert np.trace(before) < radius**2
