"""The settings: each with its value in words, changed by a key, kept at once."""

from collections.abc import Mapping
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.errors import CoachError
from coach.shown import amount_typed
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import SETTINGS
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.parts import KeysLine
from coach.tui.screens.settings_rows import ROWS, STEP_NAMES, Row, read_steps, step_key, steps_lead, steps_words
from coach.units import parse_length

LEAD = "Enter or Right: the next value. Left: the value before."


class SettingsScreen(CoachScreen[None]):
    """The list of settings."""

    commands = SETTINGS
    hint_from = 16
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(SETTINGS),
        *DIGITS,
        Binding("right", "turn(1)", "Next value", show=False),
        Binding("left", "turn(-1)", "Value before", show=False),
    ]
    AUTO_FOCUS = "#list"
    CSS = "SettingsScreen #list { height: 1fr; padding: 0 1; }"

    def compose(self) -> ComposeResult:
        yield Static(Content.assemble(("▶ Settings", "bold reverse")), id="where")
        yield Static(LEAD, id="said")
        yield Choices(id="list")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.offer_hint("settings")
        self.show_rows(LEAD)
        self.app.theme_changed_signal.subscribe(self, lambda theme: self.show_rows())  # there is a key for it too

    def on_unmount(self) -> None:
        self.app.theme_changed_signal.unsubscribe(self)  # else it is held until the colours are changed

    def on_resize(self, event: Resize) -> None:
        self.query_one("#list", Choices).fit_to(event.size.width - 4)
        self.query_one("#keys", KeysLine).say(self.commands)

    def show_rows(self, said: str = "") -> None:
        """Show every setting as it stands now, and something said; "" leaves what was said."""
        choices = self.query_one("#list", Choices)
        entries = [Entry(row.key, row.words(self.coach.settings)) for row in ROWS]
        choices.offer(entries, self.size.width - 4, choices.highlighted)
        if said:
            self.query_one("#said", Static).update(Content(said))
        self.query_one("#keys", KeysLine).say(self.commands)

    def action_turn(self, way: int) -> None:
        """The next value of the highlighted setting, or the one before."""
        highlighted = self.query_one("#list", Choices).highlighted
        if highlighted is not None:
            self._turn(ROWS[highlighted], way)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self._turn(next(row for row in ROWS if row.key == event.option_id), 1)
        self.query_one("#list", Choices).reopen()

    def _turn(self, row: Row, way: int) -> None:
        if row.turned is not None:
            self._change(row, row.turned(self.coach.settings, way))
        elif row.key == "again":
            self._change(row, {"hints": True, "seen": ()}, "Saved: every hint is shown once more.")
        elif row.key == "steps":
            self._ask_steps(row)
        else:
            self._open_keys()

    def _change(self, row: Row, changes: Mapping[str, Any], said: str = "") -> None:
        """Heed and keep a change, and say so; `said` "" says the row."""
        trouble = self.coach.change(**changes)
        kept = said or f"Saved. {row.words(self.coach.settings)}."
        self.show_rows(f"! For now only: {trouble}" if trouble else kept)

    # what is typed or opened

    def _ask_steps(self, row: Row) -> None:
        unit = self.wording.unit
        values = [amount_typed(step, unit) for step in self.coach.settings.steps]
        fields = [
            Field(step_key(name), f"{name.capitalize()} step", value, lambda text: parse_length(text, unit))
            for name, value in zip(STEP_NAMES, values, strict=True)
        ]

        def accept(typed: Typed) -> None:
            if trouble := self.coach.change(steps=read_steps(typed, unit)):
                raise CoachError(trouble)

        def echo(typed: Typed) -> str:
            return (
                f"Understood: {', '.join(f'{amount_typed(step, unit)} {unit}' for step in read_steps(typed, unit))}."
            )

        ask = Ask("Crosshair's steps", steps_lead(unit), fields, echo, accept)
        saved = f"Saved. {row.label}: {{}}."
        self.app.push_screen(
            ask, lambda done: self.show_rows(saved.format(steps_words(self.coach.settings))) if done else None
        )

    def _open_keys(self) -> None:
        from coach.tui.screens.settings_keys import KeysScreen

        self.app.push_screen(KeysScreen(), lambda _: self.show_rows())

    def help_paragraphs(self) -> tuple[str, ...]:
        return (
            "Everything here is kept at once, in settings.toml in the data folder, to be read and edited there too.",
            "Lengths: what a number without a unit means, and how lengths are said. The files keep mm in any case.",
            "Signs: plain letters are for terminals, and for screen readers, that cannot show others.",
        )
