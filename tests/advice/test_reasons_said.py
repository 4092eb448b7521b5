"""The reason of an advice claims no more than the belief holds: how many marks there are, what counts, how surely."""

import re
from dataclasses import replace
from math import floor

import pytest
from machines import make_machine

from coach import Session
from coach.advice import reasons, words
from coach.advice.facts import Outlook, Shot
from coach.advice.lesson_words import retest_words
from coach.advice.lessons import Retest
from coach.advice.outlook import outlook
from coach.advice.words import the
from coach.practice.bench import Bench
from coach.shown import IN_MM
from coach.steps.news import news

THEN = Outlook(0.4, 1.2, 1.9)


def _marked(seed: int = 3, kind: str = "plain") -> Session:
    """Every station marked once on a bench, then what is asked for more, until something is to be turned or moved."""
    session = Session.start(make_machine())
    bench = Bench(session.machine, seed, kind)
    for key in range(1, 15):
        advice = session.advice()
        if advice.kind != "shoot":
            return session
        shot = advice.stations[0]
        seen = bench.pulse(shot.x, shot.y, shot.target, key=key)
        assert seen is not None
        session.mark(shot.name, seen.u, seen.v, x=shot.x, y=shot.y, target=shot.target)
    raise AssertionError("nothing to turn")


@pytest.mark.parametrize(("marks", "said"), [(0, "No mark so far"), (1, "One mark so far"), (2, "Two marks so far")])
def test_a_turn_after_one_or_two_marks_says_that_it_is_a_guess(marks: int, said: str) -> None:
    """And from three on it does not; the marks are counted as they were entered."""
    session = _marked()
    reason = session.advice().reason
    assert isinstance(reason, reasons.Drifting)
    assert reason.marks == sum(event.kind == "mark" for event in session.effective) >= 3
    assert words.why(replace(reason, marks=marks), IN_MM).startswith(said)
    assert "guess" in words.why(replace(reason, marks=marks), IN_MM)
    assert "guess" not in words.why(replace(reason, marks=3), IN_MM)


def test_marks_after_lock_nuts_say_that_these_are_why() -> None:
    """What was believed before is doubted after each tightening, until something is turned; no other mark says so."""
    session = Session.start(make_machine())
    for station in session.machine.stations:
        assert "lock nuts" not in session.advice().why
        session.mark(station.name, u=0.05, v=0.0, sd=0.1)
    assert session.advice().kind == "done"
    session.turn(2, {"B": 1 / 60})
    assert not session.belief.locked
    session.lock(2)
    for _ in range(2):
        advice = session.advice()
        assert advice.kind == "shoot"
        assert "Tightening lock nuts moves a mount a little" in advice.why
        shot = advice.stations[0]
        session.mark(shot.name, shot.expected_u, shot.expected_v, x=shot.x, y=shot.y, sd=0.1)
    session.turn(2, {"B": 1 / 60})
    assert "lock nuts" not in session.advice().why


@pytest.mark.parametrize("seed", [3, 4, 5])
def test_what_a_turn_promises_counts_no_move_that_was_not_advised(seed: int) -> None:
    """The worst mark said to come after the turns is the one believed once they were made, and nothing else counted;
    what a move afterwards would leave is said by itself, with the part."""
    session = _marked(seed)
    advice = session.advice()
    reason = advice.reason
    assert isinstance(reason, reasons.Drifting)
    assert ("moved as well" in advice.why) is bool(reason.later)
    assert all(the(part) in advice.why for part in reason.later)
    assert "entred" not in advice.why
    for turn in advice.turns:
        session.turn(turn.mirror, dict(turn.screws))
    believed = outlook(session.belief.layout, session.belief.settled).worst
    assert believed == pytest.approx(reason.then.worst, rel=0.02)
    assert believed == pytest.approx(advice.then.worst, rel=0.02)


def test_how_far_a_mark_drifts_is_said_with_its_doubt() -> None:
    """No figure without doubt: one "give or take" for each mirror that is named, two standard deviations."""
    drifts = (reasons.Drift(1, 0.2, 1.4, 0.3), reasons.Drift(2, -2.0, 0.1, 0.4))
    said = words.why(reasons.Drifting(drifts, THEN, 5, (), THEN), IN_MM)
    assert re.findall(r"give or take ([0-9.]+) mm", said) == ["0.6", "0.8"]


def test_a_move_is_not_called_seen_before_a_mark_has_shown_the_turns() -> None:
    """Neither "all marks" nor "whatever the turns did": what is said is an average, believed, with its doubt."""
    for blind in (True, False):
        said = words.why(reasons.OffTheSameWay(-0.7, 0.7, 0.4, "head", blind, THEN), IN_MM)
        assert "All" not in said
        assert "hatever" not in said
        assert "0.7 mm left, 0.7 mm up (give or take 0.8 mm)" in said
        assert ("no mark has shown" in said) is blind


@pytest.mark.parametrize(("sd", "doubted"), [(0.3, False), (0.4, True)])
def test_a_move_with_a_doubt_as_large_as_itself_says_so_and_why_it_is_worth_it(sd: float, doubted: bool) -> None:
    """0.7 mm: beside a give or take of 0.6 mm nothing is added, beside 0.8 mm that it rests on expected minutes."""
    said = words.why(reasons.OffTheSameWay(0.0, 0.7, sd, "head", True, THEN), IN_MM)
    assert ("as large as the move; with it the end is still expected sooner" in said) is doubted


@pytest.mark.parametrize("radius", [11.0, 60.0])
def test_the_first_mark_is_not_promised_to_land(radius: float) -> None:
    """On a tape on which every station would land the first one is far out, where no leg is short; and one pulse in a
    hundred may leave any tape."""
    machine = make_machine()
    machine = machine.model_copy(update={"tape": machine.tape.model_copy(update={"radius": radius})})
    said = Session.start(machine).advice().why
    assert "short" not in said
    assert "will land" not in said
    assert "all but sure" in said


@pytest.mark.parametrize("chance", [0.9899, 0.985, 0.62])
def test_a_mirror_that_is_not_sure_enough_is_not_called_as_sure_as_wanted(chance: float) -> None:
    """Rounding made 98.9 % "only 99 % sure", where 99 % is what is asked for."""
    said = words.why(reasons.MirrorUnsure(2, chance, False, Shot("mirror 2", 0.0, 0.0)), IN_MM)
    assert f"only {floor(100 * chance)} % sure" in said


def test_a_mark_beyond_the_give_or_take_is_not_said_to_be_as_expected() -> None:
    """1.8 mm off what was expected to 1.5: within the 95 % of two dimensions (2.45 deviations), and yet beyond what
    was said."""
    near, beyond = (Retest("middle", 0.0, 0.0, 0.75, (u, 0.0), as_expected=True) for u in (1.4, 1.8))
    assert retest_words(near, IN_MM).endswith(": as expected.")
    assert retest_words(beyond, IN_MM).endswith(": a little beyond, yet no surprise.")


def test_a_mark_is_no_news_once_something_was_turned_after_it() -> None:
    """Said at the step that follows the mark; not again after each screw, as if it spoke of that."""
    session = _marked()
    for turn in session.advice().turns:
        session.turn(turn.mirror, dict(turn.screws))
    session.mark("middle", 0.1, 0.1)
    assert news(session, IN_MM)
    session.turn(1, {"B": 0.02})
    assert news(session, IN_MM) == ()
    session.undo()
    assert news(session, IN_MM)
