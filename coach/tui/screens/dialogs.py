"""Boxes over a screen: something said, something to pick, something to type."""

import textwrap
from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static

from coach.tui.screens.base import DIGITS
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.fitting import choice_rows
from coach.tui.screens.in_place import PlacedBox
from coach.tui.screens.leaving import GO_BACK, LEAVING, NEVER_MIND, clickable

TAKING = f"Up, Down, Enter or a digit · {LEAVING}"
CHOOSING = f"Up, Down or a digit, then Enter · {LEAVING}"


class Say(ModalScreen[None]):
    """A sentence; Enter, Space and the usual ways back close it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space,escape,f4,q,Q", "dismiss", "Close", show=False, priority=True)
    ]

    def __init__(self, title: str, sentence: str) -> None:
        super().__init__()
        self.heading, self.sentence = title, sentence

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(self.heading), classes="heading")
            with VerticalScroll(can_focus=False, classes="body"):
                yield Static(Content(self.sentence))
            yield Static(clickable("Enter: close", ("Enter: close", "screen.dismiss")), classes="hint")


class Pick(PlacedBox[str | None]):
    """Something to choose; None when the person goes back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        NEVER_MIND,
        Binding("q,Q", "never_mind", "Back", show=False),
        *(Binding(*digit, show=False) for digit in DIGITS),
    ]
    AUTO_FOCUS = "Choices"
    calm: ClassVar[bool] = False
    """Whether it has to be read before it is answered: a key that is still held from before answers nothing."""
    deliberate: ClassVar[bool] = False
    """Whether an answer says that something was done: then a digit only moves to its row."""

    def __init__(self, title: str, paragraphs: Sequence[str], entries: Sequence[Entry], highlight: int = 0) -> None:
        super().__init__()
        self.heading, self.paragraphs, self.entries = title, tuple(paragraphs), tuple(entries)
        self._highlight = highlight

    def rows_needed(self, columns: int) -> int:
        """Heading, paragraphs, what can be chosen, and the keys."""
        words = sum(len(textwrap.wrap(paragraph, columns)) + 1 for paragraph in self.paragraphs)
        rows = sum(len(choice_rows(9, entry.label, columns)) for entry in self.entries)
        return 1 + max(words - 1, 0) + rows + 1

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(self.heading), classes="heading")
            with VerticalScroll(can_focus=False, classes="body"):
                yield Static(Content("\n\n".join(self.paragraphs)))
            yield Choices()
            words = CHOOSING if self.deliberate else TAKING
            yield Static(clickable(words, (LEAVING, GO_BACK)), classes="hint")

    def on_mount(self) -> None:
        choices = self.query_one(Choices)
        choices.calm, choices.deliberate = self.calm, self.deliberate
        choices.offer(self.entries, self.columns, self._highlight)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if self.is_active:  # else another key of the same press left it already
            self.dismiss(event.option_id)

    def action_digit(self, number: int) -> None:
        self.query_one(Choices).take(number)

    def action_never_mind(self) -> None:
        self.dismiss(None)


class Deed(Pick):
    """Something to choose whose answer says that something was done."""

    calm = deliberate = True
