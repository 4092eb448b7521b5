"""What was expected before hands were at the machine is said no more once they were: no two answers side by side."""

import pytest
from following import follow

from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.events import Disturbed, Lock, Mark, Mended, Miss, Shift, Turn
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step

MOST = 90
KNOWN = Mark | Miss | Turn | Shift | Lock | Disturbed | Mended


@pytest.mark.parametrize("seed", [1, 3])
def test_no_step_says_two_things_of_what_is_expected(seed: int) -> None:
    """All through a job: a mark is compared with what was expected until something is turned, moved or tightened."""
    session = Session.start(demo_machine(), practice=Practice(kind="fine", seed=seed))
    session.opened()
    touched = compared = 0
    for _ in range(MOST):
        step = current_step(session, IN_MM)
        marks = [e for e in session.effective if isinstance(e, KNOWN)]
        if marks and not isinstance(marks[-1], Mark | Miss):
            assert not step.news, (step.key, step.news)
            touched += step.advice is not None and sum(isinstance(e, Turn | Shift) for e in session.effective) > 1
        compared += bool(step.news)
        if step.key in ("done", "stop"):
            break
        follow(session, step)
    assert touched
    assert compared
