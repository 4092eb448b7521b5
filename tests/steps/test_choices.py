"""What a person can say at a step makes the one entry that the table says, or is refused with a sentence."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args

import pytest
from built_steps import NAMES, built

from coach import Session
from coach.errors import InputError
from coach.reading.offsets import from_offsets
from coach.session.events import Event, Gate, Lock, Mark, Plan, Pulse, Shift, Turn
from coach.shown import IN_MM
from coach.steps import keys
from coach.steps.current import current_step
from coach.steps.kind import ChoiceKind
from coach.steps.perform import perform
from coach.steps.step import Step
from coach.steps.table import STEPS
from coach.steps.wanted import confirmation, useful_directions

READING = from_offsets("1.5", "-0.5")
CAME: dict[str, dict[str, Any]] = {
    "reading": {"reading": READING},
    "turns": {"turns": -0.25},
    "shift": {"shift": {"back": -1.5}},
    "mirror": {"mirror": 2},
}
"""What comes with a choice, by what it wants."""


def came_with(step: Step, wants: str) -> dict[str, Any]:
    """The same at a step; a part is moved where moving it does anything."""
    if wants == "shift" and step.shift is not None:
        return {"shift": {useful_directions(step.shift)[-1]: -1.5}}
    return CAME.get(wants, {})


def entered(session: Session, step: Step, choice: str, came: Mapping[str, Any]) -> tuple[Event, ...]:
    """The entries that the choice made."""
    before = len(session.events)
    perform(session, step, choice, **came)
    return session.events[before:]


@pytest.mark.parametrize("name", NAMES)
def test_it_makes_the_entry_of_the_table(name: str) -> None:
    """Every choice: exactly one entry, of the kind that the row says, about what the step is about."""
    for row in current_step(built(name), IN_MM).kind.choices:
        session = built(name)
        step = current_step(session, IN_MM)
        (event,) = entered(session, step, row.key, came_with(step, row.wants))
        assert event.kind == row.makes
        check(event, step, row)


def check(event: Event, step: Step, row: ChoiceKind) -> None:
    """That the entry says what the step is about and what came."""
    match event:
        case Gate():
            assert event.name == step.gate
        case Pulse():
            assert event.outcome == row.key
        case Mark():
            assert (event.u, event.v) == (1.5, -0.5)
            assert (event.sd, event.kept, event.typed) == (READING.sd, False, READING.typed)
        case Plan():
            turns = {str(turn.mirror): dict(turn.screws) for turn in step.advice.turns}
            assert (event.turns, event.part) == (turns, step.advice.part)
        case Turn():
            amount = step.screw.turns if row.wants == "" else -0.25
            assert (event.mirror, event.screws) == (step.screw.mirror, {step.screw.screw: amount})
        case Shift():
            told = (step.shift.up, step.shift.right, step.shift.back)
            assert event.part == step.shift.part
            moved = {name: getattr(event, name) for name in ("up", "right", "back")}
            differently = {"up": 0.0, "right": 0.0, "back": 0.0, **came_with(step, "shift")["shift"]}
            assert moved == differently if row.wants else tuple(moved.values()) == told
        case Lock():
            assert event.mirror == 2
    if event.kind in ("arrive", "pulse", "mark", "miss"):
        at = step.shot
        assert (event.station, event.x, event.y, event.target) == (at.name, at.x, at.y, at.target)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_entered_unless_what_is_wanted_came(name: str) -> None:
    """Without what a choice wants, and with anything else besides, it is refused and nothing is entered."""
    session = built(name)
    step = current_step(session, IN_MM)
    before = session.events
    for row in step.kind.choices:
        right = came_with(step, row.wants)
        wrong = [right | came for wants, came in CAME.items() if wants != row.wants]
        for came in (*wrong, *([{}] if row.wants else [])):
            with pytest.raises(InputError):
                perform(session, step, row.key, **came)
    assert session.events == before


@pytest.mark.parametrize("name", NAMES)
def test_what_is_not_offered_is_refused(name: str) -> None:
    """Every other choice that there is, and one that there is not: a sentence, and no entry."""
    session = built(name)
    step = current_step(session, IN_MM)
    offered = {choice.key for choice in step.choices}
    before = session.events
    for choice in {*get_args(keys.ChoiceKey), "jump"} - offered:
        for came in ({}, *CAME.values()):
            with pytest.raises(InputError, match="is not offered at this step"):
                perform(session, step, choice, **came)
    assert session.events == before


def test_a_questioned_reading_that_is_kept_carries_a_wider_doubt() -> None:
    """With its questions the entry says that it was kept, and its doubt is at least half of what it was out by."""
    from coach.steps.measuring import questioned

    session = built("measure")
    step = current_step(session, IN_MM)
    reading = questioned(session, step.shot, from_offsets("40", "0"))
    assert reading.questions
    (event,) = entered(session, step, "measured", {"reading": reading})
    assert isinstance(event, Mark)
    assert event.kept
    assert event.sd >= max(question.out_by for question in reading.questions) / 2 > reading.sd


def test_what_would_do_harm_in_passing_is_read_back() -> None:
    """A miss, which makes the coach believe that the beam is far off, and closing a session without a pulse; every
    other choice that wants nothing counts at once.  The sentences name the station."""
    told: dict[tuple[str, str], str] = {}
    for name in NAMES:
        step = current_step(built(name), IN_MM)
        for choice in step.choices:
            sentence = confirmation(step, choice)
            if sentence:
                told[step.key, choice.key] = sentence
                assert step.shot is None or step.shot.name in sentence
    assert set(told) == {("measure", "missed"), ("nothing", "missed"), ("question", "finish")}
    misses = {(key, row.key) for key, kind in STEPS.items() for row in kind.choices if row.makes == "miss"}
    assert misses <= set(told)


def test_a_step_may_offer_less_than_its_row() -> None:
    """What is left out at this moment is refused, though the table has it."""
    session = built("done")
    step = replace(current_step(session, IN_MM), choices=())
    before = session.events
    with pytest.raises(InputError, match="is not offered at this step"):
        perform(session, step, "finish")
    assert session.events == before
