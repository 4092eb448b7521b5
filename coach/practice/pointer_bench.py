"""A practice machine's pointer: where its spot lies beside the mark, and the hand on its own screws.

Its place is counted from the beam as it is once its path and the head are done.
"""

import math

from coach.practice.hidden import generator
from coach.practice.visit_kinds import PointerOff
from coach.session.head_events import Pointer

_DRAWN, _TURNED, _SEEN = 310, 311, 312  # stream numbers
LEFT_ALONE = 0.35
"""mm: whoever sees the spot nearer to the mark leaves its screws alone."""
SHARE, FLOOR = 0.08, 0.1
"""The spot is brought to the mark to this share of the way, rms, and to this many mm."""
READ, STEP = 0.12, 0.1
"""mm rms to which a spot beside a mark is read, and to what it is rounded."""
Pair = tuple[float, float]


class PointerBench:
    """One pointer."""

    def __init__(self, seed: int, off: PointerOff) -> None:
        self._seed = seed
        drawn = [float(v) for v in generator(seed, 0, _DRAWN).normal(size=4)]
        self._beside: Pair = (off.beside * drawn[0], off.beside * drawn[1])
        self._across: Pair = (off.across * drawn[2], off.across * drawn[3])

    def at(self, lowered: float) -> Pair:
        """mm, the spot minus the mark with the bed so many mm lower: where it truly is."""
        x, y = (self._beside[k] + self._across[k] * lowered / 1000 for k in range(2))
        return x, y

    def seen(self, lowered: float, *, key: int) -> Pair:
        """The same as it is read."""
        noise = generator(self._seed, key, _SEEN).normal(0, READ, 2)
        true = self.at(lowered)
        x, y = (round(round((true[k] + float(noise[k])) / STEP) * STEP, 6) for k in range(2))
        return x, y

    def take(self, event: Pointer) -> None:
        """Where the spot was seen off the mark it is brought onto it: at the focus aside, lower down by its angle."""
        if math.hypot(event.right, event.back) <= LEFT_ALONE:
            return
        luck = [float(v) for v in generator(self._seed, event.id, _TURNED).normal(size=4)]
        off = event.right, event.back
        x, y = (off[k] * (1 + SHARE * luck[k]) + FLOOR * luck[2 + k] for k in range(2))
        if event.lowered > 0:
            tilt = 1000 / event.lowered
            self._across = self._across[0] - tilt * x, self._across[1] - tilt * y
        else:
            self._beside = self._beside[0] - x, self._beside[1] - y
