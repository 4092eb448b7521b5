"""The pointer: last of all, onto the mark at two heights."""

from typing import assert_never

from coach.belief.transitions import DISTURBED
from coach.session.events import Disturbed, Event, Mark
from coach.session.session import Session
from coach.steps.about import About, BelowShot
from coach.steps.open_below import open_below
from coach.steps.part import PartKind
from coach.steps.stages.below import BELOW
from coach.steps.stages.pointing import POINTING
from coach.steps.visit_progress import since_begun


def _where(session: Session) -> About:
    """What is open; where nothing is, what the advice says.  A combiner that was moved asks for the beam's marks."""
    newest = next((e for e in reversed(since_begun(session, "pointer")) if isinstance(e, Mark) or _of_beam(e)), None)
    if isinstance(newest, Disturbed):
        return About(key="pointer-beam", part="pointer")
    advice = session.pointer_advice()
    shot = BelowShot("pointer", advice.lowered)
    looks = shot if advice.kind == "look" else None
    if (open_ := open_below(session.effective, "pointer", looks)) is not None:
        return open_
    match advice.kind:
        case "look":
            return About(key="pointer-card", part="pointer", pointer=advice, below=shot)
        case "turn":
            return About(key="pointer-turn", part="pointer", pointer=advice, below=shot)
        case "done":
            return About(key="pointer-done", part="pointer", pointer=advice)
        case _:
            assert_never(advice.kind)


def _of_beam(event: Event) -> bool:
    """Whether something was out or bumped that marks at the head feel."""
    return isinstance(event, Disturbed) and any(DISTURBED[event.part])


POINTER_PART = PartKind(
    name="pointer",
    title="Pointer",
    about="The pointer's spot onto a fresh mark, at the focus and at a second height, by its own screws.",
    laser="pulses",
    minutes=5,
    needs="a card, steel or tile for the bed, the key for the pointer's screws",
    stages=(BELOW, POINTING),
    where=_where,
)
