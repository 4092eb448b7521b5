"""Boxes over a screen: something said, something to pick, something to type."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.screen import ModalScreen
from textual.widgets import Input, Label, OptionList, Static

from coach.errors import CoachError
from coach.tui.screens.base import DIGITS
from coach.tui.screens.parts import Choices, Entry

NEVER_MIND = Binding("escape,f4", "never_mind", "Back", show=False)


class Say(ModalScreen[None]):
    """A sentence; Enter, Space and the usual ways back close it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space,escape,f4,q,Q,backspace", "dismiss", "Close", show=False, priority=True)
    ]

    def __init__(self, title: str, sentence: str) -> None:
        super().__init__()
        self.heading, self.sentence = title, sentence

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(self.heading), classes="heading")
            with VerticalScroll(can_focus=False, classes="body"):
                yield Static(Content(self.sentence))
            yield Static("Enter: close", classes="hint")


class Pick(ModalScreen[str | None]):
    """Something to choose; None when the person goes back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        NEVER_MIND,
        Binding("q,Q,backspace", "never_mind", "Back", show=False),
        *(Binding(*digit, show=False) for digit in DIGITS),
    ]
    AUTO_FOCUS = "Choices"

    def __init__(self, title: str, paragraphs: Sequence[str], entries: Sequence[Entry], highlight: int = 0) -> None:
        super().__init__()
        self.heading, self.paragraphs, self.entries = title, tuple(paragraphs), tuple(entries)
        self._highlight = highlight

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(self.heading), classes="heading")
            with VerticalScroll(can_focus=False, classes="body"):
                yield Static(Content("\n\n".join(self.paragraphs)))
            yield Choices()
            yield Static("Up, Down, Enter or a digit · F4: back", classes="hint")

    def on_mount(self) -> None:
        self.query_one(Choices).offer(self.entries, self._columns(), self._highlight)

    def on_resize(self, event: Resize) -> None:
        self.query_one(Choices).fit_to(self._columns())

    def _columns(self) -> int:
        return max(min(self.app.size.width - 6, 70), 10)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.dismiss(event.option_id)

    def action_digit(self, number: int) -> None:
        self.query_one(Choices).take(number)

    def action_never_mind(self) -> None:
        self.dismiss(None)


@dataclass(frozen=True)
class Field:
    """Something to type."""

    key: str
    label: str
    value: str = ""
    restrict: str | None = None
    """A pattern that keeps other characters out."""


Typed = Mapping[str, str]


class Ask(ModalScreen[bool]):
    """Fields to type into.  What is understood is read back while typing; a refusal leaves the entry as it is.

    `echo` tells what was understood, `accept` makes the entry; both raise CoachError with the sentence to show.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        NEVER_MIND,
        Binding("down,tab", "app.focus_next", "Next", show=False),
        Binding("up,shift+tab", "app.focus_previous", "Before", show=False),
    ]
    AUTO_FOCUS = "Input"

    def __init__(
        self,
        title: str,
        lead: str,
        fields: Sequence[Field],
        echo: Callable[[Typed], str],
        accept: Callable[[Typed], None],
    ) -> None:
        super().__init__()
        self.heading, self.lead, self.fields = title, lead, tuple(fields)
        self._echo, self._accept = echo, accept

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(self.heading), classes="heading")
            with VerticalScroll(can_focus=False, classes="body"):
                yield Static(Content(self.lead))
                for field in self.fields:
                    yield Label(Content(field.label))
                    yield Input(
                        field.value,
                        id=field.key,
                        restrict=field.restrict,
                        max_length=200,
                        compact=True,
                        classes="entry",
                    )
                yield Static(id="echo")
            yield Static("Enter: take · F4: back, nothing is entered", classes="hint")

    @property
    def typed(self) -> dict[str, str]:
        """What stands in the fields."""
        return {field.key: self.query_one(f"#{field.key}", Input).value for field in self.fields}

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        if any(self.typed.values()):
            self._say(lambda: self._echo(self.typed))
        else:
            self.query_one("#echo", Static).update("")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()

        def entered() -> str:
            self._echo(self.typed)
            self._accept(self.typed)
            return ""

        if self._say(entered):
            self.dismiss(True)

    def _say(self, ask: Callable[[], str]) -> bool:
        try:
            words, fine = ask(), True
        except CoachError as error:
            words, fine = f"! {error}", False
        self.query_one("#echo", Static).update(Content(words))
        return fine

    def action_never_mind(self) -> None:
        self.dismiss(False)
