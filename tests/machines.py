"""Machines for the tests, an exact machine without any noise, and a person who follows the coach to the letter."""

import math
from dataclasses import dataclass, field, replace
from typing import Any

from coach import Machine, Session
from coach.advice.advice import Advice
from coach.optics.mounts import PlateMotion, plate_motion
from coach.optics.trace import Layout, TrueState, at_head, at_mirror1, at_mirror2

SIGN = {"push": 1.0, "pull": -1.0}


def mount_table(
    mirror: int, drive: str = "push", screws: str = "BC", pitch: float = 0.7, arm: float = 40.0
) -> dict[str, Any]:
    """A mount whose points stand on an L with arms of `arm` mm; the points named in `screws` can be turned."""
    half = arm / 2
    places = {"A": (-half, -half), "B": (half, -half), "C": (-half, half)}
    points = [
        {"name": name, "x": x, "y": y, "kind": "screw" if name in screws else "pivot"}
        for name, (x, y) in places.items()
    ]
    return {"mirror": mirror, "pitch": pitch, "drive": drive, "points": points}


def machine_table(
    side: str = "left", drives: tuple[str, str] = ("push", "push"), screws: str = "BC", **other: Any
) -> dict[str, Any]:
    """The demo machine as the public interface takes it; `other` replaces whole entries."""
    table = {
        "name": "Shed laser",
        "bed": {"width": 600.0, "depth": 400.0},
        "path": {"side": side, "mirror1_gap": 150.0, "mirror2_gap": 120.0},
        "aperture": {"head": 18.0},
        "tape": {"radius": 11.0},
        "tolerance": 1.0,
        "mounts": [mount_table(k, drive, screws) for k, drive in enumerate(drives, start=1)],
    }
    return table | other


def make_machine(side: str = "left", drives: tuple[str, str] = ("push", "push"), **other: Any) -> Machine:
    """`machine_table`, checked."""
    return Machine.model_validate(machine_table(side, drives, **other))


@dataclass
class ExactMachine:
    """Ray-traced, made as its profile says, read and turned without any error."""

    machine: Machine
    drives: dict[int, str]
    """How the screws really drive: mirror to "push" or "pull"."""
    errors: dict[str, Any] = field(default_factory=dict)
    """Fields of TrueState that are not zero at the start."""

    def __post_init__(self) -> None:
        self.state = replace(TrueState(Layout.of(self.machine)), **self.errors)

    def mark(self, x: float, y: float, target: str = "head") -> tuple[float, float]:
        """The mark's (u, v) in mm with the head at (x, y) mm, wherever it lands."""
        if target == "mirror 1":
            return at_mirror1(self.state)
        return at_head(self.state, x, y) if target == "head" else at_mirror2(self.state, y)

    def turn(self, mirror: int, screws: dict[str, float]) -> None:
        """Turn screws by exactly so many turns."""
        pushed = {name: SIGN[self.drives[mirror]] * turns for name, turns in screws.items()}
        moved: PlateMotion = plate_motion(self.machine.mount(mirror), pushed)
        name = f"mirror{mirror}"
        self.state = replace(self.state, **{name: getattr(self.state, name) + moved})

    def shift(self, part: str, up: float, right: float, back: float) -> None:
        """Move a part by exactly so many mm."""
        moved = {
            f"{part.replace(' ', '')}_{way}": amount
            for way, amount in (("up", up), ("right", right), ("back", back))
            if amount
        }
        self.state = replace(self.state, **{k: getattr(self.state, k) + amount for k, amount in moved.items()})

    def offsets(self) -> list[tuple[float, float]]:
        """True (u, v) in mm at all stations."""
        return [self.mark(s.x, s.y) for s in self.machine.stations]

    def worst(self) -> float:
        """The largest offset of any station, mm."""
        return max(math.hypot(u, v) for u, v in self.offsets())

    def spread(self) -> float:
        """The largest distance of a station's offset from the mean offset, mm (docs/model.md)."""
        marks = self.offsets()
        u0, v0 = (sum(axis) / len(marks) for axis in zip(*marks, strict=True))
        return max(math.hypot(u - u0, v - v0) for u, v in marks)


def obey_exactly(session: Session, truth: ExactMachine, advice: Advice) -> None:
    """Do what was advised, without any error, and enter it."""
    if advice.kind == "shoot":
        shoot(session, truth, advice)
    elif advice.kind == "turn":
        for turn in advice.turns:
            truth.turn(turn.mirror, dict(turn.screws))
            session.turn(turn.mirror, turn.screws)
    elif advice.kind == "shift":
        truth.shift(advice.part, advice.up, advice.right, advice.back)
        session.shift(advice.part, up=advice.up, right=advice.right, back=advice.back)


def shoot(session: Session, truth: ExactMachine, advice: Advice) -> None:
    """The first pulse of the advice; whoever misses the tape says so."""
    shot = advice.stations[0]
    u, v = truth.mark(shot.x, shot.y, shot.target)
    tape = session.machine.tape
    if math.hypot(u, v) > (tape.radius if shot.target == "head" else tape.mirror2_radius):
        session.miss(shot.name, x=shot.x, y=shot.y, target=shot.target)
    else:
        session.mark(shot.name, u=u, v=v, x=shot.x, y=shot.y, target=shot.target)


def obey_while_shooting(session: Session, truth: ExactMachine, most: int = 40) -> Advice:
    """Shoot what is asked for until the advice is something else; returns that."""
    for _ in range(most):
        advice = session.advice()
        if advice.kind != "shoot":
            return advice
        shoot(session, truth, advice)
    raise AssertionError(f"still shooting after {most} pulses")
