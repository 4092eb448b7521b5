"""The end of the job: every station is centred, or no screw will help."""

from coach.advice import words
from coach.advice.advice import Advice, Cause
from coach.advice.faults import faults_taken
from coach.advice.reasons import AllCentred, BestThereIs
from coach.advice.stop_words import look_at
from coach.parts import Part
from coach.session.events import Shift, Turn
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.about import About
from coach.steps.cautions import COVERS, NOT_FIRING, SMOULDER, SUPPLY
from coach.steps.doses_said import dose_sentence
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind, Said, Stage, StepKind
from coach.steps.locks import beam_locks, tighten_words
from coach.steps.stages.checked_up import CHECKED_UP
from coach.steps.stages.leaving import ON_WITH_THE_VISIT, worst_words

STOPS: dict[Cause, tuple[str, str]] = {
    "yaw": ("No screw will cure this", "Gantry yaws"),
    "loose": ("No screw will cure this", "A part is loose"),
    "station": ("No screw will cure this", "One station is off"),
    "coarse": ("Further turning is not expected to help", "Screws too coarse"),
    "no screws": ("Nothing to turn", "No screws known"),
    "off the tape": ("The beam was not found", "Beam not found"),
    "not firing": ("Nothing was seen, whatever the dose", "No mark at any dose"),
    "edge": ("Centred, but a mirror is hit at its edge", "Mirror hit at edge"),
}
"""Cause to what a stop is called, and what it says in the large type."""
BEST_OF: tuple[Cause, ...] = ("yaw", "loose", "station", "coarse", "not firing", "edge")
"""Faults that can be taken as they are: with these the beam can still be brought to its best."""


def _adjusted(session: Session) -> bool:
    """Whether anything was turned or moved: else no lock nut was slackened for it."""
    return any(isinstance(event, Turn | Shift) for event in session.effective)


def _moved(session: Session, part: Part) -> bool:
    """Whether that part was moved."""
    return any(isinstance(event, Shift) and event.part == part for event in session.effective)


LOCK_FIRST = "Tighten lock nuts"
"""In the large type while lock nuts are slack: tightening them may move a mount, so nothing is done yet."""
HEAD_MOVED = "The head was moved: gauge the focus anew; check pointer and zero."
"""A head that sits higher or lower is out of focus, and one moved across cuts elsewhere."""
LOCK = ChoiceKind(
    key="lock",
    label="Lock nuts tight",
    wants="mirror",
    does=deeds.lock,
    makes="lock",
    offered=lambda about, session: bool(beam_locks(session)),
)
FINISH = ChoiceKind(
    key="finish",
    label="Finish",
    does=deeds.finish,
    makes="finish",
    offered=lambda about, session: not session.is_visit,
)
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
MISSED = ChoiceKind(
    key="missed",
    label="It fires, scorched beside: it missed",
    does=deeds.miss,
    makes="miss",
    read_back="The pulse at {station} missed its target: what it scorched lies beside it.",
    offered=lambda about, session: about.advice is not None and about.advice.cause == "not firing",
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
    figure, *costs = figure_and_costs(session, advice, wording)
    why = words.why(advice.reason, wording)
    best = isinstance(advice.reason, BestThereIs)
    title, large = done_words(advice)
    slack = beam_locks(session)
    if not best and not _adjusted(session):
        tape_off = "All tape off, optics behind it wiped, covers and interlocks back."
        return Said(title, large, figure, (*ELSEWHERE, *costs, tape_off), why, dose_sentence(session))
    locks = f"{tighten_words(slack)}; then row 1."
    faults = faults_taken(session.belief)
    stays = (f"What stays as it is: {words.staying(faults)}.",) if faults else ()
    closing = "Then all tape off; covers, interlocks and settings back; a test cut."
    focus = (HEAD_MOVED,) if _moved(session, "head") else ()
    locking = (locks,) if slack else ()
    do = (*stays, *locking, *costs, closing, *focus)
    return Said(title, LOCK_FIRST if slack else large, figure, do, why, dose_sentence(session))


def figure_and_costs(session: Session, advice: Advice, wording: Wording) -> tuple[str, str]:
    """The worst offset for the large type, and what it costs there: two claims, the first to be read from afar."""
    offset, costs = worst_words(session, advice, wording).split(": ")
    return f"worst {offset}", f"The worst {costs}."


def done_words(advice: Advice) -> tuple[str, str]:
    """What a job that is done is called, and what it says in the large type."""
    match advice.reason:
        case BestThereIs():
            return "Aligned to the best that can be had", "Done: beam at best"
        case AllCentred(turned=False):
            return "The alignment was not your trouble", "Alignment is good"
        case _:
            return "Every station is centred", "Done: beam centred"


def _stop(about: About, session: Session, wording: Wording) -> Said:
    advice = about.advice
    assert advice is not None
    title, large = STOPS[advice.cause]
    firing = advice.cause == "not firing"
    return Said(
        title,
        large,
        "no more pulses: look at the machine" if firing else _figure(session, advice, wording),
        tuple(f"Look at: {thing}." for thing in look_at(advice.reason, wording)),
        words.why(advice.reason, wording),
        labels=FIRING_LABELS if firing else {},
    )


def _figure(session: Session, advice: Advice, wording: Wording) -> str:
    """That no turn helps; and, where the reason does not say so and the beam was found, what leaving it so costs."""
    if advice.cause in ("yaw", "loose", "station"):
        return f"no more turning; worst {worst_words(session, advice, wording)}"
    return "no more turning: look at the machine"


FIRING_LABELS: dict[ChoiceKey, str] = {
    "mended": "It did not fire; put right: pulse again",
    "best": "It fires, no scorch anywhere: go on",
}
"""Answers to whether it fires at all."""


DONE = Stage(
    "Done",
    (
        CHECKED_UP,
        StepKind(
            key="done",
            says=_done,
            own_cautions=(NOT_FIRING, SUPPLY, SMOULDER, COVERS),
            tone="good",
            choices=(LOCK, FINISH, ON_WITH_THE_VISIT),
            picture="bed",
            danger_begins=True,
            about=("advice",),
        ),
        StepKind(
            key="stop",
            says=_stop,
            own_cautions=(NOT_FIRING, SUPPLY, SMOULDER, COVERS),
            tone="stop",
            choices=(MENDED, BEST, MISSED, FINISH, ON_WITH_THE_VISIT),
            picture="path",
            danger_begins=True,
            about=("advice",),
        ),
    ),
)
