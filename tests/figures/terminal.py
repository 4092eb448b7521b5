"""A program in a pseudo-terminal: when its first picture stands, and how soon a key shows."""

import contextlib
import fcntl
import glob
import os
import pty
import re
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Sequence

ESCAPES = re.compile(rb"\x1b(\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(\x07|\x1b\\)|[PX^_].*?\x1b\\|[ -/]*[0-~])", re.DOTALL)
QUIET = 0.15
"""Seconds without output after which a picture counts as finished."""
PATIENCE = 20.0
"""Seconds after which a program counts as stuck."""

WORDS, WHOLE = 5, 0.75
"""Visible letters that make the first words, and the share of all cells that makes a whole screen."""

BARE_APP = """
from textual.app import App
from textual.screen import Screen
from textual.widgets import Footer, Header, Static

class Other(Screen):
    BINDINGS = [("q", "app.pop_screen", "Back")]

    def compose(self):
        yield Static("Other")
        yield Footer()

class Bare(App):
    BINDINGS = [("question_mark", "other", "Other")]
    animation_level = "none"

    def compose(self):
        yield Header()
        yield Footer()

    def action_other(self):
        self.push_screen(Other())

Bare().run()
"""
"""The smallest thing that Textual can show with a header, a footer and a second screen: ? opens it, q closes it."""


class Stuck(Exception):
    """The program showed nothing in time."""


class Terminal:
    """One program in a pseudo-terminal of its own."""

    def __init__(self, argv: Sequence[str], rows: int = 24, columns: int = 80) -> None:
        self._cells, self._ended = rows * columns, False
        self.begun = time.perf_counter()
        self._pid, self._screen = pty.fork()
        if self._pid == 0:
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
            os.environ.update(TERM="xterm-256color", COLORTERM="truecolor", LINES=str(rows), COLUMNS=str(columns))
            os.execv(argv[0], list(argv))
        fcntl.ioctl(self._screen, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def read(self, seconds: float) -> bytes:
        """What comes within so many seconds; empty when nothing does."""
        ready, _, _ = select.select([self._screen], [], [], seconds)
        with contextlib.suppress(OSError):
            return os.read(self._screen, 65536) if ready else b""
        return b""

    def first_paint(self) -> tuple[float, float, float]:
        """ms from the start until the first words stand, and until the whole screen is painted; then the ms of the
        processor until the first words.  Raises Stuck."""
        shown, words, busy = b"", 0.0, 0.0
        while time.perf_counter() - self.begun < PATIENCE:
            shown += self.read(0.05)
            taken, text = 1000 * (time.perf_counter() - self.begun), ESCAPES.sub(b"", shown).decode("utf-8", "ignore")
            if not words and len("".join(text.split())) >= WORDS:
                words, busy = taken, self.busy()
            if len(text) > WHOLE * self._cells:
                return words, taken, busy
        raise Stuck("no picture came")

    def busy(self) -> float:
        """ms of the processor that the program took by now, all its threads; 0 where the system does not tell."""
        taken = 0
        for thread in glob.glob(f"/proc/{self._pid}/task/*/schedstat"):
            with contextlib.suppress(OSError), open(thread, encoding="ascii") as told:
                taken += int(told.read().split()[0])
        return taken / 1e6

    def until(self, words: str) -> float:
        """ms from the start until these words stand, spaces aside.  Raises Stuck."""
        shown = b""
        while time.perf_counter() - self.begun < PATIENCE:
            shown += self.read(0.05)
            if "".join(words.split()) in "".join(ESCAPES.sub(b"", shown).decode("utf-8", "ignore").split()):
                return 1000 * (time.perf_counter() - self.begun)
        raise Stuck(f"{words!r} did not come")

    def ended(self, key: bytes) -> float:
        """ms from a key until the program has ended.  Raises Stuck where it does not."""
        begun = time.perf_counter()
        os.write(self._screen, key)
        while time.perf_counter() - begun < PATIENCE:
            self.read(0.01)
            if os.waitpid(self._pid, os.WNOHANG)[0]:
                self._ended = True
                return 1000 * (time.perf_counter() - begun)
        raise Stuck(f"the program did not end after {key!r}")

    def settle(self) -> None:
        """Wait until nothing more is painted."""
        begun = time.perf_counter()
        while self.read(QUIET) and time.perf_counter() - begun < PATIENCE:
            pass

    def key(self, key: bytes) -> float:
        """ms from a key until the last of the output that it brings.  Raises Stuck where none comes."""
        self.settle()
        begun = last = time.perf_counter()
        os.write(self._screen, key)
        answered = False
        while self.read(QUIET if answered else 2.0):
            answered, last = True, time.perf_counter()
        if os.waitpid(self._pid, os.WNOHANG)[0]:
            self._ended = True
            raise Stuck(f"the program ended after {key!r}")
        if not answered:
            raise Stuck(f"nothing happened after {key!r}")
        return 1000 * (last - begun)

    def close(self) -> None:
        """End the program that this terminal started, if it still runs."""
        os.close(self._screen)
        if not self._ended:
            os.kill(self._pid, signal.SIGKILL)
            os.waitpid(self._pid, 0)


def bare_app() -> list[str]:
    """The command of the bare app."""
    return [sys.executable, "-c", BARE_APP]
