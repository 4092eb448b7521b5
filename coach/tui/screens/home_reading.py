"""Reading a data folder while the screen stands: how far it is, and an end to it as soon as the program is left."""

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from textual.screen import Screen
from textual.worker import Worker

from coach.tui.screens.choices import Entry
from coach.tui.screens.engine import Left
from coach.tui.screens.home_rows import DESCRIBE, NOTHING, PRACTISE, READING, REHEARSE, Listing

SAID_AFTER = 1.0
"""s, and as often after that, it is said how far it is."""


class Reading:
    """One reading of the folder, away from the screen's own thread."""

    def __init__(self, worker: Worker[Any], screen: Screen[Any], offer: Callable[[Listing], object]) -> None:
        self._worker, self._screen, self._offer = worker, screen, offer
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
        """Raises Left where nobody waits for it any more; back on its screen all is read anew."""
        if self._worker.is_cancelled or not self._screen.is_current:
            raise Left


def only(words: str) -> Listing:
    """What needs no reading, and why there is nothing else."""
    return replace(NOTHING, entries=(DESCRIBE, PRACTISE, REHEARSE, Entry(READING, words, heading=True)))
