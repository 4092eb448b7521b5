"""What a step is about: facts alone, no words."""

from dataclasses import dataclass

from coach.advice.advice import Advice, Shot
from coach.parts import Part
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

    part: Part
    up: float
    right: float
    back: float


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
    part: VisitPart | None = None
    """The part of the visit that comes next, or that a list belongs to."""
    item: str | None = None
    """The thing on that list: a question, a check, a station, an optic."""
    more: bool = False
    """Whether something was said about it already, and more can be."""
