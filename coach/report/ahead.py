"""What next: the next step, what is left open, and what the service is to be asked."""

from coach.advice import words
from coach.report.doubts import contradictions
from coach.report.good_now import weak_as_it_stands
from coach.report.page import Answer
from coach.report.so_far import capital, finished
from coach.session.part_events import ANEW, Item, Skip
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.current import current_step
from coach.steps.entries import entry_words
from coach.steps.locks import loose_locks, nuts_of
from coach.steps.route import stale_words
from coach.steps.stages.verdict import headline
from coach.steps.visit_result import not_gone_to, parts_left_open

QUESTION = "What next?"
NOTHING = "Nothing was left open"


def next_answer(session: Session, wording: Wording) -> Answer:
    """First what matters most: the next step, else what still weakens it, else the first thing that is open."""
    first, *rest = still_open(session, wording) or (NOTHING,)
    return Answer(QUESTION, first.removesuffix("."), tuple(rest))


def still_open(session: Session, wording: Wording) -> tuple[str, ...]:
    """What comes next, and what was left: one sentence each."""
    skipped = {event.part: event.why for event in session.effective if isinstance(event, Skip)}
    unchecked = [name for name, each in session.checks().items() if each.result == "not checked"]
    slack = loose_locks(session)
    said = (
        *next_step(session, wording),
        *_weak(session, wording),
        *_parts_left(session),
        f"Not said to be tight: {nuts_of(slack)}." if slack else "",
        *(f"{capital(each)}." for each in _left(session, wording)),
        f"Not checked: {', '.join(unchecked)}." if unchecked else "",
        stale_words(session),
        *(f"Left out: {part} ({why})." for part, why in skipped.items()),
        *(f"Entries contradict each other: {doubt.asks}" for doubt in contradictions(session)),
    )
    return tuple(filter(None, said))


def _weak(session: Session, wording: Wording) -> tuple[str, ...]:
    """Where the evidence leads, as long as it does not cut as it did; nothing in a visit that is not finished."""
    if not finished(session) or not weak_as_it_stands(session):
        return ()
    verdict = session.verdict(wording)
    return f"It still cuts weaker than it did. {headline(verdict)}.", verdict.says


def _parts_left(session: Session) -> tuple[str, ...]:
    """The parts of a closed visit that did not come to their end."""
    if not (finished(session) and session.is_visit):
        return ()
    begun, waits = parts_left_open(session), not_gone_to(session)
    return (f"Left before its end: {', '.join(begun)}." if begun else "", f"{capital(waits)}." if waits else "")


def _left(session: Session, wording: Wording) -> list[str]:
    """The things on the closing list that stay open, as they were answered last."""
    newest = {e.name: e for e in session.effective if isinstance(e, Item) and e.part == "close up" and e.name != ANEW}
    return [entry_words(event, wording) for event in newest.values() if not event.done]


def next_step(session: Session, wording: Wording) -> tuple[str, ...]:
    """What the coach would go on with, and what it says of the beam; nothing once finished."""
    if finished(session):
        return ()
    step = current_step(session, wording)
    advised = () if session.is_visit else (f"About the beam: {words.why(session.advice().reason, wording)}",)
    if step.gate is not None:
        return "Next step: its cautions are to be confirmed first.", *advised
    action = f": {step.action}" if step.action and step.action != step.title else ""
    said = f"Next step: {step.title}{action}"
    return said if said.endswith((".", "?", "!")) else f"{said}.", *advised
