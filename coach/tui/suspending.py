"""Stopped and continued from outside (SIGTSTP, SIGSTOP, SIGCONT): the terminal is given back, then taken anew.

And where the terminal itself goes, nothing waits for it any more.
"""

import asyncio
import contextlib
import os
import signal
from collections.abc import Callable
from typing import Any, TextIO

from textual.driver import Driver


def stops_in_turn(driver: type[Driver]) -> type[Driver]:
    """The same driver, which stops and goes on between two deeds of the program, never in the midst of one."""
    if not hasattr(driver, "_sigtstp_application"):  # no such signals here, or no terminal
        return driver
    return type("InTurn", (_InTurn, driver), {})


def let_go(driver: Driver | None) -> None:
    """The program ended, in order or not: its thread that reads keys ends too, or the process would outlive it."""
    over = getattr(driver, "exit_event", None)
    if over is not None:
        over.set()


class Parting:
    """A terminal to draw on that may be closed at any time; then nothing is drawn, and it is told once.

    Otherwise the toolkit's thread that writes ends with the first mistake, and whoever hands it a piece waits for
    ever.
    """

    def __init__(self, terminal: TextIO, gone: Callable[[], None]) -> None:
        self._terminal, self._gone, self._is_gone = terminal, gone, False

    def write(self, text: str) -> None:
        """As much of it as the terminal takes."""
        self._done(lambda: self._terminal.write(text))

    def flush(self) -> None:
        """The same of what was not out yet."""
        self._done(self._terminal.flush)

    def fileno(self) -> int:
        """The terminal's own."""
        return self._terminal.fileno()

    def _done(self, deed: Callable[[], object]) -> None:
        if self._is_gone:
            return
        try:
            deed()
        except (OSError, ValueError):  # hung up, or closed
            self._is_gone = True
            self._gone()


class _InTurn:
    """Laid over a driver of Textual's for a terminal, whose own handlers act wherever the program is.

    A signal comes anywhere: also while a piece is handed to the thread that writes, and a second one would then wait
    for that for ever.  And SIGCONT comes without a SIGTSTP before: the terminal was not given back then, and what it
    was before the program would be forgotten for what the program made of it.
    """

    def __init__(self, *given: Any, **named: Any) -> None:
        self._loop_of_app = asyncio.get_running_loop()
        super().__init__(*given, **named)
        self._part_with_terminal()

    def _part_with_terminal(self: Any) -> None:
        self._file = Parting(self._file, lambda: self._tell_loop(self._app.leave))

    def _tell_loop(self, deed: Callable[[], None]) -> None:
        with contextlib.suppress(RuntimeError):  # the loop is closed: the program ended before
            self._loop_of_app.call_soon_threadsafe(deed)

    def _sigtstp_application(self, *_: object) -> None:
        self._in_turn(self._stop)

    def _sigcont_application(self, *_: object) -> None:
        self._in_turn(self._go_on)

    def _in_turn(self, deed: Callable[[], None]) -> None:
        if self._loop_of_app.is_running():
            self._loop_of_app.call_soon_threadsafe(deed)
        elif deed == self._stop:  # the program is ending, its terminal given back
            os.kill(os.getpid(), signal.SIGSTOP)

    def _stop(self: Any) -> None:
        if self._auto_restart and _has_terminal(self):
            self.suspend_application_mode()
        os.kill(os.getpid(), signal.SIGSTOP)

    def _go_on(self: Any) -> None:
        if not self._auto_restart:
            return
        if _has_terminal(self):
            self.suspend_application_mode()
        self.resume_application_mode()
        self._app.refresh(layout=True)


def _has_terminal(driver: Any) -> bool:
    return driver._key_thread is not None and driver._key_thread.is_alive()
