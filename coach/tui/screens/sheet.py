"""Typing a sheet in: its tapes in their order, what is on each, and the marks measured as at the machine."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import ClassVar, cast

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.errors import CoachError
from coach.pictures.marks_shown import MarkShown
from coach.pictures.modes import RasterMode
from coach.pictures.view import Scene
from coach.scenes.of_step import MARK_WIDTH, aperture_scene
from coach.session.events import Mark
from coach.steps.entries import entry_words
from coach.steps.table import kind_of
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import SHEET
from coach.tui.screens.arrangements import LISTED, SMALLEST, TALL
from coach.tui.screens.band import band_rows, briefest
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.dialogs import Deed
from coach.tui.screens.fitting import PICTURE_ROWS, choice_rows
from coach.tui.screens.parts import Cautions, KeysLine
from coach.tui.screens.sheet_asking import ask_day, ask_dose
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture
from coach.tui.widgets.terminal import pick_mode
from coach.worksheet.typed_in import Row, Seen, TypedIn
from coach.worksheet.words import ABOUT, ENOUGH, day_row, dose_row, row_lines, row_words, seen_question, seen_rows

LIST_SHARE = 0.56
LEAST_ROWS = 16
"""Rows below which cautions, the list and the keys are all there is room for."""
TITLE_FROM = 20
BESIDES = 14
"""Rows for headline, what was said, cautions and keys."""
DONE = "Every tape is typed in, or left empty."
AGAIN = Entry("again", "Measure it again")


class SheetScreen(CoachScreen[None]):
    """One sheet that is typed into one session."""

    commands = SHEET
    hint_from = 16
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(SHEET), *DIGITS]
    AUTO_FOCUS = "#list"

    def __init__(self, sheet: TypedIn) -> None:
        super().__init__()
        self.sheet = sheet

    def compose(self) -> ComposeResult:
        yield Static(id="where")
        yield BigText(id="action", max_rows=3)
        yield Static(id="said")
        with Horizontal(id="middle"):
            yield Choices(id="list")
            with Vertical(id="beside"):
                yield Picture(id="picture")
                yield Static(id="about")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        where = Content.assemble(("▶ Type a sheet in", "bold reverse"), f" {self.sheet.session.title}")
        self.query_one("#where", Static).update(where)
        self.show_rows("")

    def on_resize(self, event: Resize) -> None:
        choices, columns = self.query_one("#list", Choices), self._lay_out()
        choices.fit_to(columns, large=self._large(choices.entries, columns), ascii_only=self._ascii_only)
        self._show_row()

    # what stands there

    @property
    def highlighted(self) -> Row | None:
        """The blank that is looked at; None where that is another row."""
        at, rows = self.query_one("#list", Choices).highlighted, self.sheet.rows()
        return rows[at] if at is not None and at < len(rows) else None

    def show_rows(self, said: str) -> None:
        """Every blank as it stands now, the next one highlighted, and something said."""
        rows, following = self.sheet.rows(), self.sheet.following()
        entries = [Entry(f"blank{row.blank.number}", row_words(row, self.wording)) for row in rows]
        own = [Entry("dose", dose_row(self.sheet)), Entry("day", day_row(self.sheet)), Entry("enough", ENOUGH)]
        at = rows.index(following) if following is not None else len(rows) + len(own) - 1
        columns = self._lay_out()
        large, ascii_only = self._large([*entries, *own], columns), self._ascii_only
        self.query_one("#list", Choices).offer([*entries, *own], columns, at, large=large, ascii_only=ascii_only)
        self.query_one("#said", Static).update(Content(said or (ABOUT if following else DONE)))
        if said and self.size.height < LEAST_ROWS:
            self.mention(said, "told")
        self._show_row()

    @property
    def _ascii_only(self) -> bool:
        return pick_mode(self.app) is RasterMode.ASCII

    def _large(self, entries: Sequence[Entry], columns: int) -> bool:
        """Whether these rows have room for letters that are read standing."""
        rows = sum(len(choice_rows(1, each.label, columns, True, self._ascii_only)) for each in entries)
        return self.size.height >= TALL and rows <= self.size.height - BESIDES

    def _lay_out(self) -> int:
        """List and picture side by side where there is room; the list's columns."""
        width, height = self.size
        beside = width >= SMALLEST[0] and height >= PICTURE_ROWS + 8
        self.query_one("#beside").display = beside
        choices = self.query_one("#list", Choices)
        columns = int(width * LIST_SHARE) if beside else width
        choices.styles.width = columns if beside else "100%"
        self.query_one("#action").display = height >= TITLE_FROM
        for part in ("#where", "#said"):
            self.query_one(part).display = height >= LEAST_ROWS
        return columns - 4

    def _show_row(self) -> None:
        """Headline, picture and cautions of the highlighted row."""
        row, width, height = self.highlighted, self.size.width - 2, self.size.height
        small = height < SMALLEST[1] or width < SMALLEST[0] - 2
        own = kind_of("measure").own_cautions
        rows = briefest(own, width) if small else band_rows(own, width, listed=height >= LISTED, whole=False)
        self.query_one("#cautions", Cautions).say(rows)
        title = f"Tape {row.blank.number}: {row.blank.shot.name}" if row else "Type a sheet in"
        self.query_one("#action", BigText).text = title
        self.query_one("#picture", Picture).scene = self._scene(row) if row else None
        lines = row_lines(row, self.wording) if row else ()
        self.query_one("#about", Static).update(Content("\n".join(lines)))
        self.query_one("#keys", KeysLine).say(self.commands)

    def _scene(self, row: Row) -> Scene:
        """The tape, with its mark where there is one; where one was expected is no matter any more."""
        mark = row.event if isinstance(row.event, Mark) else None
        marks = (MarkShown(mark.u, mark.v, "blob", mark.width or MARK_WIDTH),) if mark else ()
        return replace(aperture_scene(self.sheet.session.machine, row.blank.shot, marks), expected=None)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self._show_row()

    # what is said

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        acts: dict[str, Callable[[], object]] = {
            "dose": lambda: self.app.push_screen(ask_dose(self.sheet), self._kept),
            "day": lambda: self.app.push_screen(ask_day(self.sheet.set_day, str(self.sheet.day)), self._kept),
            "enough": self._enough,
            **{f"blank{row.blank.number}": partial(self._ask, row) for row in self.sheet.rows()},
        }
        acts[event.option_id or ""]()

    def _ask(self, row: Row) -> None:
        """What is on that tape; a mark that waits is measured at once."""
        match row.stands:
            case "waits":
                self._measure(row)
            case "typed":
                again = Deed(row_words(row, self.wording), ("F5 takes the newest entry back.",), (AGAIN,))
                self.app.push_screen(again, lambda key: self._measure(row) if key else None)
            case _:
                lead = (*row_lines(row, self.wording), f"{dose_row(self.sheet)}.")
                box = Deed(seen_question(row), (" ".join(lead),), [Entry(*each) for each in seen_rows()])
                self.app.push_screen(box, lambda key: self._say(row, cast(Seen, key)) if key else None)

    def _say(self, row: Row, seen: Seen) -> None:
        if not self.enter(lambda: self.sheet.say(row, seen)):
            return
        now = next(each for each in self.sheet.rows() if each.blank.number == row.blank.number)
        self.show_rows(f"Tape {now.blank.number}, {row_words(now, self.wording)}.")
        if now.stands == "waits":
            self._measure(now)

    def _measure(self, row: Row) -> None:
        from coach.tui.screens.measure import MeasureScreen

        screen = MeasureScreen(self.sheet.session, self.sheet.purpose(row), None)
        self.app.push_screen(screen, self._kept)

    def _kept(self, done: bool | None) -> None:
        """Back from a box or from measuring."""
        newest = self.sheet.session.effective[-1:]
        self.show_rows(f"Saved. {entry_words(newest[0], self.wording)}." if done and newest else "")

    def enter(self, act: Callable[[], None]) -> bool:
        """Make an entry; say why where it was not made."""
        try:
            act()
        except CoachError as error:
            self.show_rows(f"! Not entered. {error}")
            return False
        return True

    def undo(self) -> None:
        """Take the last entry of the sheet back and say which."""
        try:
            taken = self.sheet.undo()
        except CoachError as error:
            self.show_rows(str(error))
            return
        self.show_rows(f"Taken back: {entry_words(taken, self.wording)}.")

    def _enough(self) -> None:
        """On in the session, from its gates."""
        path = self.sheet.session.path
        self.dismiss()
        if path is not None:
            self.coach.open_session(path)

    def help_paragraphs(self) -> tuple[str, ...]:
        return (
            "Up, Down or a digit chooses a tape; say what is on it, then measure its mark as at the machine. A tape "
            "can be left empty. Everything is on disk at once; left here, it goes on from the machine's row.",
            "Day and dose count for what is typed from then on: change them between two tapes where they differ.",
            "What was typed comes to what measuring would have entered; the coach goes on from there.",
        )
