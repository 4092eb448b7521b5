"""What the first screen stands without: numbers, models, steps, and the screens that need them.

All of it takes longer to load than the screen toolkit.  It is loaded beside a screen that stands already, piece by
piece, so that whoever leaves meanwhile waits for one piece at most.
"""

import contextlib
import gc
from collections.abc import Callable, Iterator
from typing import Any

from textual.app import App
from textual.worker import Worker


class Left(Exception):
    """The program or the screen was left, or is read anew: nobody waits for this any more."""


class Unloadable(Exception):
    """A part of the program ended in place of being loaded."""


@contextlib.contextmanager
def while_it_stands(app: App[Any], worker: Worker[Any]) -> Iterator[None]:
    """What is done beside a screen ends without a word where that was left; a mistake in it is none of leaving."""
    try:
        yield
    except Left:
        return
    except RuntimeError:  # the toolkit's own way to say that there is no program any more
        if app.is_running and not worker.is_cancelled:
            raise


class Engine:
    """Whether all of it is loaded, and how that comes about."""

    def __init__(self) -> None:
        self.is_loaded = False
        self.is_busy = False
        """Whether a piece may be loading just now: nothing ends the program before that is done."""

    def load(self, go_on: Callable[[], None]) -> None:
        """Load what is not loaded yet, on a thread of its own; `go_on` is called between pieces and may raise."""
        self._load(pieces(), go_on)
        self.is_loaded = True

    def load_for_lists(self, go_on: Callable[[], None]) -> None:
        """The same for what reading the data folder needs, which is much less."""
        self._load(pieces_for_lists(), go_on)

    def _load(self, them: Iterator[None], go_on: Callable[[], None]) -> None:
        self.is_busy = True
        try:
            _load(them, go_on)
        finally:
            self.is_busy = False


def _load(them: Iterator[None], go_on: Callable[[], None]) -> None:
    gc.disable()  # what is loaded stays: looking for garbage among it, again and again, takes a tenth of the time
    try:
        for _ in them:
            go_on()
    except Exception:
        raise
    except BaseException as ending:  # it would tear the screen toolkit down
        raise Unloadable(f"{type(ending).__name__} while a part of the program was loaded") from ending
    finally:
        gc.enable()


def pieces_for_lists() -> Iterator[None]:
    """Loads one piece after the other, in the order in which one needs the other."""
    # ruff: noqa: F401 (what is imported here is there for those who need it)
    from pydantic import BaseModel

    yield
    import coach.machine

    yield
    import coach.upkeep.at_home

    yield
    import coach.describing.drafts

    yield


def pieces() -> Iterator[None]:
    """The same of all that a session needs, then of what can be opened from home."""
    yield from _pieces_of_sessions()
    yield from _pieces_of_screens()


def _pieces_of_sessions() -> Iterator[None]:
    import numpy

    yield
    from pydantic import BaseModel

    yield
    import coach.machine

    yield
    import coach.belief.belief

    yield
    import coach.advice.decide

    yield
    import coach.session.visit_events

    yield
    import coach.session.events

    yield
    import coach.session.session

    yield


def _pieces_of_screens() -> Iterator[None]:
    import coach.steps.table

    yield
    import coach.practice.begun

    yield
    import coach.scenes.of_step

    yield
    import coach.tui.screens.session

    yield
    import coach.tui.screens.describe

    yield
    import coach.tui.screens.upkeep

    yield
