"""A mark at a station: go there, pulse, measure."""

from coach.advice import words
from coach.advice.advice import Advice, Shot
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About
from coach.steps.cautions import AIR, BEAM, EYEWEAR, HANDS, NOT_FIRING, SPLIT, WAIT
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.words import go_words, where_words

ARRIVED = ChoiceKind(key="arrived", label="There, fresh tape on", does=deeds.arrive, makes="arrive")
OUTCOMES = (
    ChoiceKind(key="mark", label="There is a mark", does=deeds.pulsed("mark"), makes="pulse"),
    ChoiceKind(key="nothing", label="No mark at all", does=deeds.pulsed("nothing"), makes="pulse"),
    ChoiceKind(key="flare", label="Flame or flare-up", does=deeds.pulsed("flare"), makes="pulse"),
)
OFF_THE_TAPE = ChoiceKind(
    key="missed",
    label="Treat it as missed the tape",
    does=deeds.miss,
    makes="miss",
    read_back="The mark at {station} lies outside the tape, although the pulses were strong enough.",
)
MEASURED = ChoiceKind(key="measured", label="Measure the mark", wants="reading", does=deeds.measured, makes="mark")
NO_MARK_AFTER_ALL = ChoiceKind(
    key="missed",
    label="There was no mark after all",
    does=deeds.miss,
    makes="miss",
    read_back="There was no mark at {station} after all: the pulse missed the tape.",
)


def _go(about: About, session: Session, wording: Wording) -> Said:
    advice, shot = _advised(about)
    at_mirror2 = shot.target == "mirror 2"
    tape = "Wide fresh tape over mirror 2's opening." if at_mirror2 else "Fresh tape on the head's opening."
    if shot.wide:
        radius = wording.exact(session.machine.tape.wide)
        tape = (
            f"A card of {radius} radius before the opening, its cross on the middle: plain paper or board, never PVC "
            "or foil; nothing behind it that burns."
        )
    where = "mirror 2's own tape" if at_mirror2 else shot.name
    return Said(
        f"Go to {where}",
        f"GO TO {shot.name.upper()}",
        "  ".join(wording.axes(shot.x, shot.y)),
        (f"Move: {go_words(shot, wording)}.", tape if shot.wide else f"{tape} Press its rim in."),
        words.why(advice.reason, wording),
        labels={"arrived": "There, card up"} if shot.wide else {},
    )


def _pulse(about: About, session: Session, wording: Wording) -> Said:
    shot = _at(about)
    return Said(
        f"Pulse at {shot.name}",
        "ONE SHORT PULSE",
        shot.name,
        ("Call it out. The lowest power that marks; let go at once; watch the tape.", "Then say what you see."),
        _expected(shot, wording),
    )


def _nothing(about: About, session: Session, wording: Wording) -> Said:
    shot = _at(about)
    return Said(
        f"No mark at {shot.name}",
        "NO MARK: KEY OUT",
        shot.name,
        (
            "Key out, then look beside the tape, on its mount and behind it. Scorched there: it missed, no more "
            "pulses.",
            "Nothing anywhere: one more pulse, one small step stronger. Three steps at most; then: does it fire at "
            "all (water, lid, key, current)?",
        ),
        "Three things leave nothing: not firing, too weak, and missed.",
    )


def _measure(about: About, session: Session, wording: Wording) -> Said:
    shot = _at(about)
    return Said(
        f"Measure at {shot.name}",
        "MEASURE THE MARK",
        shot.name,
        (
            f"At {shot.name} ({where_words(shot, wording)}): leave the tape in place or peel it off.",
            "Measure where the mark lies against the imprint of the rim.",
        ),
        _expected(shot, wording),
    )


def _at(about: About) -> Shot:
    assert about.shot is not None
    return about.shot


def _advised(about: About) -> tuple[Advice, Shot]:
    assert about.advice is not None
    return about.advice, _at(about)


def _expected(shot: Shot, wording: Wording) -> str:
    return f"Expected {words.expected(shot, wording)}."


MARKS = Stage(
    "Marks",
    (
        StepKind(
            key="go",
            says=_go,
            own_cautions=(HANDS, NOT_FIRING),
            choices=(ARRIVED,),
            picture="bed",
            about=("shot", "advice"),
        ),
        StepKind(
            key="pulse",
            says=_pulse,
            own_cautions=(BEAM, EYEWEAR, AIR),
            choices=OUTCOMES,
            picture="bed",
            danger_begins=True,
            about=("shot",),
            fires=True,
        ),
        StepKind(
            key="nothing",
            says=_nothing,
            own_cautions=(SPLIT, BEAM, EYEWEAR, AIR),
            choices=(*OUTCOMES, OFF_THE_TAPE),
            picture="bed",
            about=("shot",),
            fires=True,
        ),
        StepKind(
            key="measure",
            says=_measure,
            own_cautions=(WAIT, HANDS),
            choices=(MEASURED, NO_MARK_AFTER_ALL),
            picture="tape",
            about=("shot",),
        ),
    ),
)
