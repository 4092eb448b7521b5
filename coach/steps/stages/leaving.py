"""Leaving a harmless offset as it is: what it costs, said before anything is adjusted."""

from dataclasses import replace

from coach.advice.advice import Advice
from coach.advice.cost_words import cost_words
from coach.advice.offset_cost import harmless, worst_cost
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.keys import ChoiceKey
from coach.steps.kind import ChoiceKind
from coach.steps.visit_deeds import end_beam_path

LEAVE = ChoiceKind(
    key="finish",
    label="Leave it: harmless",
    does=deeds.finish,
    makes="finish",
    read_back="The worst station stays at {worst}. Lock nuts tight, all tape off, covers and interlocks back: close "
    "this session.",
    offered=lambda about, session: harmless(session.belief) and not session.is_visit,
)
ON_WITH_THE_VISIT = ChoiceKind(
    key="end-part",
    label="On with the visit",
    does=end_beam_path,
    makes="end",
    offered=lambda about, session: session.is_visit,
)
LEAVE_PART = replace(
    ON_WITH_THE_VISIT,
    read_back="The worst station stays at {worst}. Lock nuts tight, all tape off: on with the visit.",
    offered=lambda about, session: harmless(session.belief) and session.is_visit,
)
"""The same in a visit, of which the beam's path is one part."""


def leave_label(session: Session) -> dict[ChoiceKey, str]:
    """What leaving it costs, on the choice itself where it is offered: who decides has to see it."""
    if not harmless(session.belief):
        return {}
    words = f"Leave it: {cost_words(*worst_cost(session.belief))}"
    return {"finish": words, "end-part": words}


def worst_words(session: Session, advice: Advice, wording: Wording) -> str:
    """The worst offset, and what it costs there: "about 0.9 mm: costs < 0.1 % power, 1.0° lean"."""
    return f"about {wording.length(advice.now.worst)}: costs {cost_words(*worst_cost(session.belief))}"
