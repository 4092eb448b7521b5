"""Cleaning: every optic once, in the beam's order."""

from coach.session.part_events import Item
from coach.session.session import Session
from coach.session.visit_events import Care
from coach.steps.about import About
from coach.steps.part import PartKind
from coach.steps.stages.cleaning import CLEANING, ORDER
from coach.steps.visit_progress import since_anew


def _where(session: Session) -> About | None:
    """The first optic of which nothing was said yet."""
    events = since_anew(session.effective, "clean")
    seen = {event.optic for event in events if isinstance(event, Care)}
    without = {event.name for event in events if isinstance(event, Item) and event.part == "clean"}
    waits = next((optic for optic in ORDER if optic not in seen and optic not in without), None)
    return About(key="clean-optic", part="clean", item=waits) if waits is not None else None


CLEAN = PartKind(
    name="clean",
    title="Clean the optics",
    about="Optic by optic in the beam's order, the lens last; what each looks like is kept.",
    laser="off",
    minutes=10,
    needs="isopropanol 99 %, lens tissue or swabs, a blower bulb, a torch",
    stages=(CLEANING,),
    where=_where,
)
