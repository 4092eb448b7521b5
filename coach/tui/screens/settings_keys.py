"""Keys of the person's own: every command with its keys, one more for any of them, and back to the usual ones."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.events import Key, Resize
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static

from coach.errors import InputError
from coach.tui.commands import own
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import SETTINGS
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.leaving import GO_BACK, LEAVING, NEVER_MIND, clickable
from coach.tui.screens.parts import KeysLine

LEAD = "Enter gives the marked command one more key; the keys that it has stay."
USUAL = "usual"


class KeysScreen(CoachScreen[None]):
    """The list of commands."""

    commands = SETTINGS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(SETTINGS), *DIGITS]
    AUTO_FOCUS = "#list"
    CSS = "KeysScreen #list { height: 1fr; padding: 0 1; }"

    def compose(self) -> ComposeResult:
        yield Static(Content.assemble(("▶ Settings: keys", "bold reverse")), id="where")
        yield Static(LEAD, id="said")
        yield Choices(id="list")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.show_rows()

    def on_resize(self, event: Resize) -> None:
        self.query_one("#list", Choices).fit_to(event.size.width - 4)
        self.query_one("#keys", KeysLine).say(self.commands)

    def show_rows(self, said: str = LEAD) -> None:
        """Show every command with its keys as they are now."""
        choices = self.query_one("#list", Choices)
        entries = [Entry(USUAL, "Back to the usual keys alone")]
        for name, label in own.names().items():
            command = own.commands_named(name)[0][0]
            entries.append(Entry(name, f"{label}: {own.shown(command, self.coach.own_keys)}"))
        choices.offer(entries, self.size.width - 4, choices.highlighted)
        self.query_one("#said", Static).update(Content(said))
        self.query_one("#keys", KeysLine).say(self.commands)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        name = event.option_id or ""
        if name == USUAL:
            self._keep({}, "the usual keys are back alone")
            self.query_one("#list", Choices).reopen()
            return
        label = own.names()[name]
        self.app.push_screen(NewKey(label, name), lambda key: self._took(name, label, key))

    def _took(self, name: str, label: str, key: str | None) -> None:
        if key is not None:
            keys = self.coach.own_keys
            self._keep({**keys, name: (*keys.get(name, ()), key)}, f"{own.said(key)} means {label} too")

    def _keep(self, keys: own.OwnKeys, said: str) -> None:
        trouble = self.coach.change(keys=keys)
        self.show_rows(f"! For now only: {trouble}" if trouble else f"Saved: {said}.")

    def help_paragraphs(self) -> tuple[str, ...]:
        return (
            "A command keeps the keys that it has; yours come on top. Letters count in both cases.",
            "Letters, F1 to F9, F12, and signs that no number needs can be used. While a number is typed letters do "
            "nothing.",
        )


class NewKey(ModalScreen[str | None]):
    """Waits for the key; dismissed with it, or with None."""

    BINDINGS: ClassVar[list[BindingType]] = [NEVER_MIND]

    def __init__(self, label: str, name: str) -> None:
        super().__init__()
        self.label, self.command = label, name

    def compose(self) -> ComposeResult:
        with Vertical(classes="box"):
            yield Static(Content(f"One more key for: {self.label}"), classes="heading")
            yield Static("Press the key.", id="echo")
            yield Static(clickable("F4: back, nothing is changed", (LEAVING, GO_BACK)), classes="hint")

    def on_key(self, event: Key) -> None:
        """Take the key, or say why it cannot be used."""
        if event.key in ("escape", "f4"):
            return
        event.stop()
        try:
            key = own.checked(event.key, self.command, self.app.own_keys)  # type: ignore[attr-defined]
        except InputError as error:
            self.query_one("#echo", Static).update(Content(f"! {error}"))
            return
        self.dismiss(key)

    def action_never_mind(self) -> None:
        self.dismiss(None)
