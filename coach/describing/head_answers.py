"""What is known of the head: whether mirror 3 can be turned, the lens, and the nozzle under it.

All of it waits until its part of the visit comes, unless somebody wants to describe it now: `head.now` asks.  What is
not answered is not known; of a lens of which something is known the rest is guessed.
"""

from collections.abc import Callable, Mapping
from typing import Any

from coach.describing.moving import NO, YES
from coach.describing.usual import UNKNOWN
from coach.errors import InputError
from coach.lens import LONGEST_FOCAL, WIDEST_NOZZLE
from coach.machine import Machine
from coach.parts import FARTHEST_MOVE
from coach.shown import IN_MM

NOW, TURNS = "head.now", "mounts.3.can"
FOCAL, GAP, HOLE = "lens.focal", "lens.nozzle_distance", "lens.nozzle"
CURVED, HANGS, MOVES, REACH = "lens.curved", "lens.mirror_distance", "lens.can", "lens.reach"
LENS = (FOCAL, GAP, HOLE, CURVED, HANGS, MOVES, REACH)
"""Questions about the lens, in their order."""
LENGTHS = {
    FOCAL: "the focal length",
    GAP: "the way from the nozzle down to the focus",
    HOLE: "the nozzle's hole",
    HANGS: "the way from mirror 3 down to the lens",
    REACH: "how far the lens can be moved",
}
LARGEST = {FOCAL: LONGEST_FOCAL, GAP: LONGEST_FOCAL, HOLE: WIDEST_NOZZLE, REACH: FARTHEST_MOVE}
"""mm."""
GUESSED = (FOCAL, GAP, HOLE)
"""Something usual stands in for these."""
CLOSED = {
    NOW: (NO, YES),
    TURNS: (NO, YES, UNKNOWN),
    CURVED: ("up", "down", UNKNOWN),
    MOVES: (NO, YES, UNKNOWN),
}


def asked_now(answers: Mapping[str, str]) -> bool:
    """Whether somebody wants to describe mirror 3 and the lens now."""
    return answers.get(NOW) == YES


def turns(answers: Mapping[str, str]) -> str | None:
    """Whether mirror 3 has screws within reach: as answered; YES where something is said of them."""
    said = any(key.startswith("mounts.3.") for key in answers)
    return answers.get(TURNS, YES if said else None)


def has_lens(answers: Mapping[str, str], before: Machine | None) -> bool:
    """Whether anything is known of the lens."""
    known = any(answers.get(key, UNKNOWN) not in (UNKNOWN, YES) for key in LENS)
    return known or (before is not None and before.lens is not None)


def lens_table(answers: Mapping[str, str], size: Callable[[str], float]) -> dict[str, Any]:
    """A profile's `lens`; `size` tells a length in mm, answered or guessed."""
    table: dict[str, Any] = {key.removeprefix("lens."): size(key) for key in GUESSED}
    if answers.get(CURVED, UNKNOWN) != UNKNOWN:
        table["curved"] = answers[CURVED]
    if HANGS in answers:
        table["mirror_distance"] = size(HANGS)
    if answers.get(MOVES) == NO:
        table["reach"] = 0.0
    elif answers.get(MOVES) == YES and REACH in answers:
        table["reach"] = size(REACH)
    return table


def checked_gap(gap: float, focal: float) -> None:
    """That the nozzle lies between lens and focus, mm.  Raises InputError."""
    if gap >= focal:
        raise InputError(
            f"A focus {IN_MM.length(gap)} below the nozzle does not go with a lens of {IN_MM.length(focal)}",
            expected="less than the focal length, because the nozzle lies between lens and focus", example="8",
        )  # fmt: skip


def said_of(machine: Machine) -> dict[str, float | str]:
    """The answers that a profile gives, lengths in mm; what is guessed in it is not answered."""
    said: dict[str, float | str] = {}
    if machine.mirror3 is not None or any(mount.mirror == 3 for mount in machine.mounts):
        said[TURNS] = NO if machine.mirror3 == "fixed" else YES
    if (lens := machine.lens) is not None:
        said |= {
            key: getattr(lens, name)
            for key in (*GUESSED, CURVED)
            if (name := key.removeprefix("lens.")) in lens.model_fields_set and key not in machine.guessed
        }
        if lens.mirror_distance is not None:
            said[HANGS] = lens.mirror_distance
        if lens.reach is not None:
            said |= {MOVES: YES, REACH: lens.reach} if lens.reach else {MOVES: NO}
    return {NOW: YES, **said} if said else said
