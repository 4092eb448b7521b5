"""The demo machine for practice: invented values of a size that such machines often have."""

from functools import lru_cache
from typing import Any

from coach.machine import Machine

NAME = "Practice bench"


@lru_cache(1)
def visit_machine() -> Machine:
    """The demo machine for a whole visit: mirror 3's mount and the lens are described too."""
    table = demo_machine().to_table()
    lens = {"focal": 50.8, "nozzle_distance": 7.0, "nozzle": 2.5, "mirror_distance": 70.0}
    return Machine.model_validate(table | {"lens": lens, "mounts": [*table["mounts"], _mount(3)]})


@lru_cache(1)
def demo_machine() -> Machine:
    """Mirrors on the left, two mounts with a pivot in the corner of an L and two M4 screws each."""
    return Machine.model_validate(
        {
            "name": NAME,
            "bed": {"width": 620.0, "depth": 420.0},
            "path": {"side": "left", "mirror1_gap": 160.0, "mirror2_gap": 110.0},
            "aperture": {"head": 18.0},
            "tape": {"radius": 11.0},
            "tolerance": 1.0,
            "pulse": {"timed": True, "percent": True},
            "mounts": [_mount(1), _mount(2)],
        }
    )


def _mount(mirror: int) -> dict[str, Any]:
    return {
        "mirror": mirror,
        "thread": "M4",
        "drive": "push",
        "points": [
            {"name": "A", "x": -19.0, "y": -19.0, "kind": "pivot"},
            {"name": "B", "x": 19.0, "y": -19.0, "kind": "screw"},
            {"name": "C", "x": -19.0, "y": 19.0, "kind": "screw"},
        ],
    }
