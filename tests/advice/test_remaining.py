"""What is probably left, after something was bumped: never less than before."""

import pytest

from coach import Session
from coach.advice.advice import Left
from coach.advice.outlook import outlook
from coach.advice.remaining import remaining
from coach.belief.transitions import DISTURBED
from coach.practice.demo import demo_machine

FELT = [part for part, spread in DISTURBED.items() if any(spread)]
AT = {"back-left": (2.4, -0.6), "back-right": (4.1, 0.9), "middle": (3.0, 0.2), "front-right": (5.2, 1.6)}


def left(session: Session) -> Left:
    belief = session.belief
    return remaining(belief, outlook(belief.layout, belief.settled))


def marked(count: int) -> Session:
    session = Session.start(demo_machine())
    for name, (u, v) in list(AT.items())[:count]:
        session.mark(name, u=u, v=v)
    return session


@pytest.mark.parametrize("part", FELT)
@pytest.mark.parametrize("marks", [0, 2, 4])
@pytest.mark.parametrize("turned", [False, True])
def test_a_disturbance_promises_no_less_to_do(part: str, marks: int, turned: bool) -> None:
    """Every station is marked again after it, so no fewer pulses and no fewer rounds are left than a moment ago."""
    session = marked(marks)
    if turned:
        session.turn(1, {"B": 0.1})
        session.mark("back-left", u=0.4, v=0.2)
    before = left(session)
    session.disturbed(part)
    after = left(session)
    assert after.pulses >= before.pulses - 0.05
    assert after.rounds >= before.rounds - 0.05
    session.turn(1, {"B": 0.1})  # what follows is one's own doing again: one mark tells whether it went wrong
    assert left(session).pulses < after.pulses + 0.05
