"""The pointer, last of all: its spot onto the mark, at two heights, by its own screws."""

from dataclasses import replace
from math import hypot

from coach.head.pointer import PointerAdvice
from coach.optics.lens import tilted_plate_shift, zinc_selenide_index
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import head_deeds
from coach.steps.about import About, ShiftTask
from coach.steps.cautions import HANDS, NOT_FIRING, POINTER, SMOULDER, SUPPLY, UNDER_HEAD, WAIT
from coach.steps.head_forms import height_words, spot_form
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.stages.below import READY, shot_of
from coach.steps.stages.ends import END_PART, ON
from coach.steps.words import KEY_OUT, MEASURE, shift_words

PROVES_NOTHING = "The pointer proves nothing about the beam: the mark is where the beam is."
COMBINER = (
    "Leave the combiner alone: it steers the BEAM. Tilted or refitted it moves the beam itself (zinc selenide of "
    f"3 mm at 45°: {tilted_plate_shift(3.0, 45.0, zinc_selenide_index()):.1f} mm): then the marks come again."
)
COMBINER_MOVED = ChoiceKind(
    key="combiner",
    label="The combiner was moved",
    does=head_deeds.combiner_moved,
    makes="disturbed",
    read_back="The combiner was tilted or refitted: what was known of the beam's path counts for less.",
)
LEAVE_POINTER = replace(
    END_PART,
    label="Leave it so: on with the visit",
    read_back="The pointer's spot stays beside the mark: place sheets by a mark, not by the spot.",
)
NO_POINTER = ChoiceKind(
    key="no-pointer", label="It has no pointer", does=head_deeds.no_pointer, makes="skip",
    read_back="This part is left out: the machine has no pointer.",
)  # fmt: skip
SPOT = ChoiceKind(
    key="spot",
    label="Enter where the spot lies",
    wants="figures",
    does=head_deeds.spot_measured,
    makes="pointer",
    form=spot_form,
)
ON_MARK = ChoiceKind(key="on-mark", label="The spot is on the mark", does=head_deeds.spot_on_mark, makes="pointer")


def _advice(about: About) -> PointerAdvice:
    assert about.pointer is not None
    return about.pointer


def _card(about: About, session: Session, wording: Wording) -> Said:
    shot, bed = shot_of(about), session.machine.bed
    return Said(
        "Pointer",
        "Card for the pointer",
        "at the focus" if not shot.lowered else f"bed {wording.length(shot.lowered, 0)} lower",
        (
            f"Head at {wording.head(bed.width / 2, bed.depth / 2)}. Then {KEY_OUT}. Lens and nozzle in.",
            f"A fresh card on steel or tile, {height_words(shot.lowered, wording)}"
            f"{', where it cuts' if not shot.lowered else ''}; it is not moved between the pulse and the look.",
            PROVES_NOTHING,
        ),
        labels={"ready": "Card in place"},
    )


def _spot(about: About, session: Session, wording: Wording) -> Said:
    return Said(
        "Pointer",
        MEASURE,
        "from the mark",
        (
            f"{KEY_OUT.capitalize()}, then hands in; pointer on. Card and head stay where they are.",
            "From the mark's middle to the middle of the pointer's spot: how far to the right, how far to the back.",
        ),
    )


def _turn(about: About, session: Session, wording: Wording) -> Said:
    advice = _advice(about)
    goes = shift_words(ShiftTask("lens", 0.0, advice.right, advice.back), wording)
    angle = (
        (f"Pointer and beam cross at {hypot(*advice.angle):.1f}°: its tilt screws first.",) if advice.angle else ()
    )
    return Said(
        "Pointer",
        "Aim the pointer",
        f"spot goes {goes}",
        (
            f"Key out. By the pointer's OWN screws until the spot has gone {goes}, as seen from the front, and lies "
            f"on the mark, {height_words(advice.lowered, wording)}.",
            *angle,
            COMBINER,
        ),
        labels={"spot": "Still off: enter where it lies"},
    )


def _done(about: About, session: Session, wording: Wording) -> Said:
    labels: dict[ChoiceKey, str] = {}
    return Said(
        "Pointer",
        "Done: pointer on the mark",
        "at both heights",
        (PROVES_NOTHING, "Its screws snug, the card off. A new lens or nozzle, and this part comes again."),
        labels=labels,
    )


def _beam(about: About, session: Session, wording: Wording) -> Said:
    moved = next(event for event in reversed(session.effective) if event.kind == "disturbed")
    return Said(
        "Pointer",
        "Marks of the beam first",
        "the combiner was moved" if moved.part == "tube" else "something was bumped",
        ("The beam stands elsewhere now: the beam's path, then head and pointer come again.",),
        labels={"end-part": "Not now: on with the visit"},
    )


POINTING = Stage(
    "Pointer",
    (
        StepKind(
            key="pointer-card",
            says=_card,
            own_cautions=(POINTER, NOT_FIRING, UNDER_HEAD, HANDS),
            choices=(READY, NO_POINTER, COMBINER_MOVED, LEAVE_POINTER),
            picture="below",
            about=("part", "pointer", "below"),
            danger_begins=True,
        ),
        StepKind(
            key="pointer-spot",
            says=_spot,
            own_cautions=(POINTER, NOT_FIRING, WAIT, HANDS),
            choices=(SPOT, ON_MARK),
            picture="below",
            about=("part", "below"),
        ),
        StepKind(
            key="pointer-turn",
            says=_turn,
            own_cautions=(POINTER, NOT_FIRING, SUPPLY),
            choices=(ON_MARK, SPOT, COMBINER_MOVED, LEAVE_POINTER),
            picture="below",
            about=("part", "pointer", "below"),
        ),
        StepKind(
            key="pointer-done",
            says=_done,
            own_cautions=(POINTER, NOT_FIRING, SMOULDER),
            tone="good",
            choices=(ON,),
            picture="below",
            about=("part", "pointer"),
            danger_begins=True,
        ),
        StepKind(
            key="pointer-beam",
            says=_beam,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=(
                ChoiceKind(key="to-beam", label="To the beam's path", does=head_deeds.to_the_beam, makes="begin"),
                ON,
            ),
            picture="path",
            about=("part",),
            danger_begins=True,
        ),
    ),
)
