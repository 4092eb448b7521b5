"""The true state of a practice machine: where its beam meets a tape, and what it is once a part has moved."""

from dataclasses import replace
from typing import assert_never

from coach.machine import Machine, Target
from coach.optics.mounts import ROOT2, PlateMotion
from coach.optics.trace import TrueState, at_head, at_mirror1, at_mirror2, off_mirror_centres
from coach.practice.kinds import Trouble


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


def beside_a_face(machine: Machine, state: TrueState, y: float, target: Target) -> bool:
    """Whether the beam passes beside the face of a mirror on its way to that target."""
    if target == "mirror 1":
        return False
    path = machine.path
    on_mirror1, on_mirror2 = off_mirror_centres(state, y)
    return on_mirror1 > path.mirror1 / 2 or (target == "head" and on_mirror2 > path.mirror2 / 2)


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


def askew(state: TrueState, part: str, trouble: Trouble, across: float, upward: float) -> TrueState:
    """The state after a part that was moved stands a little askew; the head only carries its opening along.

    `across`, `upward`: standard normal luck.
    """
    if part == "tube":
        size = trouble.tube_tilt
        slope_back, slope_up = state.tube_slope_back + size * across, state.tube_slope_up + size * upward
        return replace(state, tube_slope_back=slope_back, tube_slope_up=slope_up)
    if part in ("mirror 1", "mirror 2"):
        size = trouble.plate_tilt
        return plus(state, int(part[-1]), PlateMotion(size * across / 2, size * upward / ROOT2))
    return state
