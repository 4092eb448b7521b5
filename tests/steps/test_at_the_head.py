"""Where the head stands already, and what is said of a mark that is cut off."""

from dataclasses import replace

import pytest
from built_steps import built

from coach.session.events import Arrive
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.kind import Said
from coach.steps.perform import perform
from coach.steps.table import kind_of


def _marked() -> tuple[Session, Arrive]:
    """After a first mark; and where it was made."""
    session = built("go")
    for choice in ("arrived", "mark"):
        perform(session, current_step(session, IN_MM), choice)
    (there,) = (event for event in session.effective if isinstance(event, Arrive))
    session.mark(there.station, 0.4, 0.2, x=there.x, y=there.y)
    return session, there


def _sent_to(session: Session, there: Arrive, x: float) -> Said:
    """What is said of going to that place, or to one elsewhere in X, as the next mark."""
    step = current_step(session, IN_MM)
    assert step.key == "go"
    assert step.shot is not None
    shot = replace(step.shot, name=there.station, x=x, y=there.y)
    return kind_of("go").says(replace(step, shot=shot), session, IN_MM)


def test_a_second_mark_at_the_same_place_says_that_the_head_stays() -> None:
    """Nobody is sent where the head stands; one who is elsewhere is, and so is one who worked on it since."""
    session, there = _marked()
    stays = _sent_to(session, there, there.x)
    assert (stays.action, stays.figure) == (f"Stay at {there.station}", "fresh tape")
    assert stays.do[0].startswith(f"The head stays at {there.station}, X {there.x:.0f}, Y {there.y:.0f} mm")
    assert not any("Move:" in line for line in stays.do)
    away = _sent_to(session, there, there.x + 60.0)
    assert away.action.startswith("Go to")
    assert away.figure == f"X {there.x + 60.0:.0f}  Y {there.y:.0f}"
    session.lock(2)
    assert _sent_to(session, there, there.x).action.startswith("Go to")


@pytest.mark.parametrize(("outcome", "said"), [("mark", False), ("not-whole", True)])
def test_of_a_cut_off_mark_it_is_said_what_to_measure(outcome: str, said: bool) -> None:
    """Which middle, that it is doubtful, and what it speaks of; and the belief doubts it by more than its reading."""
    session = built("pulse", practice=False)
    perform(session, current_step(session, IN_MM), outcome)
    step = current_step(session, IN_MM)
    assert step.key == "measure"
    words = " ".join(step.do)
    for part in ("middle of the round", "doubtful", "mirrors 1 and 2"):
        assert (part in words) is said
    shot = step.shot
    assert shot is not None
    session.mark(shot.name, 0.4, 0.2, x=shot.x, y=shot.y, sd=0.1, shape="cut" if said else "round")
    assert (session.belief.round_sightings[-1].sd > 0.5) is said  # half a disc's middle lies 4 r/(3 pi) off
