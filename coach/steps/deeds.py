"""What choices do: each makes one entry in the session from what the step is about and what came with the choice."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal, assert_never

from coach.advice.facts import Shot
from coach.errors import InputError
from coach.machine import Machine
from coach.parts import WAYS, Direction, Moved
from coach.reading.model import Reading
from coach.session.events import Outcome, Pulse, Shape
from coach.session.pulse_checks import Dose
from coach.session.session import Session
from coach.session.spots import dose, spot
from coach.steps.about import About, ShiftTask
from coach.steps.form import Figures
from coach.steps.keys import Wants
from coach.steps.measuring import as_entered
from coach.visit import VisitPart


@dataclass(frozen=True, kw_only=True)
class Given:
    """What came with a choice."""

    reading: Reading | None = None
    turns: float | None = None
    """Clockwise positive."""
    shift: Mapping[Direction, float] | None = None
    """mm."""
    mirror: int | None = None
    dose: Dose | None = None
    why: str | None = None
    part: VisitPart | None = None
    option: str | None = None
    figures: Figures | None = None
    """Lengths in mm."""
    machine: Machine | None = None
    """With what was described of its head."""

    def check(self, wants: Wants) -> None:
        """Raises InputError unless what is wanted came, and nothing else: nothing is left out or dropped."""
        needed = _needed(wants)
        came = {name for name in MISSING if getattr(self, name) is not None}
        if needed and needed not in came:
            what, expected = MISSING[needed]
            raise InputError(what, expected=expected)
        for name in came - {needed}:
            raise InputError(f"A {name} does not belong to this answer", expected="the answer alone")


Needed = Literal["reading", "turns", "shift", "mirror", "dose", "why", "part", "option", "figures", "machine"]

MISSING: dict[Needed, tuple[str, str]] = {
    "reading": ("No reading was given", "how far the mark is to the right and up"),
    "turns": ("What was really turned was not said", "an amount, clockwise or counterclockwise"),
    "shift": ("How far it was really moved was not said", "an amount in each direction"),
    "dose": ("What was really set was not said", "the pulse's time, its power, or the layers of tape"),
    "mirror": ("Which mirror was not said", "the mirror whose lock nuts were tightened"),
    "why": ("No reason was given", "why, in a few words"),
    "part": ("Which part of the visit was not said", "one of its parts"),
    "option": ("Which of the answers was not said", "one of them"),
    "figures": ("No figures were given", "what was measured"),
    "machine": ("Nothing was described", "mirror 3, lens and nozzle"),
}
"""What is missing, and what was expected."""


def _needed(wants: Wants) -> Needed | None:
    match wants:
        case "reading" | "turns" | "shift" | "mirror" | "dose" | "why" | "part" | "option" | "figures" | "machine":
            return wants
        case "":
            return None
        case "bench":
            raise InputError("The practice bench was not asked to fire", expected="a practice session")
        case _:
            assert_never(wants)


Typed = Mapping[str, str]
Deed = Callable[[Session, About, Given, Typed], None]
"""Makes the entry.  Raises CoachError."""


def acknowledge(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The gate is acknowledged."""
    assert about.gate is not None
    session.gate(about.gate)


def arrive(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The head stands there, fresh tape on."""
    assert about.shot is not None
    session.arrive(about.shot)


def set_otherwise(session: Session, about: About, given: Given, typed: Typed) -> None:
    """Another dose was set than the one that was told, or the tape has other layers."""
    assert about.shot is not None
    assert given.dose is not None
    session.arrive(about.shot, **given.dose)


def pulsed(outcome: Outcome, shape: Shape = "round") -> Deed:
    """One pulse was made, with the dose that was told, and that was seen."""

    def deed(session: Session, about: About, given: Given, typed: Typed) -> None:
        assert about.shot is not None
        session.pulse(about.shot, outcome, shape)

    return deed


def miss(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The pulse missed the tape."""
    assert about.shot is not None
    shot = about.shot
    pulse = _pulse_at(session, shot)
    if pulse is None:
        session.miss(shot.name, **spot(shot))
    else:  # what it was made on, whatever is put up for the next one
        session.miss(pulse.station, **spot(pulse), **dose(pulse))


def measured(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The mark was measured; one that is kept as doubtful carries a wider doubt."""
    assert about.shot is not None
    assert given.reading is not None
    shot = about.shot
    entered = as_entered(given.reading)
    pulse = _pulse_at(session, shot)
    shape = pulse.shape if pulse else "round"
    session.mark(shot.name, **spot(shot), **dose(pulse), shape=shape, **entered)


def _pulse_at(session: Session, shot: Shot) -> Pulse | None:
    """The newest pulse, where it was made there."""
    pulse = next((event for event in reversed(session.effective) if isinstance(event, Pulse)), None)
    there = pulse is not None and (pulse.station, pulse.x, pulse.y) == (shot.name, shot.x, shot.y)
    return pulse if there else None


def set_out(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The person sets out to adjust as advised."""
    assert about.advice is not None
    session.plan(about.advice)


def turned(times: float) -> Deed:
    """The screw was turned, so many times as far as advised; as far as was said where that came along."""

    def deed(session: Session, about: About, given: Given, typed: Typed) -> None:
        assert about.screw is not None
        amount = times * about.screw.turns if given.turns is None else given.turns
        session.turn(about.screw.mirror, {about.screw.screw: amount}, typed=dict(typed))

    return deed


def shifted(times: float) -> Deed:
    """The part was moved, so many times as far as advised; as far as was said where that came along."""

    def deed(session: Session, about: About, given: Given, typed: Typed) -> None:
        assert about.shift is not None
        moved = given.shift if given.shift is not None else multiplied(about.shift, times)
        up, right, back = (moved.get(direction, 0.0) for direction in WAYS)
        session.shift(about.shift.part, up=up, right=right, back=back, typed=dict(typed))

    return deed


def multiplied(task: ShiftTask, times: float) -> dict[Direction, float]:
    """So many times the shift that was advised, mm."""
    return {"up": times * task.up, "right": times * task.right, "back": times * task.back}


def part_of(about: About) -> Moved | None:
    """The part that is to be moved, where one is."""
    if about.shift is not None:
        return about.shift.part
    if about.head is not None:
        return about.head.part or None
    return about.advice.part or None if about.advice is not None else None


def refuse(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The part cannot be moved."""
    part = part_of(about)
    assert part is not None
    session.refuse(part)


def mended(session: Session, about: About, given: Given, typed: Typed) -> None:
    """What the stop named was seen to."""
    assert about.advice is not None
    session.mended(about.advice.cause)


def take_as_it_is(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The fault stays; the machine is aligned to the best that can be had."""
    assert about.advice is not None
    session.best(about.advice.cause)


def lock(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The lock nuts of a mirror were tightened."""
    assert given.mirror is not None
    session.lock(given.mirror)


def finish(session: Session, about: About, given: Given, typed: Typed) -> None:
    """The job is closed."""
    session.finish()
