"""The table of steps is whole and closed: what it names exists, and what it does not name cannot be built."""

from dataclasses import replace
from typing import get_args

import pytest
from built_steps import NAMES, built
from built_steps import step_at as at

from coach.advice.advice import Cause
from coach.session.events import StopCause
from coach.shown import IN_MM
from coach.steps import keys
from coach.steps.cautions import AIR, ALWAYS, EYEWEAR, NOT_FIRING, PULSE, RULES, SPLIT, SUPPLY, TAPE_FIRE, TUBE
from coach.steps.current import current_step
from coach.steps.gates import FLAME_OUT, GATES, TUBE_OFF
from coach.steps.locks import loose_locks
from coach.steps.parts.table import STAGES
from coach.steps.stages.between import UNTESTED
from coach.steps.stages.checking import LENS_BROKEN
from coach.steps.stages.closing import NONE_TURNED
from coach.steps.stages.cut_ending import NEW_BASELINE
from coach.steps.stages.done import STOPS
from coach.steps.stages.leaving import LEAVE, LEAVE_PART
from coach.steps.step import Choice
from coach.steps.table import STEPS, cautions_for, kind_of

ONLY_THERE = (LEAVE, LEAVE_PART, UNTESTED, LENS_BROKEN, NEW_BASELINE, NONE_TURNED)
"""Offered in some situations alone: tests/steps/test_endings.py, test_hands_and_beam.py, test_cut_checks.py and
test_visit.py there."""


def test_keys_and_table_name_the_same() -> None:
    """Every key of the types has its row, and every row its key; no key has two rows."""
    rows = [kind for stage in STAGES for kind in stage.steps]
    choices = {choice.key for kind in rows for choice in kind.choices}
    assert sorted(kind.key for kind in rows) == sorted(get_args(keys.StepKey))
    assert choices | {"fire"} == set(get_args(keys.ChoiceKey))
    assert "fire" not in choices  # the practice bench's: no person's answer
    assert sorted(g.name for kind in rows for g in kind.gates) == sorted(get_args(keys.GateName))
    assert {stage.name for stage in STAGES} == set(get_args(keys.StageName))
    assert {choice.makes for kind in rows for choice in kind.choices} == set(get_args(keys.EntryKind))
    assert {kind.picture for kind in rows} == set(get_args(keys.Picture))


def test_every_step_can_be_reached() -> None:
    """One job on the bench, a stop and a search come by every row of the table."""
    assert {at(name).key for name in NAMES} == set(STEPS)


@pytest.mark.parametrize("key", STEPS)
def test_every_step_has_cautions_of_its_own_and_the_three(key: keys.StepKey) -> None:
    """Its own first, then pulse briefly, tape fire, rules: in the table, and in the step as it is built."""
    own = kind_of(key).own_cautions
    assert own
    assert not set(own) & set(ALWAYS)
    assert cautions_for(key) == (*own, PULSE, TAPE_FIRE, RULES)
    for step in (at(name) for name in NAMES):
        assert step.cautions == cautions_for(step.key)


@pytest.mark.parametrize("key", STEPS)
def test_every_choice_is_offered_where_the_table_has_it(key: str) -> None:
    """The steps that sessions lead to offer their row's choices, each of them somewhere, and in that order."""
    steps = [step for step in map(at, NAMES) if step.key == key]
    rows = [(row.key, row.wants) for row in kind_of(key).choices if row not in ONLY_THERE]
    leave = (
        {"finish", "end-part"} if LEAVE in kind_of(key).choices else set()
    )  # only where it is harmless: test_endings
    offered = [list(dict.fromkeys((c.key, c.wants) for c in step.choices if c.key not in leave)) for step in steps]
    assert {choice for choices in offered for choice in choices} == set(rows)
    assert all(choices == [row for row in rows if row in choices] for choices in offered)
    assert all(choice.label for step in steps for choice in step.choices)


def test_an_unknown_step_cannot_be_built() -> None:
    """A key that is in no table raises at once, not at the screen."""
    with pytest.raises(ValueError, match="'pointer'"):
        replace(at("go"), key="pointer")


def test_a_choice_that_nobody_handles_cannot_be_offered() -> None:
    """Neither one that no step knows, nor another step's, nor one that would want something else."""
    for choice in (Choice("jump", "Jump"), Choice("finish", "Finish"), Choice("arrived", "There", wants="mirror")):
        with pytest.raises(ValueError, match="has no choice"):
            replace(at("go"), choices=(choice,))


@pytest.mark.parametrize("name", NAMES)
def test_a_step_cannot_be_built_without_what_it_is_about(name: str) -> None:
    """Each fact that its row asks for, left out, raises."""
    step = at(name)
    assert step.kind.about
    for fact in step.kind.about:
        with pytest.raises(ValueError, match=f"is about a {fact}"):
            replace(step, **{fact: None})


def test_a_pulse_is_made_where_the_table_says_so() -> None:
    """The steps at which somebody fires are those whose outcomes are pulses, and the beam is cautioned of there."""
    firing = {key for key, kind in STEPS.items() if kind.fires}
    assert firing == {
        key for key, kind in STEPS.items() if any(row.makes in ("pulse", "head_pulse") for row in kind.choices)
    }
    assert all("beam" in {caution.key for caution in cautions_for(key)} for key in firing)


def test_gates_stand_in_the_order_of_the_job() -> None:
    """The rules first, then what is done with the laser off, then the beam's, tape last; neither a flame nor the tube
    is among them.  Whether it is the alignment, and cleaning, are asked once; everything about safety again.
    """
    order = [gate.name for key in ("rules", "question", "clean", "safety", "tape") for gate in kind_of(key).gates]
    assert [gate.name for gate in GATES] == order
    assert {gate.name for gate in GATES if gate.asked == "once"} == {"question", "clean"}
    assert not {FLAME_OUT, TUBE_OFF} & set(GATES)


def test_where_the_tube_is_to_be_moved_its_caution_comes_first() -> None:
    """From the advice on, not only once hands are at it; and nowhere else, where it would be noise."""
    assert {key for key in STEPS if TUBE in cautions_for(key)} == {"adjust-tube", "unplug", "move-tube"}
    assert all(kind_of(key).own_cautions[0] is TUBE for key in ("adjust-tube", "unplug", "move-tube"))


def test_the_step_after_no_mark_does_not_contradict_itself() -> None:
    """It asks to look, key out, before another pulse, has eyewear and air as every pulse has, and nobody fires at it:
    what is said there is what was found."""
    step = at("nothing")
    assert SUPPLY not in step.cautions
    assert at("nothing-mirror").cautions[0] is at("at-mirror").cautions[0] is SUPPLY  # the tube's end is within reach
    assert {EYEWEAR, AIR, NOT_FIRING, SPLIT} <= set(step.cautions)
    assert not step.kind.fires
    assert not {"MORE", "PULSE", "FIRE"} & set(step.action.upper().split())
    assert "missing" not in " ".join(caution.text for caution in step.cautions)
    assert step.do[0].startswith("Key out first")


def test_two_marks_or_a_scorch_beside_are_a_stop() -> None:
    """The headline says that the key comes out, and why is said; nothing is fired again, two marks once seen to."""
    for name in ("elsewhere", "double"):
        assert "key out" in at(name).action
        assert at(name).why
        assert SPLIT in at(name).cautions
    assert [choice.key for choice in at("elsewhere").choices] == ["missed"]
    assert [choice.key for choice in at("double").choices] == ["arrived"]


def test_headlines_read_alone_do_not_mislead() -> None:
    """From two metres only the headline is read: no word FIRE alone beside a fire button, no part told to be moved as
    if it were driven there, and no two different ends with the same words."""
    said = {name: at(name).action for name in NAMES}
    assert "fire" not in " ".join(said.values()).lower()
    assert said["adjust-part"] != "Move head"
    assert said["adjust-tube"] == "Tube: unplug first"
    ends = [said[name] for name in ("done", "aligned", "stop", "off-tape")]
    assert len(set(ends)) == len(ends)
    assert not any("stop" in words.lower() or "turn" in words.lower() for words in ends)


def test_every_stop_says_what_it_is() -> None:
    """Every cause has a headline of its own; a beam that was not found is no fault that screws do not cure."""
    assert set(STOPS) == set(get_args(StopCause)) == set(get_args(Cause)) - {""}
    assert len({large for _, large in STOPS.values()}) == len(STOPS)
    assert STOPS["off the tape"] == ("The beam was not found", "Beam not found")
    assert at("off-tape").action == "Beam not found"
    assert at("stop").action == "Gantry yaws"


def test_where_nothing_was_turned_alignment_was_not_the_trouble() -> None:
    """Done without a turn or a move says so, and what to look at instead; after a turn it speaks of lock nuts."""
    fine, done = at("aligned"), at("done")
    assert fine.key == done.key == "done"
    assert "was not your trouble" in fine.title
    assert "focus" in fine.do[0]
    assert "Lock nuts" not in " ".join(fine.do)
    assert "Lock nuts" in done.do[0]


def test_done_is_not_said_while_lock_nuts_are_slack() -> None:
    """The headline alone: tightening may move a mount, so it comes first; then a mark at each station, then done."""
    session = built("done")
    assert current_step(session, IN_MM).action == "Tighten lock nuts"
    for mirror in loose_locks(session):
        session.lock(mirror)
    while (step := current_step(session, IN_MM)).key != "done":
        assert step.shot is not None
        session.mark(step.shot.name, u=step.shot.expected_u, v=step.shot.expected_v)
    assert step.action == "Done: beam centred"
    assert "Lock nuts" not in " ".join(step.do)


def test_a_flame_is_fought_in_the_right_order() -> None:
    """Let go, stop, no air to it, lid shut; then cloth or CO2; then out of the room (NFPA 115 by university
    laser-fire pages for the hazard; the order is common practice).  The air goes on again only once it is out."""
    text = FLAME_OUT.text
    order = ["Let go", "stop", "Air assist and extraction off", "lid shut", "damp cloth or CO2", "out of the room",
             "fire service", "extraction on"]  # fmt: skip
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_a_wide_card_is_said_to_be_of_what_may_be_shot_at() -> None:
    """What the card is made of, and that nothing behind it burns; nobody confirms fresh tape where a card stands."""
    step = at("search")
    assert step.shot.wide
    said = " ".join(step.do)
    assert all(words in said for words in ("never PVC", "nothing behind it that burns"))
    assert step.choices[0].label == "There, card up"
    measure = " ".join(at("search-measure").do)
    assert "from the cross on the card" in measure
    assert "imprint" not in measure
    assert "tape" not in measure
