"""A numbered list to choose from, and its rows."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.events import Click
from textual.message import Message
from textual.style import Style
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from coach.tui.program import program_of
from coach.tui.screens.fitting import choice_rows

HIGHLIGHT, QUIET = "▶ ", "  "
SAY_IT = "Enter says: {label}"
NO_NUMBERS = "Here an answer is chosen, no number to type: one digit, then Enter."
CHOOSE = "Choose a row first: arrows or one digit, then Enter."
TOO_SOON = "That came too soon after the last answer: read this, then press again."


@dataclass(frozen=True)
class Entry:
    """One row to choose, or a heading between them."""

    key: str
    label: str
    heading: bool = False
    number: int | None = None
    """The digit that takes it; None: its place in the list, 0: none."""
    brief: str = ""
    """What it is called in large letters, where that is less."""


NOTHING_YET = -1
"""In place of a row to highlight: Enter in passing takes none."""


class Choices(OptionList, inherit_bindings=False):
    """A numbered list: Up and Down move, Enter or Space takes, a digit takes directly unless it is `deliberate`.

    The highlighted row has a sign of its own besides its colours.  Once something is taken nothing more can be,
    until whoever owns the list calls `reopen`: a second key of the same clumsy press must do no harm.
    """

    class NotSaid(Message):
        """A key chose, or chose nothing: it took nothing, and why."""

        def __init__(self, words: str, *, chose: bool = False) -> None:
            super().__init__()
            self.words, self.chose = words, chose

    calm = False
    """Whether what is asked here has to be read before it is answered."""
    deliberate = False
    """Whether only Enter, Space and a click on the highlighted row take: a digit moves the highlight there, and a
    number leaves nothing highlighted.  So it is wherever an answer says that something was done."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "cursor_down", "Down", show=False),
        Binding("up", "cursor_up", "Up", show=False),
        Binding("home", "first", "First", show=False),
        Binding("end", "last", "Last", show=False),
        Binding("enter", "press('enter')", "Take", show=False),
        Binding("space", "press('space')", "Take", show=False),
        Binding("full_stop,comma,decimal,0", "number", "Part of a number", show=False),
    ]

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, compact=True, markup=False)
        self._entries: tuple[Entry, ...] = ()
        self._columns, self._large, self._ascii_only = 60, False, False
        self._spent = True
        self._since = -1e9

    def on_mount(self) -> None:
        self.reopen()

    def get_visual_style(self, *component_classes: str, partial: bool = False) -> Style:
        """With "reverse", which Textual (8.2) leaves out here: without colours nothing else shows the highlight."""
        style = super().get_visual_style(*component_classes, partial=partial)
        reverse = any(self.get_component_styles(name).text_style.reverse for name in component_classes)
        return style + Style(reverse=True) if reverse else style

    def reopen(self) -> None:
        """Something can be taken again, as soon as what the list shows now has been painted."""
        self.call_after_refresh(self._reopened)

    def _reopened(self) -> None:
        self._spent, self._since = False, program_of(self.app).presses.clock()

    def action_press(self, key: str) -> None:
        """Enter or Space: take the highlighted entry, unless the key is only held."""
        if self.highlighted is None and self.deliberate:
            self.post_message(self.NotSaid(CHOOSE))
        elif self._is_a_press(key):
            self.action_select()

    def action_number(self) -> None:
        """A decimal point, or a nought: a number is typed where answers are chosen."""
        if self.deliberate:
            self._choose_nothing()

    def _choose_nothing(self) -> None:
        self.highlighted = None
        self.post_message(self.NotSaid(NO_NUMBERS))

    async def _on_click(self, event: Click) -> None:
        """A click takes; where that says that something was done it chooses first.  A second click of a double click
        would meet what came after the first: it does nothing."""
        row = event.style.meta.get("option")
        if event.chain > 1:
            event.prevent_default()
        elif self.deliberate and row is not None and row != self.highlighted:
            event.prevent_default()
            if not self._entries[row].heading:
                self._choose(row)

    def _choose(self, index: int) -> None:
        self.highlighted = index
        self.post_message(self.NotSaid(SAY_IT.format(label=self._entries[index].label), chose=True))

    def _is_a_press(self, key: str) -> bool:
        """Whether the key was pressed for this, rather than held, or one of two under a glove."""
        presses = program_of(self.app).presses
        verdict = presses.judge(key, calm=self.calm, takes=not self._spent, since=self._since)
        if verdict == "too soon" or (verdict == "press" and self._spent):
            self.post_message(self.NotSaid(TOO_SOON))
        return verdict == "press"

    def action_select(self) -> None:
        """Take the highlighted entry, and nothing more until the list is opened again."""
        if not self._spent and self.highlighted is not None:
            self._spent = True
            super().action_select()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """What is offered."""
        return self._entries

    def offer(
        self,
        entries: Sequence[Entry],
        columns: int,
        highlight: int | None = None,
        *,
        large: bool = False,
        ascii_only: bool = False,
    ) -> None:
        """Show these, set into that many columns, the first that can be taken, another, or nothing highlighted.

        `large`: in letters three rows high, drawn in plain signs with `ascii_only`.
        """
        self._entries, self._columns = tuple(entries), columns
        self._large, self._ascii_only = large, ascii_only
        self.clear_options()
        self.add_options(
            Option(self._prompt(index, False), id=entry.key, disabled=entry.heading)
            for index, entry in enumerate(self._entries)
        )
        free = [index for index, entry in enumerate(self._entries) if not entry.heading]
        first = free[0] if free and highlight != NOTHING_YET else None
        self.highlighted = highlight if highlight in free else first
        self._show_highlight(None, self.highlighted)

    def fit_to(self, columns: int, *, large: bool = False, ascii_only: bool = False) -> None:
        """Set the same entries anew into that many columns."""
        if (columns, large, ascii_only) != (self._columns, self._large, self._ascii_only):
            shown = NOTHING_YET if self.highlighted is None else self.highlighted
            self.offer(self._entries, columns, shown, large=large, ascii_only=ascii_only)

    def number_of(self, index: int) -> int | None:
        """The digit that takes the entry at that place, if any does."""
        entry = self._entries[index]
        if entry.heading:
            return None
        place = sum(not e.heading for e in self._entries[: index + 1])
        number = place if entry.number is None else entry.number
        return number if 1 <= number <= 9 else None

    def take(self, number: int) -> bool:
        """As if the entry with that number had been highlighted and taken; whether there is one."""
        index = next((i for i in range(len(self._entries)) if self.number_of(i) == number), None)
        if self.deliberate:
            if program_of(self.app).presses.is_in_a_number(str(number)):
                self._choose_nothing()
            elif index is None:
                self.highlighted = None
                self.post_message(self.NotSaid(CHOOSE))
            else:
                self._choose(index)
            return True
        if index is None:
            return False
        if self._is_a_press(str(number)) and not self._spent:
            self.highlighted = index
            self.action_select()
        return True

    def can_page(self, way: int) -> bool:
        """Whether there is a row that can be taken above (-1) or below (1) the highlighted one."""
        return self._farthest(way) not in (None, self.highlighted)

    def page(self, way: int) -> None:
        """As many rows up (-1) or down (1) as are seen; never beyond the last that can be taken."""
        farthest = self._farthest(way)
        try:
            if way > 0:
                self.action_page_down()  # type: ignore[no-untyped-call]
            else:
                self.action_page_up()  # type: ignore[no-untyped-call]
        except KeyError:  # the list is just laid out anew, and where its rows stand is not known yet
            self.highlighted = farthest
        if self.highlighted is None:  # nothing but headings came after it
            self.highlighted = farthest

    def _farthest(self, way: int) -> int | None:
        free = [index for index, entry in enumerate(self._entries) if not entry.heading]
        return free[-1 if way > 0 else 0] if free else None

    def watch_highlighted(self, highlighted: int | None) -> None:
        super().watch_highlighted(highlighted)
        self._show_highlight(getattr(self, "_signed", None), highlighted)

    def _show_highlight(self, before: int | None, now: int | None) -> None:
        for index, on in ((before, False), (now, True)):
            if index is not None and index < len(self._entries) and index < self.option_count:
                self.replace_option_prompt_at_index(index, self._prompt(index, on))
        self._signed = now

    def _prompt(self, index: int, on: bool) -> Content:
        entry = self._entries[index]
        if entry.heading:
            rows = choice_rows(None, entry.label, self._columns)
            return Content("\n".join(row.removeprefix("  ") for row in rows))
        label = entry.brief if self._large and entry.brief else entry.label
        rows = choice_rows(self.number_of(index), label, self._columns, self._large, self._ascii_only)
        signs = [HIGHLIGHT if on else QUIET, *(QUIET for _ in rows[1:])]
        return Content("\n".join(sign + row for sign, row in zip(signs, rows, strict=True)))
