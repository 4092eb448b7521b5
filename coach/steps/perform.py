"""What the person said, turned into events: the one way from a step to the session."""

from collections.abc import Mapping

from coach.errors import InputError
from coach.machine import Machine
from coach.parts import Direction
from coach.reading.model import Reading
from coach.session.pulse_checks import Dose
from coach.session.session import Session
from coach.steps.deeds import Given
from coach.steps.form import Figures
from coach.steps.step import Step
from coach.visit import VisitPart


def perform(
    session: Session,
    step: Step,
    choice: str,
    *,
    reading: Reading | None = None,
    turns: float | None = None,
    shift: Mapping[Direction, float] | None = None,
    mirror: int | None = None,
    dose: Dose | None = None,
    why: str | None = None,
    part: VisitPart | None = None,
    option: str | None = None,
    figures: Figures | None = None,
    machine: Machine | None = None,
    typed: Mapping[str, str] | None = None,
) -> None:
    """Record the choice made at this step, as the table says.  Raises CoachError.

    InputError when the choice, or this option of it, is not offered at this step, when what it wants did not come, or
    something else did.
    """
    row = step.kind.choice(choice) if choice in {offered.key for offered in step.choices} else None
    if row is None:
        raise InputError(f"{choice!r} is not offered at this step", expected=", ".join(c.key for c in step.choices))
    given = Given(
        reading=reading, turns=turns, shift=shift, mirror=mirror, dose=dose, why=why, part=part, option=option,
        figures=figures, machine=machine,
    )  # fmt: skip
    given.check(row.wants)
    if option is not None and option not in (known := [c.option for c in step.choices if c.key == choice]):
        raise InputError(f"{option!r} is none of the answers here", expected="; ".join(known))
    row.does(session, step, given, typed or {})
