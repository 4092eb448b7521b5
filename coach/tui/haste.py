"""Keys that come faster than the screen: none is lost or overtaken, and none answers what nobody can have seen yet.

The screen toolkit lets a character act at once and sends a command's key through several queues first, so that a fast
hand's Backspaces arrive after the digits that follow them.  Here the next key is heard once the last one has had its
whole effect and stands on the screen.
"""

import math
from collections import deque
from functools import partial
from typing import Any, ClassVar

from textual.app import App
from textual.await_complete import AwaitComplete
from textual.events import Event, Key, MouseDown, MouseUp
from textual.message import Message
from textual.message_pump import MessagePump
from textual.screen import Screen
from textual.timer import Timer

from coach.tui.widgets.forgetting import forget_drawn

ANYWAY = ("ctrl+q", "ctrl+c")
"""Leaving is always possible, as soon as the screen stands."""
SHORTLY = 0.02
"""Seconds."""
PATIENCE = 0.5
"""Seconds after which the next key is heard, even if nobody told that the last one had its effect."""
TOO_EARLY = "That was typed before this stood here: read it, then press again."


class PatientApp(App[int]):
    """A program that hears one key at a time, and drops what was pressed before what is asked stood on the screen."""

    BURST: ClassVar[float] = 0.25
    """Once a key came too early, so do those that follow each other within so many seconds: half a number is worse
    than none."""

    def __init__(self, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._to_hear: deque[Key] = deque()
        self._hearing = 0  # which key is having its effect; 0: none
        self._heard_keys = 0
        self._pressed_on: Screen[Any] | None = None  # which screen it was pressed on
        self._impatient: Timer | None = None
        self._asked = 0
        self._stands = -math.inf  # since when what is asked stands on the screen
        self._dropped = -math.inf  # when the last key came that was too early
        self._untold = False  # whether it was dropped while nothing stood there that could say so
        self._down_dropped = False

    # one key after another

    async def on_event(self, event: Event) -> None:
        if isinstance(event, Key) and not event.is_forwarded:
            self._to_hear.append(event)
            await self._hear()
        elif isinstance(event, Key) and self._pressed_on is not (self.screen if self.screen_stack else None):
            return  # it comes back from a screen that it closed: it is no command of the one beneath
        elif isinstance(event, MouseDown | MouseUp) and not event.is_forwarded and self._is_early_click(event):
            return
        else:
            await super().on_event(event)

    @property
    def is_hearing(self) -> bool:
        """Whether a key has still to have its effect."""
        return bool(self._hearing or self._to_hear)

    @property
    def is_asking_anew(self) -> bool:
        """Whether what is asked does not stand on the screen yet."""
        return self._stands == math.inf

    async def _hear(self) -> None:
        """The next key, unless the one before is having its effect."""
        while self._to_hear and not self._hearing and self.screen_stack:
            key = self._to_hear.popleft()
            if self._is_early(key):
                self._drop(key)
                continue
            self._heard_keys += 1
            self._hearing, self._pressed_on = self._heard_keys, self.screen
            await super().on_event(key)
            self._impatient = self.set_timer(PATIENCE, partial(self._heard, self._hearing))
            self._follow(2)

    def _follow(self, rounds: int) -> None:
        """Wait through the queues that the key went through, and again for what it set going; then until all of that
        is drawn."""
        if rounds and self.screen_stack:
            route = (self.focused or self.screen).ancestors_with_self
            self._along(tuple(route), partial(self._follow, rounds - 1))
        else:
            self.call_after_refresh(self._heard, self._hearing)

    def _along(self, nodes: tuple[MessagePump, ...], then: partial[None]) -> None:
        """Once these have done what they have to do, one after the other."""
        while nodes:
            first, nodes = nodes[0], nodes[1:]
            if first.call_later(self._along, nodes, then):
                return
        then()

    async def _heard(self, which: int) -> None:
        if which != self._hearing:
            return
        self._hearing = 0
        if self._impatient is not None:
            self._impatient.stop()
        await self._hear()

    # what stands there

    def asks_anew(self) -> None:
        """Something new is asked: what was pressed before it stands on the screen is no answer to it."""
        self._asked += 1
        self._stands = math.inf
        self.call_after_refresh(self._stands_now, self._asked)

    def _stands_now(self, which: int) -> None:
        if which == self._asked:
            self._stands = Message().time  # the clock of keys
            if self._untold:
                self._tell_too_early()

    def push_screen(self, *args: Any, **rest: Any) -> Any:
        pushed = super().push_screen(*args, **rest)
        self.asks_anew()
        return pushed

    def switch_screen(self, screen: Screen[Any] | str) -> AwaitComplete:
        switched = super().switch_screen(screen)
        forget_drawn()
        self.asks_anew()
        return switched

    def pop_screen(self) -> AwaitComplete:
        popped = super().pop_screen()
        forget_drawn()
        self.asks_anew()
        return popped

    def _is_early(self, key: Key) -> bool:
        """Whether the key was pressed before what is asked stood there, or together with one that was."""
        if key.time <= self._stands or not self.screen.is_mounted:
            return True
        return key.time - self._dropped < self.BURST and key.key not in ANYWAY

    def _drop(self, key: Key) -> None:
        if key.key in ANYWAY:
            again = Key(key.key, key.character)
            self.set_timer(SHORTLY, lambda: self.post_message(again))
            return
        self._dropped, self._untold = key.time, True
        if not self.is_asking_anew:
            self._tell_too_early()

    def _tell_too_early(self) -> None:
        """Say it on the screen that stands there now, so that it is not overtaken by what that still has to show."""
        mention = getattr(self.screen, "mention", None)
        if mention is not None and self.screen.is_mounted:
            self._untold = False
            mention(TOO_EARLY, lasts=True)

    def _is_early_click(self, event: MouseDown | MouseUp) -> bool:
        """The same of the mouse's button: one that went down too early does nothing when it is let go."""
        if isinstance(event, MouseDown):
            self._down_dropped = event.time <= self._stands
        return self._down_dropped
