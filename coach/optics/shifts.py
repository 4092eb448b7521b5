"""What moving a part sideways, without tilting it, does to the marks."""

from dataclasses import dataclass

from coach.machine import Side
from coach.optics.mounts import side_sign
from coach.parts import checked_ways


@dataclass(frozen=True)
class ShiftEffect:
    """Change of the mark (u, v) in mm, the same wherever the head stands."""

    head_u: float = 0.0
    """At the head's aperture."""
    head_v: float = 0.0
    mirror2_u: float = 0.0
    """At mirror 2's own aperture, seen by someone looking along −Y."""
    mirror2_v: float = 0.0
    mirror1_u: float = 0.0
    """At mirror 1's own aperture, seen by someone looking along the tube's beam."""
    mirror1_v: float = 0.0


def shift_effect(side: Side, part: str, up: float = 0.0, right: float = 0.0, back: float = 0.0) -> ShiftEffect:
    """Change of the marks for a shift in mm in the machine's frame (X right, Y back, Z up).

    Mirrors 1 and 2 take their own apertures with them (mirror 1's moves along the tube's beam, so that its mark stays
    where it is); the head moves only the head's aperture.  Sliding a flat
    mirror in its own plane moves nothing, so heights are cured at the tube or at the head.
    Raises UnknownName for another part, InputError for a direction in which it cannot help.
    """
    checked_ways(part, up, right, back)
    sign = side_sign(side)
    if part == "tube":
        across = sign * back
        return ShiftEffect(across, up, mirror2_u=-across, mirror2_v=up, mirror1_u=across, mirror1_v=up)
    if part == "mirror 1":
        return ShiftEffect(head_u=right, mirror2_u=-right)
    if part == "mirror 2":
        return ShiftEffect(head_u=-right, mirror2_u=right)
    return ShiftEffect(head_u=sign * back, head_v=-up)
