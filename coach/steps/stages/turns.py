"""Adjusting: screws turned one at a time, a part moved."""

from coach.advice import words
from coach.advice.advice import Advice
from coach.session.events import Plan
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About, ShiftTask
from coach.steps.afterwards import after_screw, after_shift
from coach.steps.cautions import NOT_FIRING, SUPPLY, TUBE
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.words import clock_face_words, named, shift_words, turn_words

START = ChoiceKind(key="start", label="Start", does=deeds.set_out, makes="plan")
TURNED = ChoiceKind(key="turned", label="Turned as told", does=deeds.turned, makes="turn")
TURNED_OTHERWISE = ChoiceKind(
    key="turned-otherwise", label="Turned differently", wants="turns", does=deeds.turned, makes="turn"
)
SHIFTED = ChoiceKind(key="shifted", label="Moved as told", does=deeds.shifted, makes="shift")
SHIFTED_OTHERWISE = ChoiceKind(
    key="shifted-otherwise", label="Moved differently", wants="shift", does=deeds.shifted, makes="shift"
)

LARGE = {"CLOCKWISE": "CLOCKWISE", "COUNTERCLOCKWISE": "COUNTER-CLOCKWISE", "": ""}
"""Directions in the large type, parted where a row may end."""


def _adjust(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    return _adjust_part(advice, wording) if advice.kind == "shift" else _adjust_mirrors(advice, wording)


def _adjust_part(advice: Advice, wording: Wording) -> Said:
    assert advice.part
    moved = shift_words(ShiftTask(advice.part, advice.up, advice.right, advice.back), wording)
    return Said(
        "Adjust",
        f"MOVE {advice.part.upper()}",
        moved,
        (f"Move the {advice.part} {moved}.",),
        words.why(advice.reason, wording),
    )


def _adjust_mirrors(advice: Advice, wording: Wording) -> Said:
    mirrors = " + ".join(str(turn.mirror) for turn in advice.turns)
    count = sum(len(turn.screws) for turn in advice.turns)
    return Said(
        "Adjust",
        f"ADJUST MIRROR{'S' if len(advice.turns) > 1 else ''} {mirrors}",
        f"{count} screw{'s' if count > 1 else ''}",
        tuple(
            f"Mirror {turn.mirror}, screw {name}: {turn_words(amount, wording)}"
            for turn in advice.turns
            for name, amount in turn.screws.items()
        ),
        words.why(advice.reason, wording),
        {"start": "Start, one at a time"} if count > 1 else {},
    )


def _screw(about: About, session: Session, wording: Wording) -> Said:
    task = about.screw
    assert task is not None
    turn = wording.turns(task.turns)
    return Said(
        f"Mirror {task.mirror}: screw {task.screw} ({task.number} of {task.of})",
        f"MIRROR {task.mirror} SCREW {task.screw} {turn.amount} {LARGE[turn.direction]}",
        f"{turn.fraction} {turn.direction.lower()}",
        (
            f"As seen facing the screw heads, behind the mirror: {clock_face_words(task.turns)}.",
            "Slacken a lock nut first; then say what you really turned.",
            *filter(None, (after_screw(session.belief, task),)),
        ),
        _plans_reason(session, wording),
    )


def _move(about: About, session: Session, wording: Wording) -> Said:
    task = about.shift
    assert task is not None
    moved, part = shift_words(task, wording), named(task.part)
    return Said(
        f"Move {part}",
        f"MOVE {task.part.upper()}",
        moved,
        (
            f"Move {part}: {moved}, as seen from the front, without tilting it.",
            "Say what you really moved.",
            *filter(None, (after_shift(session.belief, task),)),
        ),
        _plans_reason(session, wording),
    )


def _plans_reason(session: Session, wording: Wording) -> str:
    """Why the person set out to adjust; nothing where it would be advised no more."""
    reason = session.reason_for(next(event for event in reversed(session.effective) if isinstance(event, Plan)))
    return words.why(reason, wording) if reason is not None else ""


TURNS = Stage(
    "Turns",
    (
        StepKind(
            key="adjust",
            says=_adjust,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=(START,),
            picture="path",
            about=("advice",),
        ),
        StepKind(
            key="screw",
            says=_screw,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=(TURNED, TURNED_OTHERWISE),
            picture="mount",
            about=("screw",),
            why_was_said=True,
        ),
        StepKind(
            key="move",
            says=_move,
            own_cautions=(NOT_FIRING, TUBE, SUPPLY),
            choices=(SHIFTED, SHIFTED_OTHERWISE),
            picture="path",
            about=("shift",),
            why_was_said=True,
        ),
    ),
)
