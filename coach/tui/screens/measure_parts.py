"""The fields of the measuring screen."""

from typing import Any

from rich.segment import Segment
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.events import DescendantBlur, DescendantFocus, Key
from textual.message import Message
from textual.strip import Strip
from textual.widgets import Label

from coach.pictures.modes import RasterMode
from coach.reading.method import Field
from coach.tui.screens.choices import HIGHLIGHT, QUIET
from coach.tui.screens.entering import EDITING, Entered
from coach.tui.screens.measure_words import AS_SEEN
from coach.tui.widgets.bigfont import set_text, text_width
from coach.tui.widgets.terminal import pick_mode

SHORT = {"left": "left", "right": "right", "top": "top", "bottom": "bottom", "mark": "width"}
"""The labels around the picture, by the field's key."""

LARGE = 3
"""Rows of a field from which its number is in large letters."""
MOST_DROPPED = 8
"""So many of the letters that were dropped last are told."""
LEAST_ENTRY = 11
"""Columns of a number of seven signs, and of what stands before its label and behind."""


class NumberInput(Entered):
    """Takes the characters of a number, comma and point alike; letters are refused, other keys reach the commands."""

    class Refused(Message):
        """Something was typed where only a number belongs: all of it since the field was entered."""

        def __init__(self, dropped: str, entry: str | None) -> None:
            super().__init__()
            self.dropped, self.entry = dropped, entry

    def __init__(self, value: str, allowed: str, **rest: Any) -> None:
        super().__init__(value, gives_way=True, max_length=24, **rest)
        self.allowed = allowed
        self._dropped = ""

    def enter_anew(self) -> None:
        super().enter_anew()
        self._dropped = ""

    def render_line(self, y: int) -> Strip:
        """The number in letters three rows high where the field is as high, the cursor a bar behind its place."""
        rows, columns = self.size.height, self.size.width
        setting = set_text(self.value, columns, LARGE, largest="small", ascii_only=self._ascii_only)
        if rows < LARGE or setting.size == "plain":
            return super().render_line(y - rows // 2) if y == rows // 2 else Strip.blank(columns, self.rich_style)
        row = setting.rows[y] if y < len(setting.rows) else ""
        before = text_width(self.value[: self.cursor_position], "small") + 1 if self.cursor_position else 0
        cells = list(row.ljust(columns)[:columns])
        if self.has_focus and before < columns:
            cells[before] = "|" if self._ascii_only else "▏"
        return Strip([Segment("".join(cells), self.rich_style)], columns)

    @property
    def _ascii_only(self) -> bool:
        return pick_mode(self.app) is RasterMode.ASCII

    def check_consume_key(self, key: str, character: str | None) -> bool:
        return character is not None and (character in self.allowed or character.isalpha())

    async def _on_key(self, event: Key) -> None:
        if event.character is not None and event.character in self.allowed:
            return
        if event.key in EDITING:
            return
        event.prevent_default()  # not typed
        if event.character is not None and event.character.isalpha():
            event.stop()  # a letter in a field is a slip, not a command
            self._dropped = (self._dropped + event.character)[-MOST_DROPPED:]
            self.post_message(self.Refused(self._dropped, self.id))


class FieldRow(Horizontal):
    """A label and its number; the one that is being typed has a sign before it."""

    def __init__(self, method: str, field: Field, value: str) -> None:
        super().__init__(classes=f"row {method}", id=f"row-{field.key}")
        self.field, self._value = field, value
        self.said = field.label
        """The label as it stands now."""

    def compose(self) -> ComposeResult:
        yield Label(QUIET + self.said, classes="label")
        yield NumberInput(self._value, self.field.allowed, id=f"field-{self.field.key}", classes="entry")

    @property
    def stand_in(self) -> str:
        """What counts where nothing is typed."""
        return str(self.query_one(NumberInput).placeholder)

    @stand_in.setter
    def stand_in(self, words: str) -> None:
        self.query_one(NumberInput).placeholder = words

    def stand(self, *, around: bool, sticky: bool, columns: int) -> None:
        """Around the picture the place says which gap it is, in a list the label says it."""
        self.set_class(around, "-around")
        if around:
            self.said = SHORT.get(self.field.key, self.field.label)
        elif sticky and self.field.swaps:
            whole, brief = f"{self.field.name} ({AS_SEEN})", f"{self.field.name}, as you look"
            self.said = whole if len(whole) + LEAST_ENTRY <= columns else brief
        else:
            self.said = self.field.label
        self._say()

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        self._say()

    def on_descendant_blur(self, event: DescendantBlur) -> None:
        self._say()

    def _say(self) -> None:
        on = self.query_one(NumberInput).has_focus
        words = Content.styled(HIGHLIGHT + self.said, "bold") if on else Content(QUIET + self.said)
        self.query_one(Label).update(words)
