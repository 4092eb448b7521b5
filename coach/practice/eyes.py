"""How wrongly a practice machine's person reads now and then: by far, in any direction."""

import math

from coach.practice.hidden import Hidden, generator
from coach.practice.kinds import Trouble

_OUTLIER, _TAIL = 6, 7  # stream numbers, beside the bench's own


def slip(trouble: Trouble, hidden: Hidden, seed: int, key: int, earlier: int) -> tuple[float, float]:
    """(u, v) of a misreading, mm: the one that an "outlier" machine has, or one in the tails of all readings.

    `earlier`: how many pulses were read before this one, by their keys.
    """
    if earlier == hidden.wrong_reading:
        return _at_angle(trouble.outlier, float(generator(seed, key, _OUTLIER).uniform(0, 2 * math.pi)))
    chance, angle, more = generator(seed, key, _TAIL).random(3)
    if chance >= trouble.tails:
        return 0.0, 0.0
    far = trouble.tail_from - trouble.tail_more * math.log1p(-more)  # an exponential distribution's quantile
    return _at_angle(far, 2 * math.pi * float(angle))


def _at_angle(far: float, angle: float) -> tuple[float, float]:
    return far * math.cos(angle), far * math.sin(angle)
