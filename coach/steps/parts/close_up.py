"""Closing up: nothing forgotten, nothing smouldering."""

from coach.session.part_events import Item
from coach.session.session import Session
from coach.steps.about import About
from coach.steps.part import PartKind
from coach.steps.stages.closing import CLOSE_UP_STAGE, close_up_about, laser_at
from coach.steps.visit_progress import since_begun


def _where(session: Session) -> About | None:
    """The first thing on the list that was not answered since this part was gone to."""
    answered = (event.name for event in since_begun(session, "close up") if isinstance(event, Item))
    return close_up_about(frozenset(answered))


CLOSE_UP = PartKind(
    name="close up",
    title="Close up",
    about="Tape, lock nuts, covers, interlock, settings: item by item, until the machine may be left.",
    laser="off",
    minutes=5,
    needs="tissue and isopropanol, the keys for the screws",
    stages=(CLOSE_UP_STAGE,),
    where=_where,
    laser_at=laser_at,
)
