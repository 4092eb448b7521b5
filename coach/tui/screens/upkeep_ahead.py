"""When to look again at a machine by the drift between its visits, for the screen of its upkeep."""

import contextlib
from datetime import datetime
from pathlib import Path

from textual import work
from textual.content import Content
from textual.widgets import Static

from coach.errors import CoachError
from coach.shown import Wording
from coach.tui.screens.base import CoachScreen
from coach.upkeep.log import MachineLog

BEING_WORKED_OUT = "When to look again by its drift: being worked out …"


def ahead_words(folder: Path, machine: str, wording: Wording) -> tuple[str, tuple[str, ...]]:
    """The date in a few words, "" where there is none; and it with its doubt, or why there is none.

    May have to replay visits: never on the screen's own thread.
    """
    from coach.history.stored import newest
    from coach.history.words import next_check_brief, next_check_words
    from coach.session.store import Store

    try:
        history = newest(machine, Store(folder), datetime.now().astimezone())
        return next_check_brief(history), next_check_words(history, wording)
    except (CoachError, OSError) as error:
        return "", (f"By its drift: {error}",)


class AheadScreen(CoachScreen[None]):
    """A screen about one machine, whose first line says when to look again by its drift."""

    def __init__(self, log: MachineLog) -> None:
        super().__init__()
        self.log_of_machine = log
        self.ahead: tuple[str, tuple[str, ...]] = ("", (BEING_WORKED_OUT,))
        """When to look again: in a few words, and in sentences."""

    @work(thread=True, exclusive=True)
    def look_ahead(self) -> None:
        """When to look again by its drift, without keeping the screen waiting."""
        ahead = ahead_words(self.coach.folder, self.log_of_machine.machine, self.wording)
        with contextlib.suppress(RuntimeError):  # the program was left meanwhile
            self.app.call_from_thread(self._told_ahead, ahead)

    def _told_ahead(self, ahead: tuple[str, tuple[str, ...]]) -> None:
        self.ahead = ahead
        if self.is_attached:
            self.say_where()
            self.show_ahead()

    def say_where(self) -> None:
        """The machine and its counter, and where there is room when to look again by its drift."""
        hours = self.log_of_machine.hours(datetime.now().astimezone().date())
        counter = "counter not read" if hours is None else f"counter {hours:g} h"
        parts, (brief, _) = [f" {self.log_of_machine.machine}", counter], self.ahead
        if brief and sum(len(part) + 3 for part in (*parts, brief)) + 10 <= self.size.width:
            parts.append(brief)
        self.query_one("#where", Static).update(Content.assemble(("▶ Upkeep", "bold reverse"), " · ".join(parts)))

    def show_ahead(self) -> None:
        """Show it where it stands among the rest; what is said in passing stays."""
