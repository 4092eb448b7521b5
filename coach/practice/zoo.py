"""The zoo: kinds of virtual machines on which advice is judged, each machine drawn from a seed.

What the profile says and what the machine hides are drawn apart: a case names the hidden trouble
(`coach.practice.kinds`) and the profile that the coach is given.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from coach.machine import Drive, Machine, Side
from coach.practice.case import Aims, Case

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
    moves: Sequence[Mapping[str, object]] = (),
    mirror2_tape: float = 25.0,
) -> Machine:
    """A profile with the same mount on both mirrors."""
    points = [{"name": n, "x": x, "y": y, "kind": kind} for n, x, y, kind in MOUNT_SHAPES[shape]]
    return Machine.model_validate(
        {
            "name": f"Zoo {shape} {side}",
            "bed": {"width": width, "depth": depth},
            "path": {"side": side, "mirror1_gap": 150.0, "mirror2_gap": 120.0, "mirror1": 25.0, "mirror2": 25.0},
            "aperture": {"head": 18.0},
            "tape": {"radius": 11.0, "mirror2_radius": mirror2_tape},
            "tolerance": 1.0,
            "moves": list(moves),
            "mounts": [{"mirror": mirror, "pitch": pitch, "drive": drive, "points": points} for mirror in (1, 2)],
        }
    )


def _varied(seed: int, **more: float) -> Machine:
    """Every shape and either side in turn."""
    return zoo_machine(_shape(seed), _side(seed), **more)  # type: ignore[arg-type]


def _shape(seed: int) -> str:
    return tuple(MOUNT_SHAPES)[seed % 3]


def _side(seed: int) -> Side:
    return "left" if seed // 3 % 2 == 0 else "right"


def _drive_machine(seed: int) -> Machine:
    """Half of them: nobody knows the drive; the others: the profile has it the wrong way round."""
    return zoo_machine(_shape(seed), _side(seed), drive="unknown" if seed % 2 else "push")


KIND_CASES: tuple[Case, ...] = (
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
"""Machines that behave: parts move without tilting, every pulse marks, readings have no tails."""

_SLOTS = (
    {"part": "mirror 2", "right": 5.0},
    {"part": "head", "up": 4.0, "back": 4.0},
)
_TUBE_ONLY = (
    {"part": "mirror 1", "right": 0.0},
    {"part": "mirror 2", "right": 0.0},
    {"part": "head", "up": 0.0, "back": 0.0},
    {"part": "tube", "up": 6.0, "back": 6.0},
)
_TUBE_TRAVEL = {("tube", "up"): 6.0, ("tube", "back"): 6.0}
_TRAVEL = {("mirror 2", "right"): 5.0, ("head", "up"): 4.0, ("head", "back"): 4.0, **_TUBE_TRAVEL}
"""What really moves: of the tube the profile says nothing, and it could be moved; mirror 1 has no slot."""


def _workshop(seed: int) -> Machine:
    """Every shape and either side in turn; mirror 2 and head can be moved, and no tape is wider than the head's."""
    return zoo_machine(_shape(seed), _side(seed), moves=_SLOTS, mirror2_tape=11.0)


def _right_large(seed: int) -> Machine:
    return zoo_machine(_shape(seed), "right", width=700.0, depth=500.0, moves=_SLOTS, mirror2_tape=11.0)


def _three_screws(seed: int) -> Machine:
    return zoo_machine("triangle", _side(seed), moves=_SLOTS, mirror2_tape=11.0)


def _nothing_but_the_tube(seed: int) -> Machine:
    return zoo_machine(_shape(seed), _side(seed), moves=_TUBE_ONLY, mirror2_tape=11.0)


_SLACK = 0.25
"""mm: what a reader cannot see is no failure of the advice."""


def _standard(name: str, kind: str, aims: Aims, machine: Callable[[int], Machine] = _workshop, **more: Any) -> Case:
    return Case(name, kind, machine, aims, **{"travel": _TRAVEL, "slack": _SLACK, **more})


STANDARD_CASES: tuple[Case, ...] = (
    _standard("standard", "standard", Aims(0.98, (2, 5), (15, 24), 0.02, minutes=(52, 85), tube=0.1)),
    _standard("plates", "standard-plates", Aims(0.98, (2, 5), (15, 24), 0.02, minutes=(52, 85), tube=0.1)),
    _standard(
        "right-large", "standard-steep", Aims(0.97, (3, 6), (17, 27), None, minutes=(60, 95), tube=0.2), _right_large
    ),
    _standard(
        "three-screws",
        "standard-steep",
        Aims(0.97, (3, 6), (17, 27), None, minutes=(55, 95), tube=0.2),
        _three_screws,
    ),
    _standard(
        "tube-only",
        "standard",
        Aims(0.97, (3, 6), (17, 27), None, or_leave=True, minutes=(75, 120), tube=1.1),
        _nothing_but_the_tube,
        travel=_TUBE_TRAVEL,
    ),
    _standard("far-out", "standard-far", Aims(0.97, (3, 6), (18, 28), None, minutes=(65, 105), tube=0.3)),
    _standard("strong-mounts", "standard-strong", Aims(0.97, None, None, None, false_loose=0.01)),
    _standard("rough-standard", "standard-rough", Aims(0.96, (3, 7), (20, 32), None, or_stop=True)),
    _standard("outlier-standard", "standard-outlier", Aims(0.99, (2, 4), (15, 22), None, false_loose=0.01)),
    _standard(
        "aligned-standard",
        "standard-aligned",
        Aims(1.0, (0, 0), (5, 6), None, untouched=True, minutes=(8, 10), tube=0.0),
    ),
    _standard(
        "nothing-seen",
        "standard-far",
        Aims(0.97, (3, 6), (18, 28), None, minutes=(65, 105), tube=0.3),
        scorch=0.5,
    ),
    _standard("yaw-inside", "standard-yaw", Aims(0.95, None, None, None), onward="best"),
)
"""Machines as rough as a workshop (`coach.practice.kinds`): what the coach has to be good at."""

CASES = (*KIND_CASES, *STANDARD_CASES)
"""All rows, in the order of the table in docs/benchmark.md."""


def case_named(name: str) -> Case:
    """The case of that name.  Raises KeyError."""
    return next(case for case in CASES if case.name == name)
