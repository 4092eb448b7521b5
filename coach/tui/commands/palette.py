"""The palette: the commands of the screen under it, to search in."""

import contextlib
from collections.abc import Iterable
from functools import partial
from typing import Any, ClassVar

from textual.app import App
from textual.await_complete import AwaitComplete
from textual.binding import Binding, BindingType
from textual.command import CommandList, CommandPalette, DiscoveryHit, Hit, Hits, Provider, SearchIcon

from coach.tui.commands import own
from coach.tui.commands.command import Command, Commands

ABOVE_LIST = 3
"""Rows of the field above the list, with its border and the row above that."""
LEAST_LIST = 4
"""Rows that the list keeps, its border among them."""


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

    def _possible(self) -> Iterable[Command[Any]]:
        commands: Commands = getattr(self.screen, "commands", ())
        return [c for c in commands if c.name != "palette" and c.possible(self.screen)]

    def _title(self, command: Command[Any]) -> str:
        return f"{command.label}  ({own.shown(command, getattr(self.app, 'own_keys', {}))})"

    def _run(self, command: Command[Any]) -> None:
        if not self._ran:  # a second Enter of the same press runs nothing more
            self._ran = True
            command.run(self.screen)


class CommandBox(CommandPalette):
    """The palette; left once, whatever comes after, and by the same key as every box."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("f4,f7", "escape", "Back", show=False)]

    def __init__(self) -> None:
        super().__init__(placeholder="What do you want to do?")

    def on_mount(self) -> None:
        """A sign that every terminal knows before what is typed; the list ends where the cautions begin."""
        self.query_one(SearchIcon).icon = "▶"
        stack = self.app.screen_stack
        bands = [band for band in stack[stack.index(self) - 1].query("#cautions") if band.display and band.region]
        if bands:
            self.query_one(CommandList).styles.max_height = max(bands[0].region.y - ABOVE_LIST, LEAST_LIST)

    def _action_command_list(self, action: str) -> None:
        """Move in the list; one that is not drawn yet has no pages to turn, and no lines to look them up."""
        with contextlib.suppress(KeyError):
            super()._action_command_list(action)

    def dismiss(self, result: None = None) -> AwaitComplete:
        return super().dismiss(result) if self.is_active else AwaitComplete()


def open_palette(app: App[Any]) -> None:
    """Open it, once, and not while the program is being left."""
    if app.return_value is None and not isinstance(app.screen, CommandBox):
        app.push_screen(CommandBox())
