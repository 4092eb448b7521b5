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
    """In a calm list a key takes nothing within so many seconds after itself: a key that is held waits about as long
    before it repeats, and repeats sooner than that."""
    READ: ClassVar[float] = 0.3
    """In a calm list nothing is taken within so many seconds after it stood there: nobody reads faster."""
    NUMBER: ClassVar[float] = 1.0
    """Two digits within so many seconds are a number, and no number answers a list that says what was done."""

    def __init__(self) -> None:
        self._last = self._taken = self._digit = ("", -1e9)

    @staticmethod
    def clock() -> float:
        """Now, in seconds from whenever."""
        return time.monotonic()

    def judge(self, key: str, *, calm: bool, takes: bool, since: float = -1e9) -> Verdict:
        """Whether the key was pressed for this, rather than held, or one of two under a glove.

        `calm`: what is asked has to be read before it is answered; `takes`: a press takes something now; `since`:
        when what is asked came to stand there, on this clock.
        """
        now, (last, at), (taken, taken_at) = self.clock(), self._last, self._taken
        self._last = key, now
        if key == last and now - at < self.HELD:
            return "slip"
        if key != last and key.isdigit() and last.isdigit() and now - at < self.APART:
            return "slip"
        held = max(taken_at if key == taken else -1e9, at if key == last else -1e9)
        if calm and (now - held < self.CALM or now - since < self.READ):
            return "too soon"
        if takes:
            self._taken = key, now
        return "press"

    def is_in_a_number(self, digit: str) -> bool:
        """Whether this digit follows another one as the digits of a number do."""
        now, (_, at) = self.clock(), self._digit
        self._digit = digit, now
        return now - at < self.NUMBER

    def elsewhere(self, key: str) -> None:
        """A key took something in a field: as long as it is only held, it takes nothing from the list after it."""
        self._last = self._taken = key, self.clock()
