"""What was shot at is what is entered: mirror 2's own tape, or a wide card."""

import pytest
from built_steps import built

from coach.advice.facts import Shot
from coach.session.events import Mark, Miss
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
