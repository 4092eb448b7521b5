"""Is it good now: by the newest cut check, else by the marks; never by a check from before the last work."""

from coach.advice.chance_words import percent
from coach.advice.outlook import outlook
from coach.cutting.limits import FEWEST
from coach.head.outlook import outlook as outlook_below
from coach.report.page import Answer
from coach.report.so_far import capital
from coach.session.cut_checks import TOUCHED, cut_runs
from coach.session.events import Mark, Miss, Pulse
from coach.session.head_events import BedMark, NozzleMark
from coach.session.session import Session
from coach.shown import Wording, day_words
from coach.steps.head_said import lean_sentence
from coach.steps.results import SURE
from coach.steps.route import still_weak
from coach.steps.stages.cut_words import headline, told, word

QUESTION = "Is it good now?"
NO_CUTS = "whether it cuts again was not tried"
FEWEST_ON_BED = 2
"""Marks on the bed, at two heights, that it takes to tell a lean."""
MEASURED = 0.7
"""Degrees of doubt (one standard deviation) beyond which nobody measured the lean yet."""
LOOKED = (Mark, Miss, Pulse, BedMark, NozzleMark)
"""What tells of the machine and changes nothing at it."""
ANSWERS = {
    "yes": "Yes: it cuts as it did",
    "nearly": "Nearly: it cuts almost as it did",
    "no": "No: it does not cut as it did",
    "not known": "Not known: the cut check cannot tell",
}


def good_answer(session: Session, wording: Wording) -> Answer:
    """The newest cut check's answer, what it was before, and how far off the beam is believed to be."""
    runs = len(cut_runs(session.effective))
    beam = beam_now(session, wording)
    if not runs:
        return Answer(QUESTION, _by_the_beam(session), tuple(filter(None, (beam, head_now(session, wording)))))
    kept = session.compared_with()
    since = (f"Compared with the cuts of {day_words(kept.on)} ({kept.material}).",) if kept is not None else ()
    before = (f"At the first cut check: {cut_result(session, 0)[0]}.",) if runs > 1 else ()
    said = (*before, *since, *filter(None, (beam, head_now(session, wording))))
    newest = cut_result(session, runs - 1)[0]
    if worked_since(session):
        return Answer(QUESTION, "Not known yet: it was worked on since the newest cut check", (
            f"That check said: {newest}.", *said))  # fmt: skip
    return Answer(QUESTION, _answer(session, runs - 1), said)


def _answer(session: Session, number: int) -> str:
    """The check in a few words, with its figure."""
    said = cut_result(session, number)[0]
    if len(cut_runs(session.effective)[number].limits) < FEWEST:
        return capital(said)
    check = session.cuts(number)
    if check.worst is None:
        return f"Not known: how it once cut was never kept. {capital(said)}"
    return f"{ANSWERS[word(check)]} ({said.partition(', ')[2]})"


def weak_as_it_stands(session: Session) -> bool:
    """Whether it was cut after all that was done, and does not cut as it did."""
    return still_weak(session) and not worked_since(session)


def worked_since(session: Session) -> bool:
    """Whether anything was done to the machine since the newest cut, if one was made."""
    runs = cut_runs(session.effective)
    last = runs[-1].last if runs else 0
    return any(isinstance(e, TOUCHED) and not isinstance(e, LOOKED) for e in session.effective if e.id > last)


def _by_the_beam(session: Session) -> str:
    """Where nothing was cut: by the chance that every station is within the tolerance."""
    if not any(isinstance(event, Mark) for event in session.effective):
        return f"Not known: {NO_CUTS}, and no mark was made"
    if outlook(session.belief.layout, session.belief.settled).chance >= SURE:
        return f"The beam is where it should be at the head; {NO_CUTS}"
    return f"Not yet: the beam is not surely where it should be at the head; {NO_CUTS}"


def beam_now(session: Session, wording: Wording) -> str:
    """How far off the beam is to be expected now, with its doubt; "" where there is no mark to say it from."""
    if not any(isinstance(event, Mark) for event in session.effective):
        return ""
    view = outlook(session.belief.layout, session.belief.settled)
    return (
        f"Beam at the head as believed now: worst station {wording.length(view.worst)} off the middle (one time in "
        f"ten more than {wording.length(view.worst_high)}); every station within "
        f"{wording.exact(session.machine.tolerance)} with {percent(view.chance)} probability."
    )


def head_now(session: Session, wording: Wording) -> str:
    """How the beam leans below the head as believed now, with its doubt; "" where no two marks on the bed tell it."""
    if sum(isinstance(event, BedMark) for event in session.effective) < FEWEST_ON_BED:
        return ""
    belief = session.head_belief
    now = outlook_below(belief)
    if max(now.lean_sd) >= MEASURED:
        return ""
    said = lean_sentence(now, wording)
    good = f"good: up to {belief.tuning.head.lean:g}°"
    return f"Below the head the beam, as believed now, {said[:1].lower()}{said[1:-1]} ({good})."


def cut_result(session: Session, number: int) -> tuple[str, tuple[str, ...]]:
    """A cut check's headline with its figure, and all else that it says; `number` counts from 0."""
    cut = len(cut_runs(session.effective)[number].limits)
    if cut < FEWEST:
        return f"Cuts as it did: not known ({cut} of at least {FEWEST} stations cut)", ()
    check = session.cuts(number)
    before = session.cut_beside(number, number - 1) if number else None
    return ", ".join(headline(check, before)), told(session, check, before, number)
