"""Where the program begins: unfinished sessions first, then machines, practice, and what could not be read."""

import contextlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.tui.commands.command import bindings
from coach.tui.commands.registry import HOME
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.parts import Choices, Entry, KeysLine
from coach.tui.widgets.bigtype import BigText

if TYPE_CHECKING:  # nothing of the session's machinery before the first paint
    from coach.session.document import Document, Practice
    from coach.session.store import Found

PRACTISE = Entry("practise", "Practise on the demo machine")
MOST_FINISHED = 5
"""So many finished sessions are listed."""


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
    """Everything in the data folder; never raises for a broken file."""
    from coach.session.store import Store

    store = Store(folder)
    sessions, machines = store.sessions(), store.machines()
    paths: dict[str, Path] = {}
    unfinished = [found for found in sessions if found.content and not _finished(found.content)]
    finished = [found for found in sessions if found.content and _finished(found.content)]
    entries = []
    for number, found in enumerate(unfinished):
        paths[f"session{number}"] = found.path
        entries.append(Entry(f"session{number}", f"Resume {session_words(found, now)}"))
    for number, machine in enumerate(machines):
        if machine.content:
            paths[f"machine{number}"] = machine.path
            entries.append(Entry(f"machine{number}", f"New session: {machine.content.name}"))
    entries.append(PRACTISE)
    if not any(machine.content for machine in machines):
        entries.append(Entry("none", "No machine is described yet: `coach new-machine --help` says how.", True))
    if finished:
        entries.append(Entry("finished", "Finished", True))
    for number, found in enumerate(finished[:MOST_FINISHED], start=len(unfinished)):
        paths[f"session{number}"] = found.path
        entries.append(Entry(f"session{number}", f"Look at {session_words(found, now)}"))
    problems = [found.problem for found in sessions if found.content is None]
    problems += [found.problem for found in machines if found.content is None]
    return Listing((*entries, *_problems(problems)), paths)


def _problems(problems: Iterable[str]) -> list[Entry]:
    rows = [Entry(f"problem{number}", f"! {problem}", True) for number, problem in enumerate(problems)]
    return [Entry("problems", "Could not be read (the files were left as they are)", True), *rows] if rows else []


def _finished(document: "Document") -> bool:
    from coach.session.events import Finish, effective

    return any(isinstance(event, Finish) for event in effective(document.events))


def same_practice(folder: Path, practice: "Practice") -> "Found[Document] | None":
    """The newest unfinished practice session of that kind and seed."""
    from coach.session.store import Store

    for found in Store(folder).sessions():
        if found.content and found.content.practice == practice and not _finished(found.content):
            return found
    return None


def session_words(found: "Found[Document]", now: datetime | None = None) -> str:
    """A session in a few words, so that two of them can be told apart: what, where in the job, and when."""
    from coach.session.events import effective
    from coach.steps.entries import doing_words, when_words

    assert found.content is not None
    document = found.content
    last = document.events[-1].at if document.events else document.created
    bench = document.practice
    what = f"practice {bench.kind}, seed {bench.seed}" if bench else document.title
    doing = "" if _finished(document) else f": {doing_words(effective(document.events))}"
    return f"{what}{doing}, {when_words(last, now or datetime.now().astimezone())}"
