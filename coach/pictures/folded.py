"""How a mirror lies that sends the beam from one place to another: the law of reflection, as the trace has it."""

from typing import Literal

from coach.optics.reflection import reflect
from coach.optics.vectors import Vector, norm, scale, subtract, unit

Place = tuple[float, float]


def seen_from_above(side: Literal["left", "right"]) -> tuple[Place, Place]:
    """How the faces of mirrors 1 and 2 run on a plan with the front at the bottom: x to the right, y downwards."""
    out = 1.0 if side == "left" else -1.0
    tube, mirror1, mirror2, head = (out, 0.0), (0.0, 0.0), (0.0, 1.0), (out, 1.0)
    return face(tube, mirror1, mirror2), face(mirror1, mirror2, head)


def face(before: Place, at: Place, after: Place) -> Place:
    """The direction, of length 1, in which a mirror's face runs at `at`, in a plane that holds both legs.

    A mirror changes the beam's direction along its normal alone, n ∥ d' − d, and its face is square to that.
    Raises ValueError where no mirror is: the legs go straight on, or have no length.
    """
    arriving, leaving = (_way(*legs) for legs in ((before, at), (at, after)))
    change = subtract(leaving, arriving)
    if norm(change) < 1e-9:
        raise ValueError("the beam goes straight on here: there is no mirror")
    normal = unit(change)
    if norm(subtract(reflect(arriving, normal), leaving)) > 1e-6:
        raise ValueError("no flat mirror sends the beam this way")
    return -normal[1], normal[0]


def _way(start: Place, end: Place) -> Vector:
    along = (end[0] - start[0], end[1] - start[1], 0.0)
    length = norm(along)
    if length == 0:
        raise ValueError("a leg has no length")
    return scale(along, 1 / length)
