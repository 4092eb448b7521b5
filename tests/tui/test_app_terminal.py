"""The program in a real terminal: killed, ended, broken; the terminal is given back and nothing is lost."""

import os
import select
import signal
import struct
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sweeps import sampled

from coach.session.session import Session
from coach.steps.gates import GATES

if sys.platform == "win32":
    pytest.skip("needs a pseudo terminal", allow_module_level=True)

import fcntl
import pty
import termios

RESTORED = b"\x1b[?1049l"
"""Leaves the alternate screen (xterm control sequences)."""
PATIENCE = 30.0
"""Seconds until a condition that does not come true is a failure."""
TRIES = 30
"""So many times a key is pressed that does nothing: the program is slow, or the key is the wrong one."""
PAGE_DOWN = "\x1b[6~"
"""What a terminal sends for that key (xterm control sequences)."""


class Terminal:
    """A program on a pseudo terminal of 80x24."""

    def __init__(self, code: str, folder: Path, **more: str) -> None:
        self.ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        environment = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor", **more}
        self.process = subprocess.Popen(
            [sys.executable, "-c", code, str(folder)], stdin=theirs, stdout=theirs, stderr=theirs, env=environment
        )
        os.close(theirs)
        self.output = b""
        self.seen = 0
        self.folder = folder

    def read(self) -> None:
        """Take over what was written since."""
        while select.select([self.ours], [], [], 0.02)[0]:
            try:
                data = os.read(self.ours, 65536)
            except OSError:
                return
            if not data:
                return
            self.output += data

    def wait(self, condition: Callable[[], bool]) -> None:
        """Until the condition is true."""
        assert self.came(condition, PATIENCE), self.output[-500:]

    def came(self, condition: Callable[[], bool], patience: float) -> bool:
        """Whether the condition became true within so many seconds."""
        end = time.monotonic() + patience
        while not condition():
            if time.monotonic() > end:
                return False
            self.read()
        return True

    def send(self, keys: str) -> None:
        """Type."""
        os.write(self.ours, keys.encode())

    def press_at(self, words: str, keys: str) -> None:
        """Wait for the words, from where was waited for last, then type."""
        self.wait(lambda: words.encode() in self.output[self.seen :])
        self.seen = len(self.output)
        self.send(keys)

    def press_until(self, words: str, keys: str, condition: Callable[[], bool]) -> None:
        """Wait for the words, then type until the condition is true: what comes too early counts for nothing."""
        self.press_at(words, keys)
        for _ in range(TRIES):
            if self.came(condition, 1.0):
                return
            self.send(keys)
        raise AssertionError(f"{keys!r} at {words!r} does nothing: {self.output[-500:]!r}")

    def session(self) -> Session | None:
        """The session as it is on disk."""
        paths = list((self.folder / "sessions").glob("*.toml"))
        return Session.load(paths[0]) if paths else None

    def gates(self) -> int:
        """How many gates are on disk as acknowledged."""
        session = self.session()
        return sum(event.kind == "gate" for event in session.events) if session else -1


@contextmanager
def terminal(code: str, folder: Path, **more: str) -> Iterator[Terminal]:
    """A program that is gone afterwards, whatever happens; `more` goes into its environment."""
    started = Terminal(code, folder, **more)
    try:
        yield started
    finally:
        if started.process.poll() is None:
            started.process.kill()
        started.process.wait()
        os.close(started.ours)


PRACTISE = """
import sys
from pathlib import Path
from coach.session.document import Practice
from coach.tui.app import run
sys.exit(run(Path(sys.argv[1]), practice=lambda: Practice(kind="fine", seed=3)))
"""
BROKEN = """
import sys, coach.tui.screens.session as screen
from coach.cli.main import main
def broken(*ignored, **too):
    raise RuntimeError("a mistake of the program's own")
screen.perform = broken
sys.exit(main(["practice", "--seed", "3", "--data", sys.argv[1]]))
"""


def pass_gates(shell: Terminal, count: int) -> None:
    """Acknowledge so many gates, each once it stands on the screen: what nobody has seen cannot be confirmed.

    Enter and Space in turn: the same key again at once would count as one that is held.  A key that came before the
    screen was ready for it is pressed again, as anyone would.
    """
    for left, gate in zip(range(count, 0, -1), GATES, strict=False):
        passed = max(shell.gates(), 0)
        shell.press_until(gate.confirm, " " if left % 2 else "\r", lambda passed=passed: shell.gates() > passed)


@pytest.mark.sweep
def test_killed_in_the_middle_of_measuring(tmp_path: Path) -> None:
    """SIGKILL while a gap is being typed: the way and the number are on disk."""
    with terminal(PRACTISE, tmp_path) as shell:
        pass_gates(shell, len(GATES))
        shell.press_until("There, fresh tape", "\r", lambda: shell.session().events[-1].kind == "arrive")
        shell.press_until("Fire the practice bench", " ", lambda: shell.session().events[-1].kind == "pulse")
        shell.press_until("Crosshair", PAGE_DOWN, lambda: shell.session().draft.get("way") == "gaps")
        shell.send("6,2")
        shell.wait(lambda: shell.session().draft.get("left") == "6,2")
        shell.process.kill()


@pytest.mark.parametrize("encoding", sampled(["ascii", "utf-8"]))
def test_a_terminal_that_knows_only_ascii(tmp_path: Path, encoding: str) -> None:
    """Where the screen is written in ASCII nothing else is sent, arrows and frames included; else it is."""
    with terminal(PRACTISE, tmp_path, PYTHONIOENCODING=encoding) as shell:
        pass_gates(shell, 2)
        shell.wait(lambda: GATES[2].confirm.encode() in shell.output)
        assert shell.output.isascii() is (encoding == "ascii")
        assert b"\\u" not in shell.output


@pytest.mark.parametrize("number", sampled([signal.SIGTERM, signal.SIGHUP], signal.SIGHUP))
def test_ended_from_outside(tmp_path: Path, number: signal.Signals) -> None:
    """SIGTERM and SIGHUP leave in order: the terminal restored, the session's path printed."""
    with terminal(PRACTISE, tmp_path) as shell:
        pass_gates(shell, 1)
        shell.wait(lambda: shell.gates() == 1)
        shell.process.send_signal(number)
        shell.wait(lambda: shell.process.poll() is not None)
        shell.read()
        assert shell.process.returncode == 0
        assert RESTORED in shell.output
        assert b"The session is in" in shell.output.rpartition(RESTORED)[2]


@pytest.mark.sweep
def test_a_mistake_of_the_program(tmp_path: Path) -> None:
    """An unexpected exception: the terminal restored, a sentence, the session's path, and no traceback."""
    with terminal(BROKEN, tmp_path) as shell:
        shell.wait(lambda: shell.gates() == 0)
        shell.press_until("I know them", "\r", lambda: shell.process.poll() is not None)
        shell.read()
        said = shell.output.rpartition(RESTORED)[2].decode()
        assert shell.process.returncode == 1
        assert "The session is in" in said
        assert "mistake of its own" in said
        assert "Traceback" not in shell.output.decode(errors="replace")
