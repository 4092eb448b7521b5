"""What the first screen stands without: numbers, models, steps, and the screens that need them.

All of it takes longer to load than the screen toolkit.  It is loaded beside a screen that stands already, piece by
piece, so that whoever leaves meanwhile waits for one piece at most.
"""

import gc
from collections.abc import Callable, Iterator


class Left(Exception):
    """The program or the screen was left, or is read anew: nobody waits for this any more."""


class Engine:
    """Whether all of it is loaded, and how that comes about."""

    def __init__(self) -> None:
        self.is_loaded = False

    def load(self, go_on: Callable[[], None]) -> None:
        """Load what is not loaded yet, on a thread of its own; `go_on` is called between pieces and may raise."""
        gc.disable()  # what is loaded stays: looking for garbage among it, again and again, takes a tenth of the time
        try:
            for _ in pieces():
                go_on()
        finally:
            gc.enable()
        self.is_loaded = True


def pieces() -> Iterator[None]:
    """Loads one piece after the other, in the order in which one needs the other."""
    # ruff: noqa: F401 (what is imported here is there for those who need it)
    import numpy

    yield
    import pydantic

    yield
    import coach.machine

    yield
    import coach.advice.decide

    yield
    import coach.session.visit_events

    yield
    import coach.session.events

    yield
    import coach.session.session

    yield
    import coach.practice.begun

    yield
    import coach.steps.table

    yield
    import coach.tui.screens.session

    yield
    import coach.tui.screens.describe

    yield
    import coach.tui.screens.upkeep

    yield
