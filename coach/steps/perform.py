"""What the person said, turned into events: the one way from a step to the session."""

from collections.abc import Mapping

from coach.advice.advice import Advice
from coach.errors import InputError
from coach.reading.model import Reading
from coach.session.session import Session
from coach.shown import in_mm, shown_unit
from coach.steps.measuring import kept
from coach.steps.step import Step


def perform(
    session: Session,
    step: Step,
    choice: str,
    *,
    reading: Reading | None = None,
    turns: float | None = None,
    shift: Mapping[str, float] | None = None,
    mirror: int | None = None,
    typed: dict[str, str] | None = None,
) -> None:
    """Record the choice made at this step.  Raises InputError when it does not belong to the step."""
    if choice not in {offered.key for offered in step.choices}:
        raise InputError(f"{choice!r} is not offered at this step", expected=", ".join(c.key for c in step.choices))
    shot = step.shot
    match choice:
        case "acknowledge":
            session.gate(step.gate)
        case "arrived" if shot:
            session.arrive(shot)
        case "mark" | "nothing" | "flare" if shot:
            session.pulse(shot, choice)
        case "missed" if shot:
            session.miss(shot.name, x=shot.x, y=shot.y, target=shot.target)
        case "measured":
            _measured(session, step, reading)
        case "lock" if mirror is not None:
            session.lock(mirror)
        case "finish":
            session.finish()
        case "start" if step.advice:
            session.plan(step.advice if shown_unit() == "mm" else _advice_in_mm(session))
        case "turned" | "turned-otherwise":
            _turned(session, step, turns, typed)
        case "shifted" | "shifted-otherwise":
            _shifted(session, step, shift, typed)


def _advice_in_mm(session: Session) -> Advice:
    """The advice once more, its sentence in mm: that is how it is kept in the file."""
    with in_mm():
        return session.advice()


def _measured(session: Session, step: Step, reading: Reading | None) -> None:
    if reading is None or step.shot is None:
        raise InputError("No reading was given", expected="how far the mark is to the right and up")
    shot, final = step.shot, kept(reading)
    session.mark(
        shot.name,
        final.u,
        final.v,
        x=shot.x,
        y=shot.y,
        target=shot.target,
        sd=final.sd,
        kept=bool(reading.questions),
        typed=reading.typed,
    )


def _turned(session: Session, step: Step, turns: float | None, typed: dict[str, str] | None) -> None:
    assert step.screw is not None
    amount = step.screw.turns if turns is None else turns
    session.turn(step.screw.mirror, {step.screw.screw: amount}, typed=typed)


def _shifted(session: Session, step: Step, shift: Mapping[str, float] | None, typed: dict[str, str] | None) -> None:
    assert step.shift is not None
    task = step.shift
    amounts = shift if shift is not None else {"up": task.up, "right": task.right, "back": task.back}
    session.shift(task.part, **amounts, typed=typed)
