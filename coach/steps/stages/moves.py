"""Adjusting by moving a part sideways; the tube, with a lethal supply beside it, has steps and a gate of its own."""

from coach.advice import words
from coach.parts import FARTHEST_AT_ONCE, Moved
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About, ShiftTask
from coach.steps.afterwards import after_shift
from coach.steps.cautions import NOT_FIRING, SUPPLY, TUBE
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Gate, Said, StepKind
from coach.steps.stages.gated import gate_step
from coach.steps.stages.leaving import LEAVE, LEAVE_PART, leave_label
from coach.steps.stages.planned import START, plans_reason
from coach.steps.words import named, shift_words

CANNOT = ChoiceKind(
    key="refuse",
    label="I cannot move it",
    does=deeds.refuse,
    makes="refused",
    read_back="On this machine {part} cannot be moved: the coach will not ask for it again.",
)


LARGE: dict[Moved, str] = {
    "mirror 1": "Slide mirror 1",
    "mirror 2": "Slide mirror 2",
    "head": "Head in its bracket",
    "tube": "Tube: unplug first",
    "lens": "Slide the lens tube",
}
"""In the large type: "move the head" alone would be read as driving it somewhere."""
IN_ITS_PLACE: dict[Moved, str] = {
    "mirror 1": "mirror 1 in its slot",
    "mirror 2": "mirror 2 in its slot",
    "head": "the head in its bracket",
    "tube": "the tube in its holders",
    "lens": "the lens tube, its nozzle with it,",
}


HOW: dict[Moved, str] = {
    "mirror 1": "Slacken its foot half a turn, slide it along a ruler so that it does not twist, tighten by turns.",
    "mirror 2": "Slacken its foot half a turn, slide it along a ruler so that it does not twist, tighten by turns.",
    "head": "Slacken its bracket half a turn, one screw still snug to guide it; slide it straight, tighten by turns.",
    "tube": "Unplugged: slacken both holders, push the glass gently, both ends alike, then snug, never tight. Hands "
    "off its ends, wires and water fittings.",
    "lens": "Slacken its clamp until it just slides, keep it upright, move it with its nozzle, tighten.",
}
"""How a part is slackened, guided and locked (common practice): the machine's manual comes first."""
MEASURED_FROM = "Callipers from a fixed edge, before and after. The machine's manual comes first."
"""How a move is measured."""


def _within_reach(about: About, session: Session) -> bool:
    """Whether twice as far as told is still something that can be entered."""
    if about.shift is None:
        return False
    return all(abs(amount) <= FARTHEST_AT_ONCE for amount in deeds.multiplied(about.shift, 2.0).values())


TIMES: dict[ChoiceKey, float] = {"shifted": 1.0, "shifted-half": 0.5, "shifted-twice": 2.0, "shifted-back": -1.0}
"""How many times as far as told a part was moved, by what is said."""

MOVED = (
    ChoiceKind(key="shifted", label="Moved as told", does=deeds.shifted(TIMES["shifted"]), makes="shift"),
    ChoiceKind(key="shifted-half", label="Half of it", does=deeds.shifted(TIMES["shifted-half"]), makes="shift"),
    ChoiceKind(
        key="shifted-twice",
        label="Twice as far",
        does=deeds.shifted(TIMES["shifted-twice"]),
        makes="shift",
        offered=_within_reach,
    ),
    ChoiceKind(
        key="shifted-back",
        label="The other way",
        does=deeds.shifted(TIMES["shifted-back"]),
        makes="shift",
        read_back="It was moved the other way than told: {moved}.",
    ),
    ChoiceKind(
        key="shifted-otherwise", label="Other: type it", wants="shift", does=deeds.shifted(1.0), makes="shift"
    ),
    CANNOT,
)

_UNPLUG = (
    Gate(
        "tube-off",
        "Plug out, then wait",
        "Machine off, key out, mains plug pulled and in sight. Wait as long as the machine's manual says: the supply "
        "holds a lethal charge after switch-off, and so do the tube's ends. Only somebody who is qualified opens the "
        "tube's compartment, and never alone: a second person stands by who can call for help.",
        "Unplugged, waited, qualified, not alone",
        "before the tube",
    ),
)


def _adjust_part(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    assert advice.part
    moved = shift_words(ShiftTask(advice.part, advice.up, advice.right, advice.back), wording)
    return Said(
        "Adjust",
        LARGE[advice.part],
        moved,
        (f"Move {IN_ITS_PLACE[advice.part]} {moved}, as seen from the front, without tilting it.",),
        words.why(advice.reason, wording),
        labels=leave_label(session),
    )


def _adjust_tube(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    moved = shift_words(ShiftTask("tube", advice.up, advice.right, advice.back), wording)
    return Said(
        "Adjust the tube",
        LARGE["tube"],
        moved,
        (
            f"The tube is to be moved {moved}: the last resort, for somebody qualified, never alone.",
            "If its holders cannot be moved, or nobody qualified is there, say so: the coach looks for another way.",
        ),
        words.why(advice.reason, wording),
        labels=leave_label(session),
    )


def _move(about: About, session: Session, wording: Wording) -> Said:
    task = about.shift
    assert task is not None
    moved = shift_words(task, wording)
    return Said(
        f"Move {named(task.part)}",
        LARGE[task.part],
        moved,
        (f"Key out. As seen from the front. {HOW[task.part]}", MEASURED_FROM),
        plans_reason(session, wording),
        after_shift(session.belief, task),
    )


def _move_tube(about: About, session: Session, wording: Wording) -> Said:
    task = about.shift
    assert task is not None
    moved = shift_words(task, wording)
    return Said(
        "Move the tube",
        "Move the tube",
        moved,
        (f"As seen from the front. {HOW['tube']}", MEASURED_FROM),
        plans_reason(session, wording),
        "Then: covers on, plug in, water flowing, axes homed.",
    )


MOVES = (
    StepKind(
        key="adjust-part",
        says=_adjust_part,
        own_cautions=(NOT_FIRING, SUPPLY),
        choices=(START, CANNOT, LEAVE, LEAVE_PART),
        picture="path",
        danger_begins=True,
        about=("advice",),
    ),
    StepKind(
        key="adjust-tube",
        says=_adjust_tube,
        own_cautions=(TUBE, SUPPLY, NOT_FIRING),
        choices=(START, CANNOT, LEAVE, LEAVE_PART),
        picture="path",
        danger_begins=True,
        about=("advice",),
    ),
    StepKind(
        key="move",
        says=_move,
        own_cautions=(NOT_FIRING, SUPPLY),
        choices=MOVED,
        picture="path",
        about=("shift",),
        why_was_said=True,
    ),
    gate_step("unplug", "Before the tube is touched", (TUBE, SUPPLY), _UNPLUG, more=(CANNOT,), about=("shift",)),
    StepKind(
        key="move-tube",
        says=_move_tube,
        own_cautions=(TUBE, SUPPLY, NOT_FIRING),
        choices=MOVED,
        picture="path",
        about=("shift",),
        why_was_said=True,
    ),
)
"""Their steps, in the order of the job."""
