"""What a step is about: facts alone, no words."""

from dataclasses import dataclass

from coach.advice.advice import Advice, Shot
from coach.head.advice import HeadAdvice
from coach.head.pointer import PointerAdvice
from coach.parts import Moved
from coach.session.head_events import HeadShot
from coach.steps.keys import GateName, StepKey
from coach.visit import VisitPart


@dataclass(frozen=True)
class ScrewTask:
    """One screw of a plan: turns, clockwise positive, and its place among the plan's screws."""

    mirror: int
    screw: str
    turns: float
    number: int
    of: int


@dataclass(frozen=True)
class ShiftTask:
    """A shift of a plan, mm in the machine's frame."""

    part: Moved
    up: float
    right: float
    back: float


@dataclass(frozen=True)
class BelowShot:
    """One pulse to make below mirror 3, the bed `lowered` mm below its usual height, with or without the lens."""

    target: HeadShot
    lowered: float = 0.0
    lens: bool = True


@dataclass(frozen=True, kw_only=True)
class About:
    """Where the job stands, and what the step there is about."""

    key: StepKey
    gate: GateName | None = None
    shot: Shot | None = None
    """The station in question."""
    screw: ScrewTask | None = None
    shift: ShiftTask | None = None
    advice: Advice | None = None
    head: HeadAdvice | None = None
    pointer: PointerAdvice | None = None
    below: BelowShot | None = None
    """The pulse below mirror 3 in question."""
    part: VisitPart | None = None
    """The part of the visit that comes next, or that a list belongs to."""
    item: str | None = None
    """The thing on that list: a question, a check, a station, an optic."""
    more: bool = False
    """Whether something was said about it already, and more can be."""
