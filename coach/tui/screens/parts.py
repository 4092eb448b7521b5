"""The parts that several screens are made of."""

import re
import textwrap
from collections.abc import Callable, Sequence
from typing import ClassVar, Literal

from textual.content import Content
from textual.style import Style
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Static

from coach.steps.keys import Tone
from coach.tui.commands.command import Commands
from coach.tui.screens.band import SIGNALLED
from coach.tui.themes import passing_style, signal_style

HINT = "Hint: "
Passing = Literal["done", "chosen", "told", "nothing"]
"""What is said in passing: something was done; Enter would take this; so it stands; nothing was taken."""
PASSING: dict[Passing, str] = {"done": "✓", "chosen": "▶", "told": "·", "nothing": "!"}
"""The sign before each."""
KEY = Style(bold=True, reverse=True)
LEAST_ROOM = 8
"""Columns below which words are cut where they end: the window is being dragged."""
PAUSES = re.compile(r"[;:.,](?= )")
"""Where a sentence may end early."""


class Cautions(Static):
    """The band of cautions, always in view; signal words stand out without colour too."""

    rows: tuple[str, ...] = ()

    def on_mount(self) -> None:
        self.app.theme_changed_signal.subscribe(self, lambda theme: self.say(self.rows))

    def on_unmount(self) -> None:
        self.app.theme_changed_signal.unsubscribe(self)  # else it is held until the colours are changed

    def say(self, rows: Sequence[str]) -> None:
        """Show rows that are wrapped already."""
        self.rows = tuple(rows)
        content = Content("\n".join(rows))
        for found in SIGNALLED.finditer(content.plain):
            content = content.stylize(signal_style(self.app, found[1]), found.start(), found.end())
        self.update(content)
        self.styles.height = len(rows)
        self.display = bool(rows)


class KeysLine(Static):
    """The most important keys of the screen, at most five; each can be clicked too.

    A hint has a row of its own above them, or is not shown.  What is said in passing stands in this place too, so
    that it never lies over anything else, and the newest takes the place of the one before.
    """

    BRIEFLY: ClassVar[float] = 4.0
    """So many seconds something stands here in place of the keys."""

    _commands: Commands = ()
    _timer: Timer | None = None
    _said: tuple[str, Passing] = ("", "nothing")
    _lasts = False
    _hint = ""
    _shown = Content()
    _when_shown: Callable[[], None] | None = None
    hint_from = 30
    """Rows of the terminal from which a hint has a row of its own."""
    row_for_hint = True
    """Whether the screen can spare a row for this hint."""

    @property
    def extra(self) -> int:
        """Rows besides the keys' own."""
        fits = 0 < len(self._hint) <= self.app.size.width - 2 - len(HINT)
        return int(fits and self.row_for_hint and self.app.size.height >= self.hint_from)

    def offer(self, hint: str, when_shown: Callable[[], None]) -> None:
        """A hint, or "", to be shown from now on wherever there is room; and what to do once it is."""
        self._hint, self._when_shown, self.row_for_hint = hint, when_shown, True

    def say(self, commands: Commands) -> None:
        """Show these commands, whole ones only: with less room the last before help give way."""
        self._commands = commands
        self.styles.height = 1 + self.extra
        if self._timer is not None and self._lasts:
            self._show(self._in_passing())
            return
        self._say_no_more()
        self._show(self._keys())
        if self.extra and self.display and (shown := self._when_shown) is not None:
            self._when_shown = None
            shown()

    def _keys(self) -> Content:
        offered = [command for command in self._commands if command.in_line and command.possible(self.screen)][:5]
        words = {command.name: (command.short(self.screen), command.now(self.screen)) for command in offered}
        width = self.app.size.width - 2
        while len(offered) > 1 and sum(5 + len("".join(words[c.name])) for c in offered) - 2 > width:
            offered.remove(next(c for c in reversed(offered) if c.name != "help" or c is offered[0]))
        return Content("  ").join([on_click(command.name, *words[command.name]) for command in offered])

    def _show(self, line: Content) -> None:
        hint = Content.assemble((HINT, "bold"), self._hint)
        shown = Content("\n").join((hint, line)) if self.extra else line
        if not shown.is_same(self._shown):  # it is said anew at each step, and another layout costs
            self._shown = shown
            self.update(shown)

    def mention(self, words: str, passing: Passing = "nothing", *, lasts: bool = False) -> None:
        """Say something in place of the keys, briefly; as much of it as stands whole in the line.

        The whole line is filled, so that from afar it is seen that something is said, and its sign says of what kind.
        `lasts`: also while the screen changes and says its keys anew, as what was dropped must be known to whoever
        types on.
        """
        self._say_no_more()
        self.say(self._commands)
        self._said, self._lasts = (words, passing), lasts
        self._show(self._in_passing())
        self._timer = self.set_timer(self.BRIEFLY, self._over)
        if not self.display:
            self.app.bell()  # the smallest terminals have no row for it

    def _in_passing(self) -> Content:
        (words, passing), width = self._said, self.app.size.width - 2
        said = shortened(f"{PASSING[passing]} {words}", width).ljust(max(width, 0))
        return Content.styled(said, passing_style(self.app, good=passing in ("done", "chosen")))

    def _say_no_more(self) -> None:
        if self._timer is not None:
            self._timer.stop()
            self._timer = None

    def _over(self) -> None:
        self._say_no_more()
        self.say(self._commands)


def on_click(command: str, key: str, label: str) -> Content:
    """A key and what it does, which a click does as well (the toolkit's markup is slow to read)."""
    click = Style.from_meta({"@click": f"screen.command({command!r})"})
    return Content.assemble((f" {key} ", KEY + click), (f" {label}", click))


def in_tone(headline: Widget, tone: Tone) -> None:
    """Colour a headline by how it is meant."""
    headline.set_class(tone == "good", "-good")
    headline.set_class(tone == "stop", "-stop")


def shortened(words: str, room: int) -> str:
    """A sentence that fits, or its first parts that do, or its first words."""
    if len(words) <= room:
        return words
    if room < LEAST_ROOM:
        return words[: max(room, 0)]
    ends = [found.start() for found in PAUSES.finditer(words) if found.start() <= room]
    return words[: ends[-1]] if ends else textwrap.shorten(words, room, placeholder=" …")
