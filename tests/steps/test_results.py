"""How a finished session left its machine, said beside the machine in the list."""

from datetime import datetime, timedelta

import pytest
from machines import make_machine

from coach import Session
from coach.shown import IN_MM
from coach.steps.results import result_words, worst_before
from coach.steps.visit_result import visit_result
from coach.tuning import TUNING


def _left(u: float) -> tuple[str, float]:
    """What is said of a machine whose stations all show u mm, and the chance that all are within its 1 mm."""
    session = Session.start(make_machine())
    for station in session.machine.stations:
        session.mark(station.name, u=u, v=0.0)
    session.finish()
    words = result_words(session._doc, datetime.now().astimezone() + timedelta(hours=1), IN_MM)
    return words, session.advice().now.chance


def test_a_machine_is_called_centred_only_when_that_is_all_but_sure() -> None:
    """In steps of 0.05 mm out to the tolerance: "centred" from the chance on from which the coach says "done"."""
    said = [_left(step / 20) for step in range(21)]
    assert said[0][0].startswith("centred, worst 0.")
    assert said[-1][0].startswith("not centred, worst 1.")
    for words, chance in said:
        assert words.startswith("centred") == (chance >= TUNING.deciding.done_at_least), (words, chance)
    assert any(0.3 < chance < 0.9 for _, chance in said)


@pytest.mark.parametrize(("days", "age"), [(0, "today"), (1, "yesterday"), (20, "20 days ago"), (28, "4 weeks ago")])
def test_and_how_long_ago_that_was(days: int, age: str) -> None:
    """Closed without a mark it says just that, and when."""
    session = Session.start(make_machine())
    session.finish()
    now = datetime.now().astimezone() + timedelta(days=days)
    assert result_words(session._doc, now, IN_MM) == f"closed without a mark, {age}"


def test_before_and_after_stand_side_by_side() -> None:
    """Before: the worst that was marked at the head before anything was turned, 3-4-5; what came later is not."""
    session = Session.start(make_machine())
    session.mark("back-left", u=3.0, v=-4.0)
    assert worst_before(session.effective) is None
    session.turn(1, {"B": 0.125})
    session.mark("back-left", u=9.0, v=0.0)
    assert worst_before(session.effective) == pytest.approx(5.0)
    session.finish()
    words = result_words(session._doc, datetime.now().astimezone() + timedelta(hours=1), IN_MM)
    assert "worst 5.0 → " in words


def test_a_visit_says_whether_it_cuts_again_and_what_stayed_open() -> None:
    """By its last cut check and its parts; one that came for a single part says nothing of the others."""
    session = Session.start(make_machine())
    session.begin("what changed")
    session.begin("cut check")
    for station in session.machine.stations:
        session.cut(station.name, fastest=20.0, next=22.0, material="ply 6 mm, lot 3")
    session.baseline(session.kept_cuts())
    session.end("cut check")
    session.begin("close up")
    session.item("close up", "interlock", False)
    session.finish()
    assert visit_result(session._doc).startswith("cuts as it did; open: what changed")
    assert "1 item of closing up" in visit_result(session._doc)
    assert "parts not gone to" in visit_result(session._doc)
    alone = Session.start(make_machine())
    alone.begin("pointer")
    alone.end("pointer")
    assert visit_result(alone._doc) == ""
