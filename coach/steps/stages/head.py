"""Mirror 3, lens and nozzle: what is turned and moved, the good end, and what no screw helps."""

from dataclasses import replace

from coach.describing.at_need import head_known
from coach.head import words as head_words
from coach.head.advice import HeadAdvice, HeadCause
from coach.session.events import Shift, Turn
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import head_deeds
from coach.steps.about import About, ShiftTask
from coach.steps.afterwards import after_head_screw, after_head_shift
from coach.steps.cautions import COVERS, LENS, NOT_FIRING, SMOULDER, SUPPLY
from coach.steps.head_said import clipped_sentence, head_figure, lean_sentence
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.locks import loose_locks
from coach.steps.stages.below import LEAVE_OUT
from coach.steps.stages.done import LOCK_FIRST
from coach.steps.stages.ends import END_PART, ON
from coach.steps.stages.moves import CANNOT, HOW, IN_ITS_PLACE, LARGE, MEASURED_FROM, MOVED
from coach.steps.stages.turns import TURNED, screw_said
from coach.steps.words import named, shift_words, turn_words

RULE = "Mirror 3's screws put the beam through the nozzle; the lens's place makes it upright."
"""Which does what (docs/model.md: derived)."""
NOT_DESCRIBED = "Mirror 3's screws are not in this machine's profile, so none is told."
FIXED = "Mirror 3 is fixed on this machine: lens and head alone are moved."
STOPS: dict[HeadCause, tuple[str, str]] = {
    "nozzle": ("Seat it anew before anything is turned", "Nozzle badly seated"),
    "lens": ("Seat it anew before anything is turned", "Lens badly seated"),
    "no levers": ("Nothing is known that could be turned or moved", "Mirror 3: no screws known"),
    "head coarse": ("Further adjusting is not expected to help", "Head: screws too coarse"),
}
"""Cause to what a stop is called, and what it says in the large type."""
SET_OUT = ChoiceKind(key="start", label="Start", does=head_deeds.set_out_below, makes="plan")
DESCRIBE = ChoiceKind(
    key="describe-head",
    label="Describe it now",
    wants="machine",
    does=head_deeds.described,
    makes="described",
    offered=lambda about, session: session.practice is None and not head_known(session.machine),
)
UNDESCRIBED = ChoiceKind(key="undescribed", label="On without its screws", does=head_deeds.undescribed, makes="item")
LEAVE_HEAD = replace(
    END_PART,
    label="Leave it so: on with the visit",
    read_back="The head stays so: {head}. Lock nuts tight, lens and nozzle in, card and tape off: on with the visit.",
)


def _advice(about: About) -> HeadAdvice:
    assert about.head is not None
    return about.head


def _unknown(about: About, session: Session, wording: Wording) -> Said:
    return Said(
        "Head, lens and nozzle",
        "Mirror 3: not described",
        "its screws, the lens below",
        (
            "Which screws mirror 3 has, and what lens and nozzle hang below it, is not in this machine's profile.",
            "Described now, with a ruler and about 5 minutes, it holds for this visit and is kept with the machine. "
            "Laser supply off, key out.",
            "Without it the lens and the head alone are moved.",
        ),
        labels={"undescribed": "On without its screws"},
    )


def _adjust(about: About, session: Session, wording: Wording) -> Said:
    advice = _advice(about)
    stands = (lean_sentence(advice.now, wording), clipped_sentence(advice.now, wording))
    why = head_words.why(advice.reason, wording)
    if advice.kind == "turn":
        screws = [(n, amount) for turn in advice.turns for n, amount in turn.screws.items()]
        told = tuple(f"Mirror 3, screw {name}: {turn_words(amount, wording)}" for name, amount in screws)
        count = len(screws)
        labels: dict[ChoiceKey, str] = {"start": "Start, one at a time"} if count > 1 else {}
        figure = f"{count} screw{'s' if count > 1 else ''}"
        return Said("Adjust", "Adjust mirror 3", figure, (*told, *stands, RULE), why, labels=labels)
    assert advice.part
    moved = shift_words(ShiftTask(advice.part, advice.up, advice.right, advice.back), wording)
    told = (f"Move {IN_ITS_PLACE[advice.part]} {moved}, as seen from the front, without tilting it.",)
    return Said("Adjust", LARGE[advice.part], moved, (*told, *stands, RULE, *_no_screws(session)), why)


def _no_screws(session: Session) -> tuple[str, ...]:
    """Why no screw of mirror 3 is told, where none is."""
    if session.head_belief.layout.screws:
        return ()
    return (FIXED if session.machine.mirror3 == "fixed" else NOT_DESCRIBED,)


def _turn(about: About, session: Session, wording: Wording) -> Said:
    assert about.screw is not None
    said = screw_said(about.screw, session, wording, facing="Facing its head from outside the head")
    return replace(said, then=after_head_screw(session.head_belief, about.screw))


def _move(about: About, session: Session, wording: Wording) -> Said:
    task = about.shift
    assert task is not None
    return Said(
        f"Move {named(task.part)}",
        LARGE[task.part],
        shift_words(task, wording),
        (f"Key out. As seen from the front. {HOW[task.part]}", MEASURED_FROM),
        then=after_head_shift(session.head_belief, task),
    )


def _touched(session: Session) -> bool:
    """Whether lens or head were moved: then the focus is gauged anew."""
    return any(isinstance(event, Shift) and event.part in ("lens", "head") for event in session.effective)


def _slack(session: Session) -> bool:
    return 3 in loose_locks(session)


def _done(about: About, session: Session, wording: Wording) -> Said:
    advice = _advice(about)
    turned = any(isinstance(event, Turn) and event.mirror == 3 for event in session.effective)
    locking = ("Lock nuts of mirror 3: the screws held still; then one mark under the nozzle confirms.",)
    focus = ("The lens was moved: gauge the focus anew.",) if _touched(session) else ()
    return Said(
        "Head, lens and nozzle",
        LOCK_FIRST if _slack(session) else "Done: beam upright",
        head_figure(advice.now, wording),
        (
            *(locking if turned and _slack(session) else ()),
            lean_sentence(advice.now, wording),
            clipped_sentence(advice.now, wording),
            "Lens and nozzle in, finger tight; tape and card off, nothing smoulders.",
            *focus,
        ),
        head_words.why(advice.reason, wording),
    )


def _describable(about: About, session: Session) -> bool:
    """Whether describing mirror 3 would be a way on."""
    return _advice(about).cause == "no levers" and DESCRIBE.offered(about, session)


def _stop(about: About, session: Session, wording: Wording) -> Said:
    advice = _advice(about)
    title, large = STOPS[advice.cause]
    seat = advice.cause in ("nozzle", "lens")
    stands = () if seat else (lean_sentence(advice.now, wording), clipped_sentence(advice.now, wording))
    return Said(
        title,
        large,
        "look first, turn nothing" if seat else head_figure(advice.now, wording),
        (*(f"Look at: {thing}." for thing in head_words.look_at(advice.reason)), *_no_screws(session), *stands),
        head_words.why(advice.reason, wording),
        labels={"mended": "Seated anew: go on"} if seat else {},
    )


HEAD_STAGE = Stage(
    "Head",
    (
        StepKind(
            key="head-unknown",
            says=_unknown,
            own_cautions=(NOT_FIRING, SUPPLY, LENS),
            choices=(DESCRIBE, UNDESCRIBED, LEAVE_OUT),
            picture="head",
            about=("part",),
            danger_begins=True,
        ),
        StepKind(
            key="head-adjust",
            says=_adjust,
            own_cautions=(NOT_FIRING, SUPPLY, LENS),
            why_was_said=True,
            choices=(
                SET_OUT,
                replace(CANNOT, offered=lambda about, session: bool(_advice(about).part)),
                LEAVE_HEAD,
            ),
            danger_begins=True,
            picture="head",
            about=("part", "head"),
        ),
        StepKind(
            key="head-turn",
            says=_turn,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=TURNED,
            picture="mount",
            about=("part", "screw"),
            why_was_said=True,
        ),
        StepKind(
            key="head-shift",
            says=_move,
            own_cautions=(NOT_FIRING, LENS, SUPPLY),
            choices=MOVED,
            picture="head",
            about=("part", "shift"),
            why_was_said=True,
        ),
        StepKind(
            key="head-done",
            says=_done,
            own_cautions=(NOT_FIRING, SUPPLY, SMOULDER, COVERS),
            tone="good",
            why_was_said=True,
            choices=(
                ChoiceKind(
                    key="lock-three",
                    label="Lock nuts of mirror 3 tight",
                    does=head_deeds.lock_mirror_3,
                    makes="lock",
                    offered=lambda about, session: _slack(session),
                ),
                ON,
            ),
            danger_begins=True,
            picture="head",
            about=("part", "head"),
        ),
        StepKind(
            key="head-stop",
            says=_stop,
            own_cautions=(NOT_FIRING, SUPPLY, LENS, COVERS),
            tone="stop",
            choices=(
                ChoiceKind(
                    key="mended",
                    label="Mended: go on",
                    does=head_deeds.head_mended,
                    makes="mended",
                    offered=lambda about, session: _advice(about).cause != "no levers",
                ),
                ChoiceKind(
                    key="best",
                    label="Bring it to the best that can be had",
                    does=head_deeds.head_as_it_is,
                    makes="best",
                    offered=lambda about, session: _advice(about).cause != "no levers",
                ),
                replace(DESCRIBE, offered=_describable),
                LEAVE_HEAD,
            ),
            danger_begins=True,
            picture="head",
            about=("part", "head"),
        ),
    ),
)
