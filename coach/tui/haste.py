"""Keys that come faster than the screen: what nobody can have seen yet is not answered by them."""

from textual.app import App
from textual.events import Event, Key

from coach.tui.commands.palette import open_palette

ANYWAY = ("ctrl+q", "ctrl+c")
"""Leaving is always possible, as soon as the screen stands."""
SHORTLY = 0.02
"""Seconds."""


class PatientApp(App[int]):
    """A program that drops keys which arrive between a screen's opening and its first drawing."""

    async def on_event(self, event: Event) -> None:
        if not isinstance(event, Key) or not self.screen_stack or self.screen.is_mounted:
            await super().on_event(event)
        elif event.key in ANYWAY:
            again = Key(event.key, event.character)
            self.set_timer(SHORTLY, lambda: self.post_message(again))

    def action_command_palette(self) -> None:
        open_palette(self)
