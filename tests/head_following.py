"""A person who does in the parts "head" and "pointer" what the coach asks, at a head that somebody else plays."""

from math import hypot, inf
from typing import Any, Protocol

from coach import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.steps.step import Step

ENDS = ("head-done", "head-stop", "pointer-done")


class Head(Protocol):
    """A head of which marks are read, and at which hands work; `key`: the number that the entry will have."""

    lowest: float
    """mm by which its bed goes down at most: so much is entered where more was asked."""

    def on_card(self, lowered: float, *, lens: bool, key: int) -> tuple[float, float] | None: ...
    def at_nozzle(self, *, key: int) -> tuple[float, float, bool] | None: ...
    def turn(self, screw: str, turns: float, *, key: int) -> None: ...
    def move(self, part: str, up: float, right: float, back: float, *, key: int) -> None: ...


def follow_below(session: Session, step: Step, head: Head) -> None:
    """Answers the step as told."""
    key, shot = session.events[-1].id + 1, step.below
    if step.key == "head-pulse":
        assert shot is not None
        perform(session, step, "mark" if _mark(head, step, key + 1) is not None else "nothing")
    elif step.key == "head-nothing":
        perform(session, step, "nothing-through")
    elif step.key in ("bed-mark", "nozzle-mark"):
        read = _mark(head, step, key)
        assert read is not None
        figures: dict[str, float] = {"right": read[0], "back": read[1]}
        figures |= {"lowered": min(shot.lowered, head.lowest)} if step.key == "bed-mark" and shot else {}
        perform(session, step, "cut-by-rim" if len(read) > 2 and read[2] else "whole", figures=figures)
    elif step.key == "head-turn":
        assert step.screw is not None
        head.turn(step.screw.screw, step.screw.turns, key=key)
        perform(session, step, "turned")
    elif step.key == "head-shift":
        assert step.shift is not None
        head.move(step.shift.part, step.shift.up, step.shift.right, step.shift.back, key=key)
        perform(session, step, "shifted")
    else:
        perform(session, step, step.choices[0].key)


def _mark(head: Head, step: Step, key: int) -> Any:
    """The mark of the step's pulse as it is read at the entry of that number."""
    assert step.below is not None
    if step.below.target == "nozzle":
        return head.at_nozzle(key=key)
    return head.on_card(min(step.below.lowered, head.lowest), lens=step.below.lens, key=key)


def end_of(session: Session, head: Head, most: int = 400) -> Step:
    """The step at which the part ends, all lock nuts tight."""
    for _ in range(most):
        step = current_step(session, IN_MM)
        if step.key in ENDS and step.choices[0].key != "lock-three":
            return step
        follow_below(session, step, head)
    raise AssertionError("the part does not end")


class Exactly:
    """An `ExactHead` (tests/heads.py) as one that is followed."""

    lowest = inf

    def __init__(self, head: Any) -> None:
        self.head = head

    def on_card(self, lowered: float, *, lens: bool, key: int) -> tuple[float, float] | None:
        if lens and self.at_nozzle(key=key) is None:
            return None
        x, y = self.head.on_card(lowered, lens=lens)
        return x, y

    def at_nozzle(self, *, key: int) -> tuple[float, float, bool] | None:
        x, y = self.head.off_nozzle()
        return (x, y, False) if hypot(x, y) < 1.3 else None

    def turn(self, screw: str, turns: float, *, key: int) -> None:
        self.head.turn({screw: turns})

    def move(self, part: str, up: float, right: float, back: float, *, key: int) -> None:
        self.head.shift(part, up, right, back)
