"""Review: everything that was entered, newest last, beside what it came to; correct a mark, take back, add a note."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.errors import CoachError
from coach.practice.assist import Assist
from coach.scenes.before_after import before_after
from coach.session.events import Event, Finish, Mark
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.doses_said import dose_lines
from coach.steps.entries import EntryState, entries_listed, entry_words
from coach.steps.undo import take_back
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import REVIEW
from coach.tui.screens.answers import ask_note
from coach.tui.screens.arrangements import SMALLEST
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.fitting import PICTURE_ROWS
from coach.tui.screens.parts import KeysLine
from coach.tui.widgets.picture import Picture

FINISHED = "This session is finished. U takes that back: then it can be resumed from the first screen."
WIDEST_LIST = 77
"""Columns of the list beside the picture: more than entries need."""
LIST_SHARE = 0.56
LEAST_ENTRIES = 14
"""Rows of the screen that the entries keep for themselves, whatever the doses tell; the help has those too."""
SIGNS: dict[EntryState, str] = {"counts": "✓", "taken back": "×", "corrected since": "~"}


class ReviewScreen(CoachScreen[None]):
    """The list of entries of one session."""

    commands = REVIEW
    hint_from = 16
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(REVIEW), *DIGITS]
    AUTO_FOCUS = "#list"

    def __init__(self, session: Session, assist: Assist | None) -> None:
        super().__init__()
        self.session, self.assist = session, assist

    @property
    def marked(self) -> Mark | None:
        """The highlighted mark, if a mark that counts is highlighted."""
        choices = self.query_one("#list", Choices)
        if choices.highlighted is None:
            return None
        key = choices.entries[choices.highlighted].key
        return next((e for e in self.session.effective if isinstance(e, Mark) and row_key(e) == key), None)

    def compose(self) -> ComposeResult:
        yield Static(Content.assemble(("▶ Review", "bold reverse"), f" {self.session.title}"), id="where")
        yield Static(id="said")
        with Horizontal(id="middle"):
            yield Choices(id="list")
            yield Picture(id="picture")
        yield Static(id="doses")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.offer_hint("review")
        finished = any(isinstance(event, Finish) for event in self.session.effective)
        self.show_entries(FINISHED if finished else "   ".join(f"{sign} {state}" for state, sign in SIGNS.items()))

    def on_resize(self, event: Resize) -> None:
        choices = self.query_one("#list", Choices)
        choices.fit_to(self._lay_out())
        self.query_one("#keys", KeysLine).say(self.commands)
        self.call_after_refresh(choices.scroll_to_highlight)

    def _lay_out(self) -> int:
        """Give list and picture their room, the whole of it to the list where it is short; the list's columns."""
        picture, choices = self.query_one("#picture", Picture), self.query_one("#list", Choices)
        width, height = self.size.width, self.size.height
        picture.display = picture.scene is not None and width >= SMALLEST[0] and height >= PICTURE_ROWS + 6
        columns = min(int(width * LIST_SHARE), WIDEST_LIST) if picture.display else width
        choices.styles.width = columns - 1 if picture.display else "1fr"
        doses = dose_lines(self.session)
        below = self.query_one("#doses", Static)
        below.update(Content("\n".join(doses)))
        below.display = bool(doses) and height >= LEAST_ENTRIES + len(doses)
        return columns - 4

    def show_entries(self, said: str = "", highlight: int | None = None) -> None:
        """Show the entries as they are now, the newest highlighted unless told otherwise."""
        self.query_one("#said", Static).update(Content(said))
        listed = entries_listed(self.session.events)
        marks = [event.id for event in self.session.effective if isinstance(event, Mark)]
        digits = {mark: number for number, mark in enumerate(reversed(marks), 1)}
        rows = [
            Entry(row_key(event), _row(event, state, self.wording), number=digits.get(event.id, 0))
            for event, state in listed
        ]
        last = len(rows) - 1
        self.query_one("#picture", Picture).scene = before_after(self.session)
        self.query_one("#list", Choices).offer(rows, self._lay_out(), last if highlight is None else highlight)
        self.query_one("#keys", KeysLine).say(self.commands)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self.query_one("#keys", KeysLine).say(self.commands)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.action_command("amend")
        self.query_one("#list", Choices).reopen()

    def amend(self) -> None:
        """Measure the highlighted mark again."""
        from coach.steps.purpose import for_mark
        from coach.tui.screens.measure import MeasureScreen

        mark = self.marked
        if mark is None:
            return
        screen = MeasureScreen(self.session, for_mark(self.session, mark), self.assist)
        self.app.push_screen(screen, lambda done: self.show_entries("The mark is corrected." if done else ""))

    def undo(self) -> None:
        """Take the last entry back and say which."""
        try:
            event = take_back(self.session)
        except CoachError as error:
            self.query_one("#said", Static).update(Content(str(error)))
            return
        self.show_entries(f"Taken back: {entry_words(event, self.wording)}.")

    def open_note(self) -> None:
        """A note to the session."""
        ask_note(self.app, self.session, lambda: self.show_entries("The note is saved."))

    def share(self) -> None:
        """A copy to give away."""
        from coach.tui.screens.sharing import share

        if self.session.path is not None:
            share(self.app, self.session.path)

    can_report = True

    def open_report(self) -> None:
        """The session as a page, a message, or tables."""
        from coach.tui.screens.report import write_report

        write_report(self.app, self.session, self.session.path)

    def help_paragraphs(self) -> tuple[str, ...]:
        doses = dose_lines(self.session)
        return (
            "Everything that was entered, the newest last. What was taken back stays in the list; it counts no more.",
            "Enter on a mark that counts, or its digit, 1 the newest, opens its measurement again; what follows is "
            "computed anew.",
            "The picture: every station's first mark hollow, its newest mark solid, around one opening's centre. "
            "Where a new mark is still missing, an outline says where it is expected. From 80 columns on.",
            *(["  ".join(doses)] if doses else []),
        )


def row_key(event: Event) -> str:
    """What the row of an entry is called."""
    return f"event{event.id}"


def _row(event: Event, state: EntryState, wording: Wording) -> str:
    return f"{SIGNS[state]} {event.id:>3}  {event.at.astimezone():%H:%M}  {entry_words(event, wording)}"
