"""Where the program begins: what was interrupted first, then machines, practice, and what could not be read."""

import contextlib
from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.css.query import NoMatches
from textual.events import Resize
from textual.widgets import OptionList, Static
from textual.worker import get_current_worker

from coach.pictures.modes import RasterMode
from coach.tui.commands.at_home import HOME
from coach.tui.commands.command import bindings
from coach.tui.screens.arrangements import TALL
from coach.tui.screens.base import DIGITS
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.engine import while_it_stands
from coach.tui.screens.fitting import choice_rows
from coach.tui.screens.home_machine import BESIDE, about, enlarged, plan_of
from coach.tui.screens.home_machines import MachinesAtHome
from coach.tui.screens.home_reading import Reading, only
from coach.tui.screens.home_rows import (
    DESCRIBE,
    PRACTISE,
    REHEARSE,
    Listing,
    read_listing,
    with_endings,
    with_results,
)
from coach.tui.screens.parts import KeysLine, on_click
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture
from coach.tui.widgets.terminal import pick_mode

if TYPE_CHECKING:
    from coach.session.found import Found
    from coach.session.summary import Summary


WHAT = "Beam alignment, mark by mark and screw by screw."
NEW = f"New here? First: {PRACTISE.label}, invented and without a laser. Then describe your own."
BESIDES = 9
"""Rows of the title, the line below it, the keys and a hint."""
LIST = 0.55
"""Share of the columns that the list keeps beside a machine."""


class HomeScreen(MachinesAtHome):
    """Machines and sessions."""

    commands = HOME
    hint_from = 16
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(HOME), *DIGITS]
    AUTO_FOCUS = "#list"

    def __init__(self) -> None:
        super().__init__()
        self._results: dict[tuple[object, ...], str] = {}

    def compose(self) -> ComposeResult:
        yield BigText("ALIGNMENT COACH", id="title", max_rows=5)
        yield Static(WHAT, id="subtitle")
        with Horizontal(id="middle"):
            yield Choices(id="list")
            with Vertical(id="machine"):
                yield Picture(id="picture")
                yield Static(id="about")
        yield Static(id="find")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.query_one("#keys", KeysLine).say(self.commands)
        self._offer(only("Reading the data folder …"))

    def on_screen_resume(self) -> None:
        super().on_screen_resume()
        if self.is_active:  # a session may be opened over it at once
            self.offer_hint("home")
            self.query_one("#keys", KeysLine).say(self.commands)
        self.call_after_refresh(self._look)

    def _look(self) -> None:
        """Read what is there, unless something else has come to stand over it meanwhile."""
        if self.is_active:
            self.load()

    def on_resize(self, event: Resize) -> None:
        self.query_one("#title").display = event.size.height >= 20 and event.size.width >= 60
        self.query_one("#subtitle").display = event.size.height >= 16 and event.size.width >= 60
        self._show_machine()
        self._fit()

    def _fit(self) -> None:
        """Set the list into its columns, in large letters where all of it has the room."""
        choices, columns, ascii_only = self.query_one("#list", Choices), self._columns(), self._ascii_only
        choices.fit_to(columns, large=self._large(choices.entries), ascii_only=ascii_only)

    @property
    def _ascii_only(self) -> bool:
        return pick_mode(self.app) is RasterMode.ASCII

    def _large(self, entries: Sequence[Entry]) -> bool:
        """Whether these rows have room for letters that are read standing."""
        columns, ascii_only = self._columns(), self._ascii_only
        rows = sum(
            1 if entry.heading else len(choice_rows(1, entry.brief or entry.label, columns, True, ascii_only))
            for entry in entries
        )
        return self.size.height >= TALL and rows <= self.size.height - BESIDES - bool(self._listing.unlisted)

    def _columns(self) -> int:
        """Columns of the list: the machine of a row stands beside it where there is room."""
        return (round(LIST * self.size.width) if self._has_machines() else self.size.width) - 6

    def _has_machines(self) -> bool:
        """Whether there is a machine to show, and room for it."""
        return bool(self._listing.shown) and self.size.width >= BESIDE[0] and self.size.height >= BESIDE[1]

    def _show_machine(self) -> None:
        """Beside the list: the machine of the highlighted row, if it is about one."""
        choices, here = self.query_one("#list", Choices), self._has_machines()
        choices.styles.width = f"{LIST:.0%}" if here else "1fr"
        row = choices.entries[choices.highlighted].key if choices.highlighted is not None else ""
        shown = self._listing.shown.get(row)
        self.query_one("#machine").display = here
        self.query_one("#picture", Picture).scene = plan_of(shown.machine) if shown and here else None
        words: tuple[str, ...] = ()
        if shown and here:
            columns = round((1 - LIST) * self.size.width) - 6
            words = about(shown, self._listing.states.get(row, ""), self.wording)
            if self.size.height >= TALL:
                words = enlarged(words, columns, ascii_only=self._ascii_only)
        self.query_one("#about", Static).update(Content("\n".join(words)))

    @work(thread=True, exclusive=True)
    def load(self) -> None:
        """Read the data folder away from the screen's own thread, then load what a session needs."""
        now = datetime.now().astimezone()
        worker = get_current_worker()
        reading = Reading(worker, self, lambda listing: self.app.call_from_thread(self._offer, listing))
        with while_it_stands(self.app, worker):
            self.coach.load_engine(reading.go_on, for_lists=True)
            try:
                listing = read_listing(self.coach.folder, now, reading.told)
            except OSError as error:
                listing = only(f"! {self.coach.folder} cannot be read ({error.strerror or error})")
            reading.offer(listing)
            self.coach.load_engine(reading.go_on)
            if listing.last or listing.visits:
                listing = with_results(listing, lambda found: self._result(reading, found, now))
                listing = with_endings(listing, lambda found: self._result(reading, found, now, ending=True))
                reading.offer(listing)

    def _result(self, reading: Reading, found: "Found[Summary]", now: datetime, *, ending: bool = False) -> str:
        """A session's result in words, or how the visit ended; computed anew only when something about it changed."""
        reading.go_on()
        from coach.steps.results import ended_words, left_words

        key = (found.path, found.stamp, self.wording.unit, now.date(), ending)
        if key not in self._results:
            self._results[key] = ended_words(found.path) if ending else left_words(found.path, now, self.wording)
        return self._results[key]

    def _offer(self, listing: Listing) -> None:
        """Show these rows; the one that was highlighted stays so."""
        if self.is_attached:
            with contextlib.suppress(NoMatches):  # the program is being left: some of the screen is gone already
                self._fill(listing)

    def _fill(self, listing: Listing) -> None:
        choices = self.query_one("#list", Choices)
        same = [entry.key for entry in listing.entries] == [entry.key for entry in choices.entries]
        self._listing = listing
        if listing.entries != choices.entries:
            choices.offer(
                listing.entries, self._columns(), choices.highlighted if same else None,
                large=self._large(listing.entries), ascii_only=self._ascii_only,
            )  # fmt: skip
        self.query_one("#subtitle", Static).update(NEW if listing.is_new else WHAT)
        self._say_find()
        self._show_machine()

    def _say_find(self) -> None:
        """Where not every session has a row: that all can be found, below the list, so that it is always in sight."""
        find, listing = self.query_one("#find", Static), self._listing
        find.display = listing.is_read and listing.unlisted > 0
        if find.display:
            find.update(on_click("find", "F", f"Find one of all {len(listing.sessions):,} sessions"))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self.query_one("#keys", KeysLine).say(self.commands)
        self._show_machine()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        key = event.option_id or ""
        if key == PRACTISE.key:
            self.coach.practise()
        elif key == REHEARSE.key:
            self.coach.rehearse()
        elif key == DESCRIBE.key:
            self.describe()
        elif key in self._listing.drafts:
            self.go_on_with(self._listing.drafts[key])
        elif key in self._listing.due:
            self.keep_well(self._listing.due[key])
        elif key in self._listing.names:
            self.machine_chosen(key)
        elif key in self._listing.paths:
            self.coach.open_session(self._listing.paths[key])

    @property
    def is_read(self) -> bool:
        """Whether all sessions are known by now."""
        return self._listing.is_read

    def find(self) -> None:
        """Ask for words, and show the sessions of which they are true."""
        from coach.tui.screens.home_find import find_session

        find_session(self.app, self._listing.sessions)

    def take_up(self) -> None:
        """Ask for a session's file from elsewhere, and keep it."""
        from coach.tui.screens.sharing import take_up

        take_up(self.app, self.load)

    def help_paragraphs(self) -> tuple[str, ...]:
        return (
            "Choose what to work on: an unfinished session goes on where it was left; a machine begins a new one, or "
            "has its description changed; the demo machine is for practising, with invented data and no laser.",
            "What upkeep is due stands in a row of its own for each machine; a machine's row leads to all of it.",
            "Behind a machine stands what its last finished session left: whether it was centred, and how far "
            "off the worst station was expected.",
            f"Machines and sessions are files in {self.coach.folder}.",
            "The program can be left at any time: every entry is on disk as soon as it is made.",
        )

    def leave(self) -> None:
        self.app.exit(0)
