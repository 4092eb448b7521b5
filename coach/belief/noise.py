"""How roughly hands read and turn: the noise of readings, turns, shifts and lock nuts.

Common practice (no published source), in line with the practice bench's "plain" kind.
"""

import numpy as np

from coach.belief.explanations import Explanation
from coach.belief.gaussian import Array

READING_SD = 0.25
"""mm, each axis, of a mark measured with care on the tape."""
TURN_SHARE, TURN_FLOOR = 0.10, 0.006
"""A turn is executed to this share of itself and this many turns."""
LASH_MEAN, LASH_SD = 0.015, 0.009
"""Turns lost when a screw's direction reverses: anything from none to 0.03."""
UNKNOWN_REVERSAL = 0.3
"""How much of a reversal a screw's first turn counts for, as nobody knows which way it went last."""
SHIFT_SHARE, SHIFT_FLOOR = 0.10, 0.10
"""A shift is executed to this share of itself and this many mm."""
LOCK_SLOPE_SD, LOCK_OFFSET_SD = 0.15, 0.05
"""mrad and mm: what tightening a mount's lock nuts moves."""


def reading_noise(explanations: tuple[Explanation, ...], sd: float, leg2: float, target: str) -> Array:
    """R under every explanation, shape (explanations, 2, 2) in mm²; `leg2` in m.

    R = (reading·sd)² + (wander·L2)²: a loose mirror 2 is felt in proportion to leg 2.
    """
    reach = leg2 if target == "head" else 0.0
    variance = np.array([(story.reading * sd) ** 2 + (story.wander * reach) ** 2 for story in explanations])
    return np.asarray(variance[:, None, None] * np.eye(2))


def executed(turns: Array, last_direction: Array) -> tuple[Array, Array]:
    """Mean and variance of the turns really made when `turns` were meant, per screw.

    `last_direction` is +1 or −1 for the way a screw went last and 0 where nobody knows.
    """
    reversal = reversals(turns, last_direction)
    lost = np.minimum(LASH_MEAN * reversal, np.abs(turns))
    variance = (TURN_SHARE * turns) ** 2 + TURN_FLOOR**2 + reversal * LASH_SD**2
    return turns - np.sign(turns) * lost, np.where(turns == 0, 0.0, variance)


def reversals(turns: Array, last_direction: Array) -> Array:
    """Per screw: 1 where the turn reverses the last one, `UNKNOWN_REVERSAL` where nobody knows, else 0."""
    known = np.where(last_direction == 0, UNKNOWN_REVERSAL, turns * last_direction < 0)
    return np.asarray(np.where(turns == 0, 0.0, known))
