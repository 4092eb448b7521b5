"""Leaving a harmless offset as it is: what it costs, said before anything is adjusted."""

from coach.advice.advice import Advice
from coach.advice.cost_words import cost_words
from coach.advice.offset_cost import harmless, worst_cost
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind

LEAVE = ChoiceKind(
    key="finish",
    label="Leave it: harmless",
    does=deeds.finish,
    makes="finish",
    read_back="The worst station stays at {worst}. Lock nuts tight, all tape off, covers and interlocks back: close "
    "this session.",
    offered=lambda about, session: harmless(session.belief),
)


def leave_label(session: Session) -> dict[ChoiceKey, str]:
    """What leaving it costs, on the choice itself where it is offered: who decides has to see it."""
    return {"finish": f"Leave it: {cost_words(*worst_cost(session.belief))}"} if harmless(session.belief) else {}


def worst_words(session: Session, advice: Advice, wording: Wording) -> str:
    """The worst offset, and what it costs there: "about 0.9 mm: costs < 0.1 % power, 1.0° lean"."""
    return f"about {wording.length(advice.now.worst)}: costs {cost_words(*worst_cost(session.belief))}"
