"""Which key was pressed on purpose: what is only held, and what a glove pressed besides, takes nothing."""

import time
from typing import ClassVar, Literal

Verdict = Literal["press", "slip", "too soon"]


class Presses:
    """The keys that could take something, in whatever list of the program; one for the whole program.

    A key of the same clumsy press must do no harm in the list that comes after it, so the lists share this.
    """

    APART: ClassVar[float] = 0.1
    """Two different digits within so many seconds are one press of a glove: only the first counts."""
    HELD: ClassVar[float] = 0.12
    """The same key within so many seconds after itself is held down: nothing is taken until it was let go."""
    CALM: ClassVar[float] = 0.7
    """In a calm list the key that took something takes nothing more within so many seconds: a key that is held
    waits about as long before it repeats."""

    def __init__(self) -> None:
        self._last = self._taken = ("", -1e9)

    @staticmethod
    def clock() -> float:
        """Now, in seconds from whenever."""
        return time.monotonic()

    def judge(self, key: str, *, calm: bool, takes: bool) -> Verdict:
        """Whether the key was pressed for this, rather than held, or one of two under a glove.

        `calm`: what is asked has to be read before it is answered; `takes`: a press takes something now.
        """
        now, (last, at), (taken, taken_at) = self.clock(), self._last, self._taken
        self._last = key, now
        if key == last and now - at < self.HELD:
            return "slip"
        if key != last and key.isdigit() and last.isdigit() and now - at < self.APART:
            return "slip"
        if calm and key == taken and now - taken_at < self.CALM:
            return "too soon"
        if takes:
            self._taken = key, now
        return "press"

    def elsewhere(self, key: str) -> None:
        """A key took something in a field: as long as it is only held, it takes nothing from the list after it."""
        self._last = self._taken = key, self.clock()
