"""Where the program begins: unfinished sessions first, then machines, practice, and what could not be read."""

import contextlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.steps.places import places, session_words
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import HOME
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.parts import Choices, Entry, KeysLine
from coach.tui.widgets.bigtype import BigText

PRACTISE = Entry("practise", "Practise on the demo machine")


@dataclass(frozen=True)
class Listing:
    """What is in the data folder, as rows to choose."""

    entries: tuple[Entry, ...]
    paths: dict[str, Path]
    """Entry key to file."""


class HomeScreen(CoachScreen[None]):
    """Machines and sessions."""

    commands = HOME
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(HOME), *DIGITS]
    AUTO_FOCUS = "#list"

    def __init__(self) -> None:
        super().__init__()
        self._paths: dict[str, Path] = {}

    def compose(self) -> ComposeResult:
        yield BigText("ALIGNMENT COACH", id="title", max_rows=5)
        yield Static("Beam alignment, mark by mark and screw by screw.", id="subtitle")
        yield Choices(id="list")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.offer_hint("home")
        self.query_one("#keys", KeysLine).say(self.commands)
        self._offer(Listing((PRACTISE, Entry("reading", "Reading the data folder …", heading=True)), {}))
        self.call_after_refresh(self.load)

    def on_screen_resume(self) -> None:
        super().on_screen_resume()
        if self.is_mounted and self.query("#list"):
            self.load()

    def on_resize(self, event: Resize) -> None:
        self.query_one("#title").display = event.size.height >= 20 and event.size.width >= 60
        self.query_one("#subtitle").display = event.size.height >= 16 and event.size.width >= 60
        self.query_one("#list", Choices).fit_to(event.size.width - 6)

    @work(thread=True, exclusive=True)
    def load(self) -> None:
        """Read the data folder away from the screen's own thread, and warm up what a session needs."""
        try:
            listing = read_listing(self.coach.folder, datetime.now().astimezone())
        except OSError as error:
            problem = f"! {self.coach.folder} cannot be read ({error.strerror or error})"
            listing = Listing((PRACTISE, Entry("problem", problem, heading=True)), {})
        import coach.tui.screens.session  # noqa: F401

        with contextlib.suppress(RuntimeError):  # the program was left meanwhile
            self.app.call_from_thread(self._offer, listing)

    def _offer(self, listing: Listing) -> None:
        if not self.is_attached:
            return
        choices = self.query_one("#list", Choices)
        self._paths = listing.paths
        if listing.entries != choices.entries:
            choices.offer(listing.entries, self.size.width - 6)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        key = event.option_id or ""
        if key == PRACTISE.key:
            self.coach.practise()
        elif key.startswith("session"):
            self.coach.open_session(self._paths[key])
        elif key.startswith("machine"):
            self.coach.new_session(self._paths[key])

    def help_paragraphs(self) -> tuple[str, ...]:
        return (
            "Choose what to work on: an unfinished session goes on where it was left; a machine begins a new one; "
            "the demo machine is for practising, with invented data and no laser.",
            f"Machines and sessions are files in {self.coach.folder}. `coach new-machine` describes a new machine.",
            "The program can be left at any time: every entry is on disk as soon as it is made.",
        )

    def leave(self) -> None:
        self.app.exit(0)


def read_listing(folder: Path, now: datetime) -> Listing:
    """Everything in the data folder, as rows; never raises for a broken file."""
    found = places(folder)
    paths: dict[str, Path] = {}
    entries = []
    for number, session in enumerate(found.unfinished):
        paths[f"session{number}"] = session.path
        entries.append(Entry(f"session{number}", f"Resume {session_words(session, now)}"))
    for number, machine in enumerate(found.machines):
        assert machine.content is not None
        paths[f"machine{number}"] = machine.path
        entries.append(Entry(f"machine{number}", f"New session: {machine.content.name}"))
    entries.append(PRACTISE)
    if not found.machines:
        entries.append(Entry("none", "No machine is described yet: `coach new-machine --help` says how.", True))
    if found.finished:
        entries.append(Entry("finished", "Finished", True))
    for number, session in enumerate(found.finished, start=len(found.unfinished)):
        paths[f"session{number}"] = session.path
        entries.append(Entry(f"session{number}", f"Look at {session_words(session, now)}"))
    return Listing((*entries, *_problems(found.problems)), paths)


def _problems(problems: Iterable[str]) -> list[Entry]:
    rows = [Entry(f"problem{number}", f"! {problem}", True) for number, problem in enumerate(problems)]
    return [Entry("problems", "Could not be read (the files were left as they are)", True), *rows] if rows else []
