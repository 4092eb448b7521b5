"""The parts that several screens are made of."""

import time
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType
from textual.content import Content
from textual.timer import Timer
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from coach.tui.commands.command import Commands
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.fitting import SIGN, choice_rows

if TYPE_CHECKING:  # not before the first paint
    from coach.steps.step import Standing

HIGHLIGHT, QUIET = "▶ ", "  "
HINT = "Hint: "
TOO_SOON = "That came too soon after the last answer: read this, then press again."
ROOMY = 100
"""Columns from which things stand further apart."""


@dataclass(frozen=True)
class Entry:
    """One row to choose, or a heading between them."""

    key: str
    label: str
    heading: bool = False
    number: int | None = None
    """The digit that takes it; None: its place in the list."""


class Choices(OptionList, inherit_bindings=False):
    """A numbered list: Up and Down move, Enter or Space takes, a digit takes directly.

    The highlighted row has a sign of its own besides its colours.  Once something is taken nothing more can be,
    until whoever owns the list calls `reopen`: a second key of the same clumsy press must do no harm.
    """

    APART: ClassVar[float] = 0.1
    """Two different digits within so many seconds are one press of a glove: only the first counts."""
    HELD: ClassVar[float] = 0.12
    """The same key within so many seconds after itself is held down: nothing is taken until it was let go."""
    CALM: ClassVar[float] = 0.7
    """In a calm list the key that took something takes nothing more within so many seconds: a key that is held
    waits about as long before it repeats."""
    _last: ClassVar[tuple[str, float]] = ("", -1e9)
    """The last key that could take something, in whatever list, and when."""
    _taken: ClassVar[tuple[str, float]] = ("", -1e9)
    """The last key that did."""

    calm = False
    """Whether what is asked here has to be read before it is answered."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down", "cursor_down", "Down", show=False),
        Binding("up", "cursor_up", "Up", show=False),
        Binding("home", "first", "First", show=False),
        Binding("end", "last", "Last", show=False),
        Binding("enter", "press('enter')", "Take", show=False),
        Binding("space", "press('space')", "Take", show=False),
    ]

    def __init__(self, *, id: str | None = None, numbered: bool = True) -> None:
        super().__init__(id=id, compact=True, markup=False)
        self.numbered = numbered
        self._entries: tuple[Entry, ...] = ()
        self._columns = 60
        self._spent = True

    def on_mount(self) -> None:
        self.reopen()

    def reopen(self) -> None:
        """Something can be taken again, as soon as what the list shows now has been painted."""
        self.call_after_refresh(self._reopened)

    def _reopened(self) -> None:
        self._spent = False

    def action_press(self, key: str) -> None:
        """Enter or Space: take the highlighted entry, unless the key is only held."""
        if self._is_a_press(key):
            self.action_select()

    @staticmethod
    def clock() -> float:
        """Now, in seconds from whenever."""
        return time.monotonic()

    def _is_a_press(self, key: str) -> bool:
        """Whether the key was pressed for this, rather than held, or one of two under a glove."""
        now, (last, at), (taken, taken_at) = self.clock(), Choices._last, Choices._taken
        Choices._last = key, now
        if key == last and now - at < self.HELD:
            return False
        if key != last and key.isdigit() and last.isdigit() and now - at < self.APART:
            return False
        if self.calm and key == taken and now - taken_at < self.CALM:
            if isinstance(self.screen, CoachScreen):
                self.screen.mention(TOO_SOON)
            return False
        if not self._spent:
            Choices._taken = key, now
        return True

    @classmethod
    def pressed_elsewhere(cls, key: str) -> None:
        """A key took something in a field: as long as it is only held, it takes nothing from the list after it."""
        Choices._last = Choices._taken = key, cls.clock()

    def action_select(self) -> None:
        """Take the highlighted entry, and nothing more until the list is opened again."""
        if not self._spent and self.highlighted is not None:
            self._spent = True
            super().action_select()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """What is offered."""
        return self._entries

    def offer(self, entries: Sequence[Entry], columns: int, highlight: int | None = None) -> None:
        """Show these, set into that many columns, the first that can be taken (or another) highlighted."""
        self._entries, self._columns = tuple(entries), columns
        self.clear_options()
        self.add_options(
            Option(self._prompt(index, False), id=entry.key, disabled=entry.heading)
            for index, entry in enumerate(self._entries)
        )
        free = [index for index, entry in enumerate(self._entries) if not entry.heading]
        self.highlighted = highlight if highlight in free else (free[0] if free else None)
        self._show_highlight(None, self.highlighted)

    def fit_to(self, columns: int) -> None:
        """Set the same entries anew into that many columns."""
        if columns != self._columns:
            self.offer(self._entries, columns, self.highlighted)

    def number_of(self, index: int) -> int | None:
        """The digit that takes the entry at that place, if any does."""
        entry = self._entries[index]
        if entry.heading or not self.numbered:
            return None
        number = entry.number or sum(not e.heading for e in self._entries[: index + 1])
        return number if number <= 9 else None

    def take(self, number: int) -> bool:
        """As if the entry with that number had been highlighted and taken; whether there is one."""
        index = next((i for i in range(len(self._entries)) if self.number_of(i) == number), None)
        if index is None:
            return False
        if self._is_a_press(str(number)) and not self._spent:
            self.highlighted = index
            self.action_select()
        return True

    def watch_highlighted(self, highlighted: int | None) -> None:
        super().watch_highlighted(highlighted)
        self._show_highlight(getattr(self, "_signed", None), highlighted)

    def _show_highlight(self, before: int | None, now: int | None) -> None:
        for index, on in ((before, False), (now, True)):
            if index is not None and index < len(self._entries) and index < self.option_count:
                self.replace_option_prompt_at_index(index, self._prompt(index, on))
        self._signed = now

    def _prompt(self, index: int, on: bool) -> Content:
        entry = self._entries[index]
        if entry.heading:
            rows = choice_rows(None, entry.label, self._columns)
            return Content("\n".join(row.removeprefix("  ") for row in rows))
        rows = choice_rows(self.number_of(index), entry.label, self._columns)
        rows[0] = (HIGHLIGHT if on else QUIET) + rows[0]
        rows[1:] = [QUIET + row for row in rows[1:]]
        return Content("\n".join(rows))


class WhereLine(Static):
    """One line: the stages of the job with a sign each, and the counts."""

    def say(self, standing: "Standing", practice: bool) -> None:
        """Show where the job stands: as much as fits, with room between where there is some."""
        roomy, room = self.app.size.width >= ROOMY, self.app.size.width - 2
        spaces = ("  ", " ") if roomy else (" ",)
        wordings = self._counts(standing) if roomy else self._counts(standing)[-1:]
        lines = [self._line(standing, counts, space, practice) for counts in wordings for space in spaces]
        self.update(next((line for line in lines if line.cell_length <= room), lines[-1]))

    @staticmethod
    def _line(standing: "Standing", counts: str, space: str, practice: bool) -> Content:
        parts: list[str | tuple[str, str]] = []
        now = True
        for name, behind in standing.places:
            if behind or not now:
                parts.append(f"{'✓' if behind else '·'} {name}{space}")
            else:
                parts += [(f"▶ {name}", "bold reverse"), space]
                now = False
        parts.append(f"│{space}{counts}")
        if practice:
            parts += [space, ("PRACTICE", "bold")]
        return Content.assemble(*parts)

    @staticmethod
    def _counts(standing: "Standing") -> tuple[str, ...]:
        """Rounds, pulses, what is left of them and how long that takes, in shorter and shorter wordings."""
        counts = f"round {standing.rounds}, pulse {standing.pulses}"
        if standing.left.pulses < 1:
            return (counts,)
        of_all = f"{counts} of about {standing.pulses + standing.left.pulses:.0f}"
        if not standing.minutes:
            return of_all, counts
        brief = standing.minutes.split(" at ")[0].replace("minutes", "min").replace("minute", "min")
        left = f"{brief} of pulses" if "not counted" in standing.minutes else f"{brief} left"
        fewest = f"pulse {standing.pulses}, {left}"
        return f"{of_all}, {standing.minutes}", f"{of_all}, {left}", f"{counts}, {left}", fewest, of_all, counts


class Cautions(Static):
    """The cautions, always in view; their sign and word stand out without colour too."""

    def say(self, rows: Sequence[str]) -> None:
        """Show rows that are wrapped already."""
        content = Content("\n".join(rows))
        content = content.highlight_regex(rf"{SIGN}(\sCAUTION)?", style="bold")
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
