"""A visit of several parts: in order and in any order, left out with a reason, and what the laser is meanwhile."""

import pytest
from asked_again import BEAM as BEFORE_PULSES
from visiting import at, visit

from coach import Session
from coach.errors import InputError
from coach.practice.demo import demo_machine
from coach.session.events import Gate
from coach.shown import IN_MM
from coach.steps.entries import entry_words
from coach.steps.key_now import QUIET
from coach.steps.parts.table import PARTS
from coach.steps.perform import perform
from coach.steps.stages.closing import CLOSING
from coach.steps.standing import standing
from coach.steps.undo import take_back
from coach.steps.visit import part_kind, part_rows
from coach.steps.visit_progress import state_of
from coach.upkeep.visited import VISITED
from coach.visit import VISIT_PARTS

BEAM = [*BEFORE_PULSES, "tape"]


def acknowledged(session: Session) -> list[str]:
    """The gates that are asked one after the other."""
    while at(session).gate:
        perform(session, at(session), "acknowledge")
    return [event.name for event in session.effective if isinstance(event, Gate)]


def test_the_parts_stand_in_the_order_of_the_visit() -> None:
    """And each says what it is, how long it takes and what is needed."""
    names = [part.name for part in PARTS]
    assert names == list(VISIT_PARTS)
    assert all(part.about and part.needs and part.minutes > 0 and part.stages for part in PARTS)


def test_nobody_fires_in_a_part_that_leaves_the_key_where_it_is() -> None:
    """Whether the key may be in is not asked for what was left there; what pulses or cuts is none of these."""
    assert "clean" in QUIET
    assert not QUIET & {"cut check", "beam path", "head", "pointer", "cut again", "close up"}
    quiet = [stage for part in PARTS if part.name in QUIET for stage in part.stages]
    assert not any(kind.fires for stage in quiet for kind in stage.steps)
    with pytest.raises(ValueError, match="'attic'"):
        part_kind("attic")


def test_a_session_without_parts_is_about_the_beams_path_alone() -> None:
    """As ever: its own gates, "is it alignment?" and cleaning among them, and no word of a visit."""
    session = Session.start(demo_machine())
    assert acknowledged(session) == ["rules", "question", "clean", *BEAM]
    assert standing(session, at(session)).visit is None


def test_in_a_visit_other_parts_see_to_the_question_and_the_cleaning() -> None:
    """What a whole part is for is no gate of the beam's path."""
    assert acknowledged(visit("beam path")) == ["rules", *BEAM]
    assert at(visit("beam path")).gate == "eyewear"


def test_hands_go_in_only_once_the_machine_is_off_and_the_way_back_is_led_through() -> None:
    """Off, unplugged, waited; then plug, water, axes, and the beam's gates anew; and again after a resume."""
    session = visit("beam path")
    acknowledged(session)
    session.begin("close up")
    assert (at(session).key, at(session).gate) == ("switch-off", "isolated")
    perform(session, at(session), "acknowledge")
    assert at(session).key == "close-item"
    session.opened()
    assert acknowledged(session)[-2:] == ["rules", "isolated"]
    session.begin("beam path")
    assert (at(session).key, at(session).gate) == ("switch-on", "powered")
    assert acknowledged(session)[-len(BEAM) - 1 :] == ["powered", *BEAM]
    assert at(session).key == "go"
    session.opened()
    assert "powered" not in acknowledged(session)[-6:]
    session.begin("close up")
    assert at(session).gate == "isolated"


def test_a_list_is_gone_through_item_by_item_and_what_stays_open_stands_so() -> None:
    """Each thing once, in order; then what comes next is said, with what became of each part."""
    session = visit("close up")
    acknowledged(session)
    for number, item in enumerate(CLOSING, start=1):
        acknowledged(session)
        step = at(session)
        assert (step.item, step.action, step.figure) == (item.name, item.title, f"{number} of {len(CLOSING)}")
        perform(session, step, "item-open" if item.name == "locks" else "item-done")
    assert at(session).key == "parts-done"
    assert dict(part_rows(session))["close up"] == "Close up: done"
    take_back(session)
    assert at(session).item == CLOSING[-1].name


@pytest.mark.parametrize("turned", [False, True])
def test_lock_nuts_nobody_slackened_are_said_to_be_so_and_not_to_be_tried(turned: bool) -> None:
    """A visit without a turn offers it first; its entry says what was so, and upkeep does not take it for a trial."""
    session = visit("close up")
    if turned:
        session.turn(1, {"B": 0.1})
    while (step := at(session)).item != "locks":
        perform(session, step, "acknowledge" if step.gate else "item-done")
    keys = [choice.key for choice in step.choices]
    assert keys == [*(() if turned else ("none-turned",)), "item-done", "item-open"]
    perform(session, step, keys[0])
    assert at(session).item == "nozzle"
    said = entry_words(session.effective[-1], IN_MM)
    assert ("no lock nut was slackened" in said) is not turned
    assert ("lock nuts" in {item for item, _ in VISITED.of(session._doc)}) is turned


def test_hands_are_out_before_the_interlock_is_tested_and_the_beams_gates_are_asked_first() -> None:
    """The machine is off while tape, optics and covers are seen to; on again, led through, for what needs it on."""
    session = visit("close up")
    asked: dict[str, list[str]] = {}
    for item in CLOSING:
        before = len(acknowledged(session))
        asked[item.name] = [event.name for event in session.effective if isinstance(event, Gate)]
        assert before == len(asked[item.name])
        perform(session, at(session), "item-done")
    assert "powered" not in asked["covers"]
    assert asked["settings"][-1] == "powered"
    assert asked["interlock"][-len(BEFORE_PULSES) :] == BEFORE_PULSES
    assert asked["parked"] == [*asked["interlock"], "key-out"]
    assert asked["notes"] == asked["parked"]


def test_a_part_is_left_out_with_a_reason_and_can_be_gone_to_all_the_same() -> None:
    """Without one it is refused, and nothing is entered."""
    session = visit("what changed")
    session.begin("close up")
    acknowledged(session)
    for _ in CLOSING:
        acknowledged(session)
        perform(session, at(session), "item-done")
    session.gate("isolated")
    while (step := at(session)).part != "beam path":
        perform(session, step, "skip-part", why="the service sees to it")
    with pytest.raises(InputError, match="No reason was given"):
        perform(session, step, "skip-part", why="  ")
    perform(session, step, "skip-part", why="no time today")
    while at(session).key != "parts-done":
        perform(session, at(session), "skip-part", why="no time today")
    assert dict(part_rows(session))["beam path"] == "Beam path: left out"
    perform(session, at(session), "other-part", part="beam path")
    assert at(session).gate == "powered"


def test_the_beams_path_ends_on_with_the_visit() -> None:
    """In a visit its end closes no session."""
    session = visit("beam path")
    acknowledged(session)
    session.end("beam path")
    assert at(session).key == "next-part"
    assert dict(part_rows(session))["beam path"] == "Beam path: done"
    assert standing(session, at(session)).visit is not None
    with pytest.raises(InputError, match="is no part of a visit"):
        session.begin("lunch")


def test_whoever_came_for_one_part_is_led_to_the_close_and_not_through_the_others() -> None:
    """Closing up is the only part that comes after it; then closing the visit is the first thing offered."""
    session = visit("pointer")
    session.end("pointer")
    assert (at(session).key, at(session).part) == ("next-part", "close up")
    session.skip("close up", "nothing was opened")
    assert at(session).key == "parts-done"
    assert at(session).choices[0].key == "finish"
    assert at(session).action == "No part left to do"
    session.begin("checks")
    session.end("checks")
    assert at(session).part == "what changed"


def test_a_part_that_is_through_may_be_looked_at_again() -> None:
    """Nothing entered there, it is as through as it was; with an entry it is open."""
    session = visit("what changed")
    session.answer("weak", "everywhere alike")
    session.end("what changed")
    session.begin("what changed")
    session.gate("rules")
    session.begin("cut check")
    assert state_of("what changed", session.effective) == "done"
    session.begin("what changed")
    session.answer("since", "always")
    session.begin("cut check")
    assert state_of("what changed", session.effective) == "left open"
