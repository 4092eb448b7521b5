"""Adjusting mirrors: screws turned one at a time."""

from dataclasses import replace

from coach.advice import words
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About, ScrewTask
from coach.steps.afterwards import after_screw
from coach.steps.cautions import NOT_FIRING, SUPPLY
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.locks import AFTER_TURN, before_turn
from coach.steps.stages.leaving import LEAVE, LEAVE_PART, leave_label
from coach.steps.stages.moves import MOVES
from coach.steps.stages.planned import START, plans_reason
from coach.steps.words import key_words, turn_amount, turn_words, way_words
from coach.units import MOST_TURNS_AT_ONCE


def _within_a_turn(about: About, session: Session) -> bool:
    """Whether twice as far as told is still something that can be entered."""
    return about.screw is not None and 2 * abs(about.screw.turns) <= MOST_TURNS_AT_ONCE


TURNED = (
    ChoiceKind(key="turned", label="Turned as told", does=deeds.turned(1.0), makes="turn"),
    ChoiceKind(key="turned-half", label="Half of it", does=deeds.turned(0.5), makes="turn"),
    ChoiceKind(
        key="turned-twice", label="Twice as far", does=deeds.turned(2.0), makes="turn", offered=_within_a_turn
    ),
    ChoiceKind(
        key="turned-back",
        label="The other way",
        does=deeds.turned(-1.0),
        makes="turn",
        read_back="The screw was turned the other way than told: {turned}.",
    ),
    ChoiceKind(key="turned-otherwise", label="Other: type it", wants="turns", does=deeds.turned(1.0), makes="turn"),
)


def _adjust(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    mirrors = " + ".join(str(turn.mirror) for turn in advice.turns)
    count = sum(len(turn.screws) for turn in advice.turns)
    return Said(
        "Adjust",
        f"Adjust mirror{'s' if len(advice.turns) > 1 else ''} {mirrors}",
        f"{count} screw{'s' if count > 1 else ''}",
        tuple(
            f"Mirror {turn.mirror}, screw {name}: {turn_words(amount, wording)}"
            for turn in advice.turns
            for name, amount in turn.screws.items()
        ),
        words.why(advice.reason, wording),
        labels={**leave_label(session), **({"start": "Start, one at a time"} if count > 1 else {})},
    )


def _screw(about: About, session: Session, wording: Wording) -> Said:
    assert about.screw is not None
    said = screw_said(about.screw, session, wording, facing="Facing its head")
    return replace(said, why=plans_reason(session, wording), then=after_screw(session.belief, about.screw))


def screw_said(task: ScrewTask, session: Session, wording: Wording, *, facing: str) -> Said:
    """One screw to be turned, of whichever mirror; `facing`: from where its head is looked at."""
    turn = wording.turns(task.turns)
    return Said(
        f"Mirror {task.mirror}: screw {task.screw} ({task.number} of {task.of})",
        f"Mirror {task.mirror} screw {task.screw} {way_words(turn.direction)}",
        f"{turn_amount(task.turns, wording)}, {turn.degrees}",
        (
            f"Key out. {before_turn(session, task.mirror, task.screw)} {facing}, {key_words(turn.direction)}, "
            f"by {turn.ticks} of a clock's face, {turn.fraction}.",
            AFTER_TURN,
        ),
    )


TURNS = Stage(
    "Turns",
    (
        StepKind(
            key="adjust",
            says=_adjust,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=(START, LEAVE, LEAVE_PART),
            picture="path",
            danger_begins=True,
            about=("advice",),
        ),
        StepKind(
            key="screw",
            says=_screw,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=TURNED,
            picture="mount",
            about=("screw",),
            why_was_said=True,
        ),
        *MOVES,
    ),
)
