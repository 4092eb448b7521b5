"""The palette: the commands of the screen under it, to search in."""

from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.app import App
from textual.await_complete import AwaitComplete
from textual.command import CommandPalette, DiscoveryHit, Hit, Hits, Provider

from coach.tui.commands import own
from coach.tui.commands.command import Command, Commands

if TYPE_CHECKING:
    from coach.tui.screens.base import CoachScreen


class ScreenCommands(Provider):
    """Offers what the screen's own keys do."""

    _ran = False

    async def discover(self) -> Hits:
        """All of them, before anything is typed."""
        for command in self._possible():
            yield DiscoveryHit(self._title(command), partial(self._run, command), help=command.about)

    async def search(self, query: str) -> Hits:
        """Those that match."""
        matcher = self.matcher(query)
        for command in self._possible():
            title = self._title(command)
            if (score := matcher.match(title)) > 0:
                yield Hit(score, matcher.highlight(title), partial(self._run, command), help=command.about)

    def _possible(self) -> Iterable["Command[CoachScreen[object]]"]:
        commands: Commands = getattr(self.screen, "commands", ())
        return [c for c in commands if c.name != "palette" and c.possible(self.screen)]

    def _title(self, command: "Command[CoachScreen[object]]") -> str:
        return f"{command.label}  ({own.shown(command, getattr(self.app, 'own_keys', {}))})"

    def _run(self, command: "Command[CoachScreen[object]]") -> None:
        if not self._ran:  # a second Enter of the same press runs nothing more
            self._ran = True
            command.run(self.screen)  # type: ignore[arg-type]


class CommandBox(CommandPalette):
    """The palette; left once, whatever comes after."""

    def dismiss(self, result: None = None) -> AwaitComplete:
        return super().dismiss(result) if self.is_active else AwaitComplete()


def open_palette(app: App[Any]) -> None:
    """Open it, once."""
    if not CommandPalette.is_open(app):
        app.push_screen(CommandBox(id="--command-palette"))
