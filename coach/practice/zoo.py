"""The zoo: kinds of virtual machines on which advice is judged, each machine drawn from a seed.

What the profile says and what the machine hides are drawn apart: a case names the hidden trouble
(`coach.practice.kinds`) and the profile that the coach is given.
"""

from collections.abc import Callable
from dataclasses import dataclass

from coach.machine import Drive, Machine, Side

MOUNT_SHAPES: dict[str, tuple[tuple[str, float, float, str], ...]] = {
    "L": (("A", -20, -20, "pivot"), ("B", 20, -20, "screw"), ("C", -20, 20, "screw")),
    "pivot": (("P", 0, 0, "pivot"), ("R", 25, 0, "screw"), ("T", 0, 25, "screw")),
    "triangle": (("A", 0, 23, "screw"), ("B", -20, -11.5, "screw"), ("C", 20, -11.5, "screw")),
}
"""The usual three-point mounts, mm, as seen facing the screw heads."""


def zoo_machine(
    shape: str = "L",
    side: Side = "left",
    *,
    drive: Drive = "push",
    width: float = 600.0,
    depth: float = 400.0,
    pitch: float = 0.7,
) -> Machine:
    """A profile with the same mount on both mirrors."""
    points = [{"name": n, "x": x, "y": y, "kind": kind} for n, x, y, kind in MOUNT_SHAPES[shape]]
    return Machine.model_validate(
        {
            "name": f"Zoo {shape} {side}",
            "bed": {"width": width, "depth": depth},
            "path": {"side": side, "mirror1_gap": 150.0, "mirror2_gap": 120.0},
            "aperture": {"head": 18.0},
            "tape": {"radius": 11.0},
            "tolerance": 1.0,
            "mounts": [{"mirror": mirror, "pitch": pitch, "drive": drive, "points": points} for mirror in (1, 2)],
        }
    )


def _varied(seed: int, **more: float) -> Machine:
    """Every shape and either side in turn."""
    shape = tuple(MOUNT_SHAPES)[seed % 3]
    side: Side = "left" if seed // 3 % 2 == 0 else "right"
    return zoo_machine(shape, side, **more)  # type: ignore[arg-type]


def _drive_machine(seed: int) -> Machine:
    """Half of them: nobody knows the drive; the others: the profile has it the wrong way round."""
    shape = tuple(MOUNT_SHAPES)[seed % 3]
    side: Side = "left" if seed // 3 % 2 == 0 else "right"
    return zoo_machine(shape, side, drive="unknown" if seed % 2 else "push")


@dataclass(frozen=True)
class Aims:
    """What a case should reach: share within tolerance, and median and 95 % of rounds and pulses."""

    within: float
    rounds: tuple[float, float] | None
    pulses: tuple[float, float] | None
    off_tape: float | None
    """Pulses that leave the tape, per session."""
    cause: str = ""
    """The cause that must be named, for machines that no screw cures."""
    or_stop: bool = False
    """An honest stop counts as well."""


@dataclass(frozen=True)
class Case:
    """One row of the benchmark."""

    name: str
    kind: str
    machine: Callable[[int], Machine]
    aims: Aims
    sd: float | None = None
    """The doubt a careful reader states with every mark, mm."""
    second: bool = False
    """Judge the second session on a machine whose mounts were learned in a first one."""


CASES: tuple[Case, ...] = (
    Case("plain", "plain", _varied, Aims(0.995, (2, 3), (12, 18), 0.05)),
    Case("drive", "drive", _drive_machine, Aims(0.995, (3, 4), (14, 20), 0.1)),
    Case("far", "far", _varied, Aims(0.99, (3, 5), (16, 24), 0.4)),
    Case("rough", "rough", _varied, Aims(0.97, (4, 7), (20, 32), 0.3, or_stop=True)),
    Case(
        "big",
        "plain",
        lambda seed: _varied(seed, width=1300.0, depth=900.0),
        Aims(0.98, (3, 6), (16, 28), 0.2, or_stop=True),
    ),
    Case("fine", "fine", lambda seed: _varied(seed, pitch=0.3175), Aims(0.999, (2, 2), (11, 14), 0.02), sd=0.12),
    Case("second", "plain", _varied, Aims(0.995, (1, 2), (10, 14), 0.05), second=True),
    Case("aligned", "aligned", _varied, Aims(1.0, (0, 0), (5, 8), 0.0)),
    Case("yaw", "yaw", _varied, Aims(0.95, None, None, None, cause="yaw")),
    Case("loose", "loose", _varied, Aims(0.95, None, None, None, cause="loose")),
    Case("outlier", "outlier", _varied, Aims(0.99, (2, 4), (14, 20), 0.1)),
)
"""All rows, in the order of the table in docs/benchmark.md."""


def case_named(name: str) -> Case:
    """The case of that name.  Raises KeyError."""
    return next(case for case in CASES if case.name == name)
