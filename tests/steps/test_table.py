"""The table of steps is whole and closed: what it names exists, and what it does not name cannot be built."""

from dataclasses import replace
from typing import get_args

import pytest
from built_steps import NAMES, built

from coach.shown import IN_MM
from coach.steps import keys
from coach.steps.cautions import ALWAYS, PULSE, RULES, TAPE_FIRE
from coach.steps.current import current_step
from coach.steps.gates import FLAME_OUT, GATES
from coach.steps.step import Choice, Step
from coach.steps.table import STAGES, STEPS, cautions_for, kind_of


def at(name: str) -> Step:
    """The step of a built session."""
    return current_step(built(name), IN_MM)


def test_keys_and_table_name_the_same() -> None:
    """Every key of the types has its row, and every row its key; no key has two rows."""
    rows = [kind for stage in STAGES for kind in stage.steps]
    choices = {choice.key for kind in rows for choice in kind.choices}
    assert sorted(kind.key for kind in rows) == sorted(get_args(keys.StepKey))
    assert choices | {"fire"} == set(get_args(keys.ChoiceKey))
    assert "fire" not in choices  # the practice bench's: no person's answer
    assert sorted(g.name for kind in rows for g in kind.gates) == sorted(get_args(keys.GateName))
    assert [stage.name for stage in STAGES] == list(get_args(keys.StageName))
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
    """The step that a session leads to offers its row's choices, all of them and in that order."""
    step = next(step for step in map(at, NAMES) if step.key == key)
    assert [(choice.key, choice.wants) for choice in step.choices] == [
        (row.key, row.wants) for row in kind_of(key).choices
    ]
    assert all(choice.label for choice in step.choices)


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
    assert firing == {key for key, kind in STEPS.items() if any(row.makes == "pulse" for row in kind.choices)}
    assert all("beam" in {caution.key for caution in cautions_for(key)} for key in firing)


def test_gates_stand_in_the_order_of_the_job() -> None:
    """Those of safety before all others, the rules first, tape after the check; a flame is none of them.

    Whether it is the alignment, and cleaning, are asked once; everything about safety every time.
    """
    first = [gate.name for gate in kind_of("safety").gates]
    assert [gate.name for gate in GATES][: len(first)] == first
    assert first[:4] == ["rules", "eyewear", "fire", "air"]
    order = [gate.name for gate in GATES]
    assert order.index("air") < order.index("question") < order.index("clean") < order.index("tape")
    assert {gate.name for gate in GATES if gate.asked == "once"} == {"question", "clean"}
    assert FLAME_OUT not in GATES
