"""The list of commands: what the screen below does now, by name and by sentence, to search in."""

import textwrap
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Label, OptionList, Static

from coach.tui.commands import own
from coach.tui.commands.command import Command, Commands
from coach.tui.commands.search import fitting, possible
from coach.tui.program import program_of
from coach.tui.screens.choices import HIGHLIGHT, QUIET, Choices, Entry
from coach.tui.screens.entering import Entered
from coach.tui.screens.in_place import PlacedBox
from coach.tui.screens.leaving import GO_BACK, LEAVING, NEVER_MIND, clickable
from coach.tui.widgets.terminal import only_ascii

HEADING = "Find a command"
KEYS = f"Type a word; Up, Down, Enter · {LEAVING}"
NONE = "No command says that. Backspace takes letters back."
NOTHING_TAKEN = "! Enter took nothing: no command says that. Backspace takes letters back."
AROUND, GAPS, FRAME = 3, 3, 2
"""Rows of heading, field and keys; the empty ones between; those of a box's frame."""
SHORTEST, SAID = 3, 2
"""Rows that the list keeps at least, and a command's sentence below it."""
ROWS_GAPS = 24
"""Rows of the terminal from which there are empty rows."""
ROWS_LARGE = 36
"""Rows of the terminal from which what is found stands in letters three rows high, where all of it fits."""
LONGEST = 40
"""Characters of what is searched for."""


class CommandRows(Choices):
    """Each command with its first key, as the key line shows it, and its other keys behind."""

    def __init__(self) -> None:
        super().__init__()
        self.keys: dict[str, tuple[str, str]] = {}
        """Of each command by its name: the first key, and all as a person reads them."""

    def number_of(self, index: int) -> int | None:
        """None has a digit: a word is typed."""
        return None

    def _prompt(self, index: int, on: bool) -> Content:
        entry, sign = self._entries[index], HIGHLIGHT if on else QUIET
        key, every = self.keys[entry.key]
        if self._large:
            return super()._prompt(index, on)
        others = every.removeprefix(key).removeprefix(" or ").removeprefix(", ")
        behind = f"  {others}" if others else ""
        columns = max(len(each) for each, _ in self.keys.values())
        cap = (f" {key} ", "bold reverse")
        return Content.assemble(sign, cap, " " * (columns - len(key) + 1), (entry.label, "bold"), behind)


class FindCommand(PlacedBox[str | None]):
    """Stands where every box does: never over the cautions.  Gives the name of the command that Enter takes."""

    BINDINGS: ClassVar[list[BindingType]] = [
        NEVER_MIND,
        Binding("f7", "never_mind", "Back", show=False),
        Binding("down", "move(1)", "Down", show=False),
        Binding("up", "move(-1)", "Up", show=False),
        Binding("pagedown", "page(1)", "Next page", show=False),
        Binding("pageup", "page(-1)", "Page before", show=False),
    ]
    AUTO_FOCUS = "Input"
    label_columns = len("▶ Search ")

    def __init__(self, commands: Commands, screen: Screen[Any]) -> None:
        super().__init__()
        self._all, self._asked_on = possible(commands, screen), screen
        self.found: Commands = self._all
        """What fits what is typed."""

    def rows_needed(self, columns: int) -> int:
        """A few commands at once, with all that stands around them."""
        return AROUND + SHORTEST + SAID

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(HEADING), classes="heading")
            with Vertical(classes="asked"):
                yield Label(Content("▶ Search "))
                yield Entered("", max_length=LONGEST, classes="entry")
            yield CommandRows()
            yield Static(id="about")
            yield Static(classes="hint")

    def on_mount(self) -> None:
        rows = self.query_one(CommandRows)
        rows.can_focus = False  # what is typed goes on into the field
        more = program_of(self.app).own_keys
        rows.keys = {each.name: (each.short(self._asked_on), own.shown(each, more)) for each in self._all}
        self._say_keys()
        self._offer()

    def _say_keys(self) -> None:
        self.query_one(".hint", Static).update(clickable(KEYS, (LEAVING, GO_BACK)))

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        readable = "".join(filter(str.isprintable, event.value))
        if readable != event.value:  # pasted signs that command a terminal are in no command's words
            event.input.value = readable
            return
        self.found = fitting(self._all, readable)
        self._say_keys()
        self._offer()

    def _offer(self) -> None:
        rows = self.query_one(CommandRows)
        entries = [
            Entry(each.name, each.label, brief=f"{rows.keys[each.name][0]} {each.label}") for each in self.found
        ]
        rows.display = bool(entries)
        rows.offer(entries, self.columns, large=self._large, ascii_only=only_ascii(self.app))
        rows.reopen()
        self._tell()

    @property
    def _room(self) -> int:
        """Rows that the list may have, whichever command's sentence stands below it."""
        if self.has_class("-scant"):
            return max(self.query_one(".box").size.height - 1, 1)
        placed = self.has_class("-placed")
        inside = self.query_one(".box").size.height if placed else self.app.size.height - FRAME
        gaps = 0 if self.has_class("-tight") or self.app.size.height < ROWS_GAPS else GAPS
        said = max(len(textwrap.wrap(command.about, self.columns)) for command in self._all)
        return max(inside - AROUND - said - gaps, SHORTEST)

    @property
    def _large(self) -> bool:
        return self.app.size.height >= ROWS_LARGE and 3 * len(self.found) <= self._room

    def fit_choices(self) -> None:
        """Set the list anew for the room that there is; in the least nothing stands but the field and the list."""
        rows = self.query_one(CommandRows)
        scant = self.has_class("-placed") and self.query_one(".box").size.height < self.rows_needed(self.columns)
        self.set_class(scant, "-scant")
        if scant:
            self.query_one(".heading").display = False
        rows.styles.max_height = self._room
        rows.fit_to(self.columns, large=self._large, ascii_only=only_ascii(self.app))

    @property
    def chosen(self) -> Command[Any] | None:
        """What Enter takes."""
        at = self.query_one(CommandRows).highlighted
        return self.found[at] if at is not None and at < len(self.found) else None

    def _tell(self) -> None:
        chosen = self.chosen
        self.query_one("#about", Static).update(Content(chosen.about if chosen else NONE))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self._tell()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self._take()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self._take()

    def _take(self) -> None:
        """Once: a second Enter of the same press runs nothing more."""
        if self.is_active and self.chosen is None:
            self.query_one("#about", Static).update(Content(NOTHING_TAKEN))
        elif self.is_active and (chosen := self.chosen) is not None:
            program_of(self.app).presses.elsewhere("enter")
            self.dismiss(chosen.name)

    def action_move(self, way: int) -> None:
        rows = self.query_one(CommandRows)
        rows.action_cursor_down() if way > 0 else rows.action_cursor_up()

    def action_page(self, way: int) -> None:
        self.query_one(CommandRows).page(way)

    def action_never_mind(self) -> None:
        self.dismiss(None)
