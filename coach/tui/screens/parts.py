"""The parts that several screens are made of."""

from collections.abc import Sequence
from typing import ClassVar

from textual.content import Content
from textual.timer import Timer
from textual.widgets import Static

from coach.tui.commands.command import Commands
from coach.tui.screens.band import SIGNALLED
from coach.tui.themes import signal_style

HINT = "Hint: "


class Cautions(Static):
    """The band of cautions, always in view; signal words stand out without colour too."""

    rows: tuple[str, ...] = ()

    def on_mount(self) -> None:
        self.app.theme_changed_signal.subscribe(self, lambda theme: self.say(self.rows))

    def say(self, rows: Sequence[str]) -> None:
        """Show rows that are wrapped already."""
        self.rows = tuple(rows)
        content = Content("\n".join(rows))
        for found in SIGNALLED.finditer(content.plain):
            content = content.stylize(signal_style(self.app, found[1]), found.start(), found.end())
        self.update(content)
        self.display = bool(rows)


class KeysLine(Static):
    """The most important keys of the screen, at most five; each can be clicked too."""

    BRIEFLY: ClassVar[float] = 4.0
    """So many seconds something stands here in place of the keys."""

    ROOMY: ClassVar[int] = 30
    """Rows of the terminal from which a hint has a row of its own."""

    _commands: Commands = ()
    _timer: Timer | None = None
    _hint = ""
    _heeded = False  # whether a key was pressed since the hint was offered
    row_for_hint = True
    """Whether the screen can spare a row for a hint; else it stands in place of the keys until the next key."""

    @property
    def extra(self) -> int:
        """Rows besides the keys' own."""
        return int(bool(self._hint) and self.row_for_hint and self.app.size.height >= self.ROOMY)

    def offer(self, hint: str) -> bool:
        """Show a hint, or none; whether it is shown: what does not fit into a line is not."""
        self._hint = hint if hint and len(HINT) + len(hint) <= self.app.size.width - 2 else ""
        self.row_for_hint, self._heeded = True, False
        return bool(self._hint)

    def drop_hint(self) -> None:
        """A key was pressed: where the hint stands in place of the keys, these come back."""
        self._heeded = True
        if self._hint and not self.extra:
            self.say(self._commands)

    def say(self, commands: Commands) -> None:
        """Show these commands, whole ones only: with less room the last before help give way."""
        self._commands = commands
        if (self._heeded and not self.extra) or len(HINT) + len(self._hint) > self.app.size.width - 2:
            self._hint = ""  # the terminal became smaller, or a key was pressed
        self.styles.height = 1 + self.extra
        if self._timer is not None:
            self._timer.stop()
            self._timer = None
        offered = [command for command in commands if command.in_line and command.possible(self.screen)][:5]
        words = {command.name: (command.short(self.screen), command.now(self.screen)) for command in offered}
        width = self.app.size.width - 2
        while len(offered) > 1 and sum(5 + len("".join(words[c.name])) for c in offered) - 2 > width:
            offered.remove(next(c for c in reversed(offered) if c.name != "help" or c is offered[0]))
        parts = []
        for command in offered:
            parts.append(f"[@click=screen.command({command.name!r})][bold reverse] $key [/] $label[/]")
            key, label = words[command.name]
            parts[-1] = parts[-1].replace("$key", key).replace("$label", label)
        hint = Content.assemble((HINT, "bold"), self._hint)
        keys = Content.from_markup("  ".join(parts))
        self.update(Content("\n").join((hint, keys)) if self.extra else hint if self._hint else keys)

    def mention(self, words: str) -> None:
        """Say something in their place, briefly."""
        if not self.display or len(words) > self.app.size.width - 2:
            self.app.notify(words, timeout=self.BRIEFLY, markup=False)
            return
        self.say(self._commands)
        self.update(Content.styled(words, "bold"))
        self._timer = self.set_timer(self.BRIEFLY, lambda: self.say(self._commands))
