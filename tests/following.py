"""A person who does at each step what the coach asks, on the practice bench, and reads what the bench says."""

from coach import Session
from coach.practice.assist import Assist
from coach.reading.offsets import from_offsets
from coach.steps.measuring import questioned
from coach.steps.perform import perform
from coach.steps.step import Step


def follow(session: Session, step: Step) -> None:
    """Answers the step as told."""
    assist = Assist(session)
    if step.kind.fires:
        assist.fire(step)
    elif step.key == "measure":
        mark = assist.mark()
        assert mark is not None
        reading = from_offsets(f"{mark.u:.1f}", f"{mark.v:.1f}")
        perform(session, step, "measured", reading=questioned(session, step.shot, reading))
    else:
        perform(session, step, step.choices[0].key)
