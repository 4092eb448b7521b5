"""The end of the job: every station is centred, or no screw will help."""

from coach.advice import words
from coach.advice.offset_cost import cost_words, offset_costs
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About
from coach.steps.cautions import COVERS, NOT_FIRING, SMOULDER
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind

LOCK = ChoiceKind(
    key="lock",
    label="Lock nuts of a mirror tightened",
    wants="mirror",
    does=deeds.lock,
    makes="lock",
    offered=lambda about, session: bool(deeds.lockable(session)),
)
FINISH = ChoiceKind(key="finish", label="Finish", does=deeds.finish, makes="finish")


def _done(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    return Said(
        "Every station is centred",
        "DONE: STOP TURNING",
        f"worst about {wording.length(advice.now.worst)}: {cost_words(offset_costs(session.belief))}",
        (
            "Lock nuts: tighten one mirror's at a time and say so; it moves a little, so marks confirm it.",
            "Then take all tape off, covers, interlocks and settings back, and make a test cut.",
        ),
        words.why(advice.reason, wording),
    )


def _stop(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    return Said(
        "No screw will help",
        "STOP TURNING",
        f"cause: {advice.cause}",
        tuple(f"Look at: {thing}." for thing in advice.look_at),
        words.why(advice.reason, wording),
    )


DONE = Stage(
    "Done",
    (
        StepKind(
            key="done",
            says=_done,
            own_cautions=(NOT_FIRING, SMOULDER, COVERS),
            choices=(LOCK, FINISH),
            picture="bed",
            about=("advice",),
        ),
        StepKind(
            key="stop",
            says=_stop,
            own_cautions=(NOT_FIRING, SMOULDER),
            choices=(FINISH,),
            picture="path",
            about=("advice",),
        ),
    ),
)
