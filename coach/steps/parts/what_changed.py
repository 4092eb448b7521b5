"""What changed, and how it cuts: questions whose answers order the suspects."""

from coach.session.part_events import Item
from coach.session.session import Session
from coach.session.visit_events import Answer
from coach.steps.about import About
from coach.steps.part import PartKind
from coach.steps.stages.questions import QUESTIONS_STAGE
from coach.steps.visit_progress import since_anew
from coach.triage.questions import QUESTIONS, Question


def _where(session: Session) -> About:
    """The first question that is open (asked anew, all of them); then what the answers speak for."""
    events = since_anew(session.effective, "what changed")
    closed = {event.name for event in events if isinstance(event, Item)}
    for asked in QUESTIONS:
        given = [event.answer for event in events if isinstance(event, Answer) and event.question == asked.key]
        if not given or _open_for_more(asked, given[-1], asked.key in closed):
            return About(key="ask", part="what changed", item=asked.key, more=bool(given))
    return About(key="suspects", part="what changed")


def _open_for_more(asked: Question, last: str, closed: bool) -> bool:
    """Whether another answer may join the last one."""
    return asked.many and last not in asked.alone and not closed


WHAT_CHANGED = PartKind(
    name="what changed",
    title="What changed",
    about="A few questions; they end with a list of suspects and the cheapest test of each.",
    laser="untouched",
    minutes=3,
    needs="a piece that it cut badly",
    stages=(QUESTIONS_STAGE,),
    where=_where,
)
