"""How a closed visit ended, in a few words: whether it cuts again, and what stayed open."""

from coach.cutting.limits import FEWEST
from coach.session.cut_checks import cut_runs
from coach.session.document import Document
from coach.session.part_events import Item
from coach.session.session import Session
from coach.steps.part_state import became
from coach.steps.parts.table import PARTS
from coach.steps.route import passed_over
from coach.steps.stages.cut_words import Word, word
from coach.steps.visit_progress import one_part_alone, since_anew

CUTS: dict[Word, str] = {
    "yes": "cuts as it did",
    "nearly": "nearly cuts as it did",
    "no": "does not cut as it did",
    "not known": "cuts as it did: not known",
}


def visit_result(document: Document) -> str:
    """ "cuts as it did; open: pointer"; "" for a session that is no visit, or of which neither can be said."""
    session = Session(document)
    if not session.is_visit:
        return ""
    return "; ".join(filter(None, (_cuts(session), _open(session), not_gone_to(session))))


def _cuts(session: Session) -> str:
    runs = cut_runs(session.effective)
    if not runs:
        return ""
    if len(runs[-1].limits) < FEWEST:
        return CUTS["not known"]
    return CUTS[word(session.cuts())]


def _open(session: Session) -> str:
    """Parts that were left before their end, and what was left of closing up."""
    parts = parts_left_open(session)
    listed_now = since_anew(session.effective, "close up")
    items = {event.name: event.done for event in listed_now if isinstance(event, Item) and event.part == "close up"}
    left = sum(not done for done in items.values())
    listed = (*parts, *([f"{left} item{'s' if left > 1 else ''} of closing up"] if left else []))
    return f"open: {', '.join(listed)}" if listed else ""


def parts_left_open(session: Session) -> list[str]:
    """The parts that were begun and left before their end."""
    return [part.title.lower() for part in PARTS if became(part, session) in ("now", "left open")]


def not_gone_to(session: Session) -> str:
    """How many parts were never come to, where more than one was meant to be; "" for none."""
    passed = passed_over(session)
    if one_part_alone(session.effective):
        return ""
    waits = [part for part in PARTS if became(part, session) == "to come" and part.name not in passed]
    return f"{len(waits)} of {len(PARTS)} parts not gone to" if waits else ""
