"""The fields of the measuring screen."""

from typing import Any

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.events import DescendantBlur, DescendantFocus, Key
from textual.message import Message
from textual.widgets import Label

from coach.reading.method import Field
from coach.tui.screens.asking import Entered
from coach.tui.screens.choices import HIGHLIGHT, QUIET


class NumberInput(Entered):
    """Takes the characters of a number, comma and point alike; letters are refused, other keys reach the commands."""

    class Refused(Message):
        """A letter was typed where only a number belongs."""

        def __init__(self, letter: str) -> None:
            super().__init__()
            self.letter = letter

    def __init__(self, value: str, allowed: str, **rest: Any) -> None:
        super().__init__(value, number=True, max_length=24, **rest)
        self.allowed = allowed

    def check_consume_key(self, key: str, character: str | None) -> bool:
        return character is not None and (character in self.allowed or character.isalpha())

    async def _on_key(self, event: Key) -> None:
        if event.character is not None and event.character in self.allowed:
            return
        event.prevent_default()  # not typed
        self.edit()
        if event.character is not None and event.character.isalpha():
            event.stop()  # a letter in a field is a slip, not a command
            self.post_message(self.Refused(event.character))


class FieldRow(Horizontal):
    """A label and its number; the one that is being typed has a sign before it."""

    def __init__(self, method: str, field: Field, value: str) -> None:
        super().__init__(classes=f"row {method}")
        self.field, self._value = field, value

    def compose(self) -> ComposeResult:
        yield Label(QUIET + self.field.label, classes="label")
        yield NumberInput(self._value, self.field.allowed, id=f"field-{self.field.key}", classes="entry")

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        self.query_one(Label).update(Content.styled(HIGHLIGHT + self.field.label, "bold"))

    def on_descendant_blur(self, event: DescendantBlur) -> None:
        self.query_one(Label).update(Content(QUIET + self.field.label))
