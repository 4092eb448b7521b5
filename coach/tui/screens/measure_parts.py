"""The fields of the measuring screen."""

from typing import Any

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.events import Key
from textual.widgets import Input, Label

from coach.tui.screens.ways import WayField


class NumberInput(Input):
    """Takes the characters of a number, comma and point alike; every other key passes on to the commands."""

    def __init__(self, value: str, allowed: str, **rest: Any) -> None:
        super().__init__(value, compact=True, max_length=24, **rest)
        self.allowed = allowed

    def check_consume_key(self, key: str, character: str | None) -> bool:
        return character is not None and character in self.allowed

    async def _on_key(self, event: Key) -> None:
        if not self.check_consume_key(event.key, event.character):
            event.prevent_default()  # not typed; it goes on to the screen's commands


class FieldRow(Horizontal):
    """A label and its number."""

    def __init__(self, way: str, field: WayField, value: str) -> None:
        super().__init__(classes=f"row {way}")
        self.field, self._value = field, value

    def compose(self) -> ComposeResult:
        yield Label(self.field.label, classes="label")
        yield NumberInput(self._value, self.field.allowed, id=f"field-{self.field.key}", classes="entry")
