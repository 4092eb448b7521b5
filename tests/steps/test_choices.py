"""What a person can say at a step makes the one entry that the table says, or is refused with a sentence."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, get_args

import pytest
from built_steps import NAMES, built
from heads import head_machine

from coach import Session
from coach.errors import InputError
from coach.parts import DIRECTIONS
from coach.reading.offsets import from_offsets
from coach.session.events import (
    Arrive,
    Best,
    Event,
    Gate,
    Lock,
    Mark,
    Mended,
    Plan,
    Pulse,
    Refused,
    Shift,
    StopCause,
    Turn,
)
from coach.session.head_events import BedMark, HeadPulse, NozzleMark, Pointer
from coach.session.part_events import Item
from coach.session.pulse_checks import Dose
from coach.session.visit_events import Answer, Care, Check, Cut, SheetLaid
from coach.shown import IN_MM
from coach.steps import deeds, keys
from coach.steps.current import current_step
from coach.steps.item_words import item_words
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
    "dose": {"dose": Dose(ms=90.0, power=None, layers=2)},
    "why": {"why": "no time today"},
    "part": {"part": "close up"},
    "option": {"option": "good"},
    "figures": {"figures": {"front_left": 5.0, "back_right": 6.5}},
}
"""What comes with a choice, by what it wants."""
FIGURES: dict[str, dict[str, float | str]] = {
    "water": {"celsius": 21.0},
    "extraction": {},
    "cut-sheet": {"material": "ply 3 mm, lot 9", "power": 55.0, "speed": 30.0},
    "cut-station": {"fastest": 17.0, "next": 18.0},
}
"""Figures of the other things that steps are about, and of other steps."""
TIMES = {
    **{"turned": 1.0, "turned-half": 0.5, "turned-twice": 2.0, "turned-back": -1.0},
    **{"shifted": 1.0, "shifted-half": 0.5, "shifted-twice": 2.0, "shifted-back": -1.0},
}
"""How many times as far as told."""
BELOW = {"right": 0.3, "back": -0.1, "lowered": 170.0}
"""What is measured below the head."""


def came_with(step: Step, wants: str) -> dict[str, Any]:
    """The same at a step; a part is moved where moving it does anything."""
    if wants == "machine":
        return {"machine": head_machine()}
    if wants == "figures" and step.below is not None:
        return {"figures": BELOW}
    if wants == "shift" and step.shift is not None:
        return {"shift": {useful_directions(step.shift)[-1]: -1.5}}
    if wants == "option":
        return {"option": next((choice.option for choice in step.choices if choice.wants == wants), "good")}
    if wants == "figures":
        return {"figures": FIGURES.get(step.key) or FIGURES.get(step.item, CAME["figures"]["figures"])}
    return CAME.get(wants, {})


def entered(session: Session, step: Step, choice: str, came: Mapping[str, Any]) -> tuple[Event, ...]:
    """The entries that the choice made."""
    before = len(session.events)
    perform(session, step, choice, **came)
    return session.events[before:]


@pytest.mark.parametrize("name", NAMES)
def test_it_makes_the_entry_of_the_table(name: str) -> None:
    """Every choice: exactly one entry, of the kind that the row says, about what the step is about."""
    at = current_step(built(name), IN_MM)
    for row in [row for row in at.kind.choices if row.key in {choice.key for choice in at.choices}]:
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
            assert (event.outcome, event.shape) == (("mark", "cut") if row.key == "not-whole" else (row.key, "round"))
        case Arrive():
            assert (event.ms, event.power, event.layers) == ((90.0, None, 2) if row.wants else (None, None, None))
        case Mark():
            assert (event.u, event.v) == (1.5, -0.5)
            assert (event.sd, event.kept, event.typed) == (READING.sd, False, READING.typed)
        case Plan():
            advice = step.head or step.advice
            turns = {str(turn.mirror): dict(turn.screws) for turn in advice.turns}
            assert (event.turns, event.part, event.below) == (turns, advice.part, step.head is not None)
        case Turn():
            amount = TIMES[row.key] * step.screw.turns if row.wants == "" else -0.25
            assert (event.mirror, event.screws) == (step.screw.mirror, {step.screw.screw: amount})
        case Shift():
            told = tuple(TIMES.get(row.key, 1) * way for way in (step.shift.up, step.shift.right, step.shift.back))
            assert event.part == step.shift.part
            moved = {name: getattr(event, name) for name in ("up", "right", "back")}
            differently = {"up": 0.0, "right": 0.0, "back": 0.0, **came_with(step, "shift")["shift"]}
            assert moved == differently if row.wants else tuple(moved.values()) == told
        case Lock():
            assert event.mirror == (3 if row.key == "lock-three" else 2)
        case Refused():
            assert (event.part, event.axis) == (deeds.part_of(step), None)
        case Answer():
            assert (event.question, event.answer) == (step.item, came_with(step, "option")["option"])
        case Check():
            told = came_with(step, row.wants)
            assert (event.name, event.figures) == (step.item, told.get("figures", {}))
            assert event.result == told.get("option", "bad" if step.item == "bed" else "good")
        case Care():
            told = came_with(step, row.wants).get("option", "clean")
            assert (event.optic, event.result) == (step.item, told)
        case SheetLaid() if row.key == "sheet-other":
            entered = {name: getattr(event, name) for name in FIGURES["cut-sheet"]}
            assert entered == FIGURES["cut-sheet"]
        case SheetLaid():
            assert came_with(step, "option")["option"] == f"{event.material} at {event.power:g} %"
        case Cut():
            told = {"fastest": event.fastest, "next": event.next}
            lowest = dict(zip(told, map(float, came_with(step, "option")["option"].split()), strict=True))
            assert event.station == step.item
            assert told == (lowest if row.wants == "option" else FIGURES["cut-station"])
        case Item():
            assert item_words(event) is not None, "say it in steps/item_words.py"
        case Mended() | Best():
            assert event.cause == (step.head or step.advice).cause
        case HeadPulse():
            shot = step.below
            assert (event.target, event.lowered, event.lens) == (shot.target, shot.lowered, shot.lens)
            assert event.outcome == row.key
        case NozzleMark() if row.key != "nothing-through":
            assert (event.right, event.back, event.cut) == (0.3, -0.1, row.key == "cut-by-rim")
        case BedMark():
            assert (event.right, event.back, event.lowered) == tuple(BELOW.values())
            assert event.lens == step.below.lens
        case Pointer():
            told = BELOW if row.wants else {"right": 0.0, "back": 0.0, "lowered": step.below.lowered}
            assert (event.right, event.back, event.lowered) == tuple(told.values())
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
    """A miss, which makes the coach believe that the beam is far off, closing a session without a pulse, that a part
    cannot be moved, which is not asked again, and the opposite of what was told; every other choice that wants
    nothing counts at once.  The sentences name the station, or the part."""
    told: dict[tuple[str, str], str] = {}
    for name in NAMES:
        session = built(name)
        step = current_step(session, IN_MM)
        for choice in step.choices:
            sentence = confirmation(session, step, choice, IN_MM)
            if sentence:
                told[step.key, choice.key] = sentence
                assert step.shot is None or step.shot.name in sentence
                assert not choice.key.endswith("-back") or "the other way than told" in sentence
                assert choice.key != "refuse" or deeds.part_of(step) in sentence
    # "Leave it" stands at a move only where the offset does no harm, which is so on some machines
    harmless = {c.key for c in current_step(built("adjust-tube"), IN_MM).choices} & {"finish"}
    leaving = {("adjust-tube", key) for key in harmless}
    refusing = {(key, "refuse") for key in ("adjust-part", "adjust-tube", "move", "unplug", "move-tube")}
    missing = {(key, "missed") for key in ("measure", "nothing", "nothing-mirror", "elsewhere", "stop")}
    opposite = {("screw", "turned-back"), ("move", "shifted-back"), ("move-tube", "shifted-back")}
    ending = {
        ("next-part", "finish"),
        ("parts-done", "finish"),
        ("still-weak", "finish"),
        *((key, "item-open") for key in ("close-item", "interlock-test")),
    }
    slack = {(key, choice) for key in ("done", "stop") for choice in ("finish", "end-part")}
    below = {
        *(("head-adjust", key) for key in ("refuse", "end-part")),
        *(("head-shift", key) for key in ("refuse", "shifted-back")),
        *(("pointer-card", key) for key in ("no-pointer", "combiner", "end-part")),
        *(("pointer-turn", key) for key in ("combiner", "end-part")),
        *(("head-turn", "turned-back"), ("head-nothing", "nothing-through")),
        *(("head-stop", "end-part"), ("head-done", "end-part")),
    }
    assert set(told) - below == missing | {("question", "finish")} | leaving | refusing | opposite | ending | slack
    assert below <= set(told)
    misses = {(key, row.key) for key, kind in STEPS.items() for row in kind.choices if row.makes == "miss"}
    assert misses <= set(told)


def test_leaving_the_beam_with_slack_lock_nuts_is_read_back() -> None:
    """It names the mirrors that were turned and not locked since, and asks nothing once all are tight."""
    session = built("done")
    turned = sorted({event.mirror for event in session.effective if isinstance(event, Turn)})
    assert turned
    step = current_step(session, IN_MM)
    (finish,) = (choice for choice in step.choices if choice.key == "finish")
    for left in (turned[n:] for n in range(len(turned))):
        assert re.search(rf"mirrors? {' and '.join(map(str, left))}\.", confirmation(session, step, finish, IN_MM))
        session.lock(left[0])
    assert confirmation(session, step, finish, IN_MM) == ""


def test_a_screw_turned_the_other_way_is_read_back_with_its_amount() -> None:
    """Which way that is stands there in a word: the picture beside it still shows what was told."""
    session = built("screw")
    step = current_step(session, IN_MM)
    assert step.screw is not None
    (back,) = (choice for choice in step.choices if choice.key == "turned-back")
    way = "counterclockwise" if step.screw.turns > 0 else "clockwise"
    minutes = f"{60 * abs(step.screw.turns):.0f} tick"
    assert re.search(rf"than told: {minutes} \(\d+°\) {way}\.$", confirmation(session, step, back, IN_MM))


def test_a_step_may_offer_less_than_its_row() -> None:
    """What is left out at this moment is refused, though the table has it."""
    session = built("done")
    step = replace(current_step(session, IN_MM), choices=())
    before = session.events
    with pytest.raises(InputError, match="is not offered at this step"):
        perform(session, step, "finish")
    assert session.events == before


def test_more_than_a_turn_is_not_offered() -> None:
    """Twice 3/8 of a turn can be said, twice 5/8 cannot be entered and is not offered; half of it can."""
    for told, twice in ((0.375, True), (-0.625, False)):
        session = built("adjust")
        session._add("plan", turns={"1": {"B": told}})
        step = current_step(session, IN_MM)
        assert step.key == "screw"
        assert ("turned-twice" in {choice.key for choice in step.choices}) == twice
        perform(session, step, "turned-half")
        assert session.effective[-1].screws == {"B": told / 2}


def test_a_part_that_cannot_be_moved_is_not_asked_for_again() -> None:
    """Said at the advice, on the way, or before the tube is touched: the plan is over, and the belief knows."""
    for name in ("adjust-part", "move", "adjust-tube", "tube-off", "move-tube"):
        session = built(name)
        part = deeds.part_of(current_step(session, IN_MM))
        perform(session, current_step(session, IN_MM), "refuse")
        assert session.belief.refused == {(part, direction) for direction in DIRECTIONS[part]}
        assert deeds.part_of(current_step(session, IN_MM)) is None or current_step(session, IN_MM).advice is not None


def test_a_stop_can_be_gone_on_from_as_its_cause_allows() -> None:
    """Whatever was found can be mended, but for a profile without screws; a fault that leaves the beam on the tape
    can be taken as it is."""
    mendable = {cause: stop_choices(cause) for cause in get_args(StopCause)}
    assert {cause for cause, keys in mendable.items() if "mended" in keys} == set(mendable) - {"no screws"}
    assert {cause for cause, keys in mendable.items() if "best" in keys} == {
        "yaw",
        "loose",
        "station",
        "coarse",
        "not firing",
        "edge",
    }
    assert all("finish" in keys for keys in mendable.values())


def stop_choices(cause: str) -> set[str]:
    """What can be said at a stop of that cause."""
    session = built("stop")
    step = current_step(session, IN_MM)
    about = replace(step, advice=replace(step.advice, cause=cause))
    return {row.key for row in step.kind.choices if row.offered(about, session)}


def test_after_a_stop_the_job_goes_on() -> None:
    """Mended: a pulse comes next, since what was touched is believed less."""
    session = built("stop")
    perform(session, current_step(session, IN_MM), "mended")
    assert current_step(session, IN_MM).key == "go"
