"""A mark below mirror 3: card or tape in place, one pulse, measured; hands go in with the key out, as at any tape."""

from collections.abc import Mapping

from coach.head import words as head_words
from coach.optics.below import least_lowered
from coach.session.head_events import HeadShot
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import head_deeds
from coach.steps.about import About, BelowShot
from coach.steps.cautions import AIR, BEAM, EYEWEAR, HANDS, LENS, NOT_FIRING, SPLIT, UNDER_HEAD, WAIT
from coach.steps.head_forms import card_form, expected_words, nozzle_form
from coach.steps.keys import StepKey
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.visit_deeds import skip_part
from coach.steps.words import KEY_IN, KEY_OUT, MEASURE, OUT_AGAIN

READY = ChoiceKind(key="ready", label="In place", does=head_deeds.ready, makes="item")
LEAVE_OUT = ChoiceKind(
    key="skip-part", label="Leave this part out, with a reason", wants="why", does=skip_part, makes="skip"
)
AGAIN = ChoiceKind(key="ready", label="Looked, no scorch: once more", does=head_deeds.ready, makes="item")
NO_MARK = ChoiceKind(key="ready", label="No mark after all: fresh, once more", does=head_deeds.ready, makes="item")
NOTHING_THROUGH = ChoiceKind(
    key="nothing-through",
    label="Scorched inside: nothing came through",
    does=head_deeds.nothing_through,
    makes="nozzle_mark",
    read_back="The pulse did not come through the nozzle: what it scorched lies inside.",
    offered=lambda about, session: about.below is not None and about.below.target != "pointer" and about.below.lens,
)
CARD = 100.0
"""mm, its side: wide enough for whatever mirror 3 may lean (a test computes it)."""
ON_WHAT: Mapping[HeadShot, str] = {
    "bed": "on the card",
    "nozzle": "under the nozzle",
    "pointer": "on the card",
}
SQUARE = (
    "A square on the card, upright against the head from the left, then from the front: pencil its foot, anew at "
    "each height, and count from there."
)
"""How the bed's own way down is taken out of the lean (common practice)."""


FIRST_CARD = f"A card {CARD:.0f} mm square, fixed to the bed under the head, steel or tile below it."


def shot_of(about: About) -> BelowShot:
    """The pulse that a step is about.  Only where there is one."""
    assert about.below is not None
    return about.below


def card_lens(shot: BelowShot) -> str:
    """What has to be in the head, or out of it."""
    if shot.lens:
        return "Lens and nozzle in."
    return "Lens out, the nozzle too: its rim would cut the beam. Lens under a clean cup."


def _card(about: About, session: Session, wording: Wording) -> Said:
    advice, shot, bed = about.head, shot_of(about), session.machine.bed
    assert advice is not None
    again = bool(session.head_belief.on_card(lens=shot.lens))
    return Said(
        "Card under the head",
        "Same card under the head" if again else "Card under the head",
        f"lens {'in' if shot.lens else 'out'}, "
        + (f"bed {wording.length(shot.lowered, 0)} lower" if shot.lowered else "usual height"),
        (
            f"Head at {wording.head(bed.width / 2, bed.depth / 2)}, where it stays. Then {KEY_OUT}.",
            card_lens(shot),
            "The same card, not shifted on the bed." if again else FIRST_CARD,
            _height(session, shot, wording),
            SQUARE,
        ),
        head_words.why(advice.reason, wording),
    )


def _height(session: Session, shot: BelowShot, wording: Wording) -> str:
    """How high the bed is to stand, and what stands in for a bed without a lift."""
    tuning = session.head_belief.tuning.head
    least = wording.length(least_lowered(tuning.card_sd, tuning.lean), 0)
    there = f"{wording.length(shot.lowered, 0)} below usual" if shot.lowered else "at its usual height"
    return f"Bed {there} (lift, block); the other height {least} off or more."


def _tape(about: About, session: Session, wording: Wording) -> Said:
    advice, bed = about.head, session.machine.bed
    assert advice is not None
    return Said(
        "Tape under the nozzle",
        "Tape under the nozzle",
        "lens and nozzle in",
        (
            f"Head at {wording.head(bed.width / 2, bed.depth / 2)}. Then {KEY_OUT}.",
            f"{card_lens(shot_of(about))} Steel or tile under the head.",
            "Fresh tape across the nozzle from below, pressed so that its rim leaves an imprint. Write BACK on the "
            "edge that looks to the back.",
        ),
        head_words.why(advice.reason, wording),
        labels={"ready": "In place, rim pressed in"},
    )


def _pulse(about: About, session: Session, wording: Wording) -> Said:
    shot = shot_of(about)
    setting = (
        "Lens in: little marks near its focus. The lowest power that the tube strikes at, as briefly as you can."
        if shot.lens
        else "Lens out: as at the head's opening, the lowest power that marks, as briefly as you can."
    )
    return Said(
        f"Pulse {ON_WHAT[shot.target]}",
        "One short pulse",
        ON_WHAT[shot.target],
        (f"{KEY_IN} {setting} {OUT_AGAIN}",),
        expected_words(session, shot, wording),
    )


def _nothing(about: About, session: Session, wording: Wording) -> Said:
    shot = shot_of(about)
    where = "inside the nozzle and above it" if shot.lens else "beside the card and on the head"
    through = " A scorch inside the nozzle: nothing came through it." if shot.lens else ""
    return Said(
        f"No mark {ON_WHAT[shot.target]}",
        "Key out, then look",
        ON_WHAT[shot.target],
        (
            f"Key out first. Look {where}: a scorch, smouldering?{through}",
            "No scorch anywhere: is it on, does water flow, is the lid shut? Then once more, one step stronger.",
        ),
    )


def _measure_card(about: About, session: Session, wording: Wording) -> Said:
    return Said(
        "Mark on the card",
        MEASURE,
        "from the square's foot",
        (
            f"{KEY_OUT.capitalize()}, then hands in. The card stays where it is.",
            "From where the square's foot stood at this height to the mark's middle: how far to the right, and "
            "how far to the back. So it does not matter whether the bed goes straight down.",
            "On a block: without it the bed counts as lowered by the block's height.",
        ),
        labels={"whole": "Enter it"},
    )


def _measure_nozzle(about: About, session: Session, wording: Wording) -> Said:
    return Said(
        "Mark under the nozzle",
        MEASURE,
        "from the imprint's middle",
        (
            f"{KEY_OUT.capitalize()}, then hands in. Peel the tape off and look at its STICKY side, BACK away from "
            "you: so right is right, as seen from above.",
            "From the middle of the rim's imprint to the mark's middle. Cut off by the imprint's edge: say so.",
        ),
    )


def _measuring(key: StepKey, says: object, choices: tuple[ChoiceKind, ...]) -> StepKind:
    return StepKind(
        key=key,
        says=says,  # type: ignore[arg-type]
        own_cautions=(NOT_FIRING, WAIT, HANDS),
        choices=(*choices, NO_MARK),
        picture="below",
        about=("part", "below"),
    )


PULSED = tuple(
    ChoiceKind(key=key, label=label, does=head_deeds.fired(key), makes="head_pulse")  # type: ignore[arg-type]
    for key, label in (("mark", "A mark"), ("nothing", "No mark at all"), ("flare", "Flame or flare"))
)

BELOW = Stage(
    "Below",
    (
        StepKind(
            key="bed-card",
            says=_card,
            own_cautions=(NOT_FIRING, UNDER_HEAD, HANDS, LENS),
            choices=(READY, LEAVE_OUT),
            picture="below",
            about=("part", "head", "below"),
        ),
        StepKind(
            key="nozzle-tape",
            says=_tape,
            own_cautions=(NOT_FIRING, UNDER_HEAD, HANDS),
            choices=(READY, LEAVE_OUT),
            picture="below",
            about=("part", "head", "below"),
        ),
        StepKind(
            key="head-pulse",
            says=_pulse,
            own_cautions=(BEAM, EYEWEAR, AIR, UNDER_HEAD),
            choices=PULSED,
            danger_begins=True,
            picture="below",
            about=("part", "below"),
            fires=True,
        ),
        StepKind(
            key="head-nothing",
            says=_nothing,
            own_cautions=(NOT_FIRING, SPLIT, EYEWEAR, AIR),
            choices=(AGAIN, NOTHING_THROUGH),
            picture="below",
            about=("part", "below"),
        ),
        _measuring(
            "bed-mark",
            _measure_card,
            (
                ChoiceKind(
                    key="whole",
                    label="Enter the mark",
                    wants="figures",
                    does=head_deeds.card_measured,
                    makes="bed_mark",
                    form=card_form,
                ),
            ),
        ),
        _measuring(
            "nozzle-mark",
            _measure_nozzle,
            (
                ChoiceKind(
                    key="whole",
                    label="Enter the mark",
                    wants="figures",
                    does=head_deeds.nozzle_measured(cut=False),
                    makes="nozzle_mark",
                    form=nozzle_form,
                ),
                ChoiceKind(
                    key="cut-by-rim",
                    label="Its edge is cut by the rim: enter it",
                    wants="figures",
                    does=head_deeds.nozzle_measured(cut=True),
                    makes="nozzle_mark",
                    form=nozzle_form,
                ),
            ),
        ),
    ),
)
