"""A check that ended well before something was changed that it depends on is asked for again, and said why.

What depends on what is common practice; that a lens which was out has its focus gauged anew, and what is bumped is
looked at again, says visit.md (§4, §6).
"""

from typing import get_args

import pytest

from coach import Session
from coach.practice.demo import demo_machine
from coach.session.events import DisturbedPart
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.steps.step import Step
from coach.triage.causes import CHECKS
from coach.triage.stale import STALE
from coach.visit import VISIT_PARTS

LEVEL = {"front_left": 5.0, "front_right": 5.1, "back_left": 5.0, "back_right": 5.1}


def at(session: Session) -> Step:
    """The step that asks something, all gates before it confirmed."""
    for _ in range(12):
        step = current_step(session, IN_MM)
        if not step.gate:
            return step
        perform(session, step, "acknowledge")
    raise AssertionError("gates without end")


def checked(**bad: str) -> Session:
    session = Session.start(demo_machine())
    session.gate("rules")
    session.begin("what changed")
    session.begin("checks")
    for name in CHECKS:
        session.check(name, bad.get(name, "good"))
    return session


def focus_again(session: Session) -> bool:
    step = at(session)
    return (step.key, step.item) == ("check", "focus") and step.do[0].startswith("Once more. ")


def test_the_focus_is_asked_for_again_once_the_bed_was_levelled() -> None:
    """The focus was gauged to a bed that hung otherwise; what the older check said clears nothing any more."""
    session = checked(bed="bad")
    assert at(session).action == "Found: bed"
    perform(session, at(session), "check-again")
    assert at(session).item == "bed"
    session.check("bed", "good", **LEVEL)
    assert {each.name: each.state for each in session.suspects()}["focus"] == "open"
    assert focus_again(session)
    session.check("focus", "good")
    assert at(session).key == "verdict"
    assert not session.stale_checks()


def test_a_bed_that_was_level_from_the_start_asks_for_nothing_again() -> None:
    """Measured twice and good both times: nothing was changed."""
    session = checked()
    session.check("bed", "good", **LEVEL)
    assert not session.stale_checks()
    assert at(session).key == "verdict"


def test_undo_of_what_made_it_stale_lets_the_check_hold_again() -> None:
    session = checked()
    session.disturbed("head")
    assert set(session.stale_checks()) == {"focus", "lens", "rail"}
    session.undo()
    assert not session.stale_checks()


@pytest.mark.parametrize("change", ["care", "shift", "marks", "squared"])
def test_what_is_done_after_the_checks_asks_for_them_before_it_is_cut_again(change: str) -> None:
    """A lens refitted, a head moved, lens out for marks, a gantry squared: once, after all of it, and said why."""
    session = checked()
    session.end("checks")
    match change:
        case "care":
            session.care("lens", "clean", taken_out=True)
        case "shift":
            session.shift("head", back=1.0)
        case "marks":
            session.bed_mark(0.1, 0.2, lens=False)
        case "squared":
            session.mended("yaw")
    for part in (part for part in VISIT_PARTS if part not in ("checks", "cut again", "close up")):
        assert at(session).part == part
        session.skip(part, "not now")
    step = at(session)
    assert step.part == "checks"
    assert "once more. " in step.why
    perform(session, step, "begin-part")
    asked = []
    while (step := at(session)).key == "check":
        asked.append(step.item)
        assert step.do[0].startswith("Once more. ")
        session.check(step.item, "good")
    assert set(asked) == ({"rail", "bed"} if change == "squared" else {"focus"})
    session.end("checks")
    assert at(session).part == "cut again"


def test_checks_that_were_left_out_are_not_asked_for_again() -> None:
    """Somebody who leaves them out knows that."""
    session = checked()
    session.end("checks")
    session.disturbed("machine")
    session.skip("checks", "not now")
    assert at(session).part != "checks"


def test_what_was_found_or_halts_is_not_forgotten_by_what_was_done_since() -> None:
    """Water that is too warm stays so, whatever was bumped; a bad focus stays found until it is looked at."""
    session = checked(focus="bad")
    session.check("water", "good", celsius=33.0)
    session.disturbed("machine")
    assert session.verdict().ends == "stop"
    assert {each.name: each.state for each in session.suspects()}["focus"] == "found"


def test_everything_that_can_be_bumped_stands_in_the_table() -> None:
    """Each part that can be out or bumped makes a check stale, and each sentence ends as one."""
    for part in get_args(DisturbedPart):
        session = checked()
        session.disturbed(part)
        assert session.stale_checks(), part
    assert all(why.endswith(".") for row in STALE.values() for why in row.values())
