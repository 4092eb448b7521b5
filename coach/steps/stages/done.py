"""The end of the job: every station is centred, or no screw will help."""

from coach.advice import words
from coach.advice.advice import Cause
from coach.advice.cost_words import cost_words
from coach.advice.offset_cost import worst_cost
from coach.session.events import Shift, Turn
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About
from coach.steps.cautions import COVERS, NOT_FIRING, SMOULDER
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind

STOPS: dict[Cause, tuple[str, str]] = {
    "yaw": ("No screw will cure this", "GANTRY YAWS"),
    "loose": ("No screw will cure this", "SOMETHING IS LOOSE"),
    "station": ("No screw will cure this", "ONE STATION IS OFF"),
    "coarse": ("Further turning is not expected to help", "SCREWS TOO COARSE"),
    "no screws": ("Nothing to turn", "NO SCREWS KNOWN"),
    "off the tape": ("The beam was not found", "BEAM NOT FOUND"),
}
"""Cause to what a stop is called, and what it says in the large type."""
BEST_OF: tuple[Cause, ...] = ("yaw", "loose", "station", "coarse")
"""Faults that can be taken as they are: with these the beam can still be brought to its best."""


def _adjusted(session: Session) -> bool:
    """Whether anything was turned or moved: else no lock nut was slackened for it."""
    return any(isinstance(event, Turn | Shift) for event in session.effective)


LOCK = ChoiceKind(
    key="lock",
    label="Lock nuts of a mirror tightened",
    wants="mirror",
    does=deeds.lock,
    makes="lock",
    offered=lambda about, session: bool(deeds.lockable(session)) and _adjusted(session),
)
FINISH = ChoiceKind(key="finish", label="Finish", does=deeds.finish, makes="finish")
MENDED = ChoiceKind(
    key="mended",
    label="Mended: go on",
    does=deeds.mended,
    makes="mended",
    offered=lambda about, session: about.advice is not None and about.advice.cause != "no screws",
)
BEST = ChoiceKind(
    key="best",
    label="Align to the best that can be had",
    does=deeds.take_as_it_is,
    makes="best",
    offered=lambda about, session: about.advice is not None and about.advice.cause in BEST_OF,
)

ELSEWHERE = (
    "Look instead at, in this order: the focus height, gauged; the lens, clean, whole and the right way round; the "
    "bed, level at its corners.",
    "Then at the water (15 to 25 °C, flowing), the extraction, and last the tube's current against what it was.",
)
"""Where weak cuts come from when the beam is on its path: the commonest first, each the cheapest to look at."""


def _done(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    figure = f"worst about {wording.length(advice.now.worst)}: costs {cost_words(*worst_cost(session.belief))}"
    why = words.why(advice.reason, wording)
    if not _adjusted(session):
        tape_off = "All tape off, optics behind it wiped, covers and interlocks back."
        return Said("The alignment was not your trouble", "ALIGNMENT IS GOOD", figure, (*ELSEWHERE, tape_off), why)
    return Said(
        "Every station is centred",
        "DONE: ALL CENTRED",
        figure,
        (
            "Lock nuts: tighten one mirror's at a time and say so; it moves a little, so marks confirm it.",
            "Then take all tape off, covers, interlocks and settings back, and make a test cut.",
        ),
        why,
    )


def _stop(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    title, large = STOPS[advice.cause]
    return Said(
        title,
        large,
        "no more turning: look at the machine",
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
            danger_begins=True,
            about=("advice",),
        ),
        StepKind(
            key="stop",
            says=_stop,
            own_cautions=(NOT_FIRING, SMOULDER),
            choices=(MENDED, BEST, FINISH),
            picture="path",
            danger_begins=True,
            about=("advice",),
        ),
    ),
)
