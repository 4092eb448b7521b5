"""The true state of a practice machine: where its beam meets a tape, and what it is once a part has moved."""

from dataclasses import replace
from typing import assert_never

from coach.machine import Target
from coach.optics.mounts import PlateMotion
from coach.optics.trace import TrueState, at_head, at_mirror1, at_mirror2


def met_at(state: TrueState, x: float, y: float, target: Target) -> tuple[float, float]:
    """Where the beam meets the tape over that opening, (u, v) in mm."""
    match target:
        case "head":
            return at_head(state, x, y)
        case "mirror 2":
            return at_mirror2(state, y)
        case "mirror 1":
            return at_mirror1(state)
        case _:
            assert_never(target)


def place_of(part: str, direction: str) -> str:
    """The field of `TrueState` that says where a part stands."""
    return f"{part.replace(' ', '')}_{direction}"


def plus(state: TrueState, mirror: int, motion: PlateMotion) -> TrueState:
    """The state with that mirror's plate moved."""
    if mirror == 1:
        return replace(state, mirror1=state.mirror1 + motion)
    if mirror == 2:
        return replace(state, mirror2=state.mirror2 + motion)
    return replace(state, mirror3=state.mirror3 + motion)
