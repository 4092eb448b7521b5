"""Reading a data folder while the screen stands: how far it is, and an end to it as soon as the program is left."""

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from textual.worker import Worker

from coach.tui.screens.choices import Entry
from coach.tui.screens.home_rows import DESCRIBE, NOTHING, PRACTISE, READING, REHEARSE, Listing

SAID_AFTER = 1.0
"""s, and as often after that, it is said how far it is."""


class Left(Exception):
    """The program was left, or the folder is read anew: nobody waits for this any more."""


class Reading:
    """One reading of the folder, away from the screen's own thread."""

    def __init__(self, worker: Worker[Any], offer: Callable[[Listing], object]) -> None:
        self._worker, self._offer = worker, offer
        self._said = time.monotonic()

    def told(self, number: int, of: int) -> None:
        """Hears that so many files were looked at.  Raises Left."""
        self.go_on()
        if time.monotonic() - self._said >= SAID_AFTER:
            self._said = time.monotonic()
            self.offer(only(f"Reading all sessions: {number:,} of {of:,}; next time only what changed …"))

    def offer(self, listing: Listing) -> None:
        """Show these rows.  Raises Left."""
        self.go_on()
        self._offer(listing)

    def go_on(self) -> None:
        """Raises Left where nobody waits for it any more."""
        if self._worker.is_cancelled:
            raise Left


def only(words: str) -> Listing:
    """What needs no reading, and why there is nothing else."""
    return replace(NOTHING, entries=(DESCRIBE, PRACTISE, REHEARSE, Entry(READING, words, heading=True)))
