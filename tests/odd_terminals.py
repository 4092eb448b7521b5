"""The full screen under what terminals and hands do: storms of sizes, pastes, stops, keys in a rush, signals."""

import contextlib
import fcntl
import os
import pty
import random
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from interrupted import LEFT, PATIENCE, Ended

from coach.tui.app import ENDING

SIZES = ((1, 1), (2, 400), (120, 1), (12, 40), (24, 80), (45, 140), (120, 400))
"""Rows and columns."""
BEGUN = (("practice", "--seed", "3"), ("practice", "--visit", "bed", "--seed", "3"), ())
KEYS = (
    "\r",
    " ",
    "1",
    "2",
    "3",
    "n",
    "u",
    "g",
    "r",
    "?",
    "v",
    "\t",
    "\x1b[A",
    "\x1b[B",
    "\x1b[6~",
    "\x1bOS",
    "\x7f",
    "x",
)
"""What a hand presses, with xterm's control sequences: arrows, Page Down, F4."""
STANDS = 8000
"""Bytes after which something stands on the screen."""
CALM = 0.2
"""s without output after which a picture counts as drawn."""


@dataclass
class Seat:
    """This end of the terminal, the program, and what it wrote."""

    ours: int
    theirs: int
    process: "subprocess.Popen[bytes]"
    output: bytes = b""

    def read(self, calm: float = CALM) -> None:
        """Take over what was written, until nothing more comes."""
        while select.select([self.ours], [], [], calm)[0]:
            try:
                self.output += os.read(self.ours, 65536)
            except OSError:
                return

    def sized(self, rows: int, columns: int) -> None:
        """Another size of the window."""
        fcntl.ioctl(self.theirs, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self.process.send_signal(signal.SIGWINCH)

    def type(self, text: str) -> None:
        """Type or paste, read meanwhile: a terminal takes 4 kB at once."""
        data = text.encode()
        while data:
            if select.select([], [self.ours], [], 0)[1]:
                data = data[os.write(self.ours, data[:512]) :]
            self.read(0.0)


def storm(seat: Seat, chance: random.Random) -> None:
    """Sizes after each other without a pause, from 1x1 to 120 rows of 400 columns."""
    for _ in range(25):
        seat.sized(*chance.choice((*SIZES, (chance.randrange(1, 121), chance.randrange(1, 401)))))
        seat.read(chance.choice((0.0, 0.0, 0.02)))
    seat.sized(24, 80)


def pasted(seat: Seat, chance: random.Random) -> None:
    """10,000 characters at once, as a terminal with bracketed paste sends them or as keys; into a note or nowhere."""
    seat.type(chance.choice(("n", "")))
    seat.read()
    text = chance.choice(("x", "1,5 ", "\x1b[A\r", "ä\t")) * 10_000
    text = text[:10_000]
    seat.type(f"\x1b[200~{text}\x1b[201~" if chance.random() < 0.5 else text)


def stopped(seat: Seat, chance: random.Random) -> None:
    """Suspended, and continued once it has stopped: before that there is nothing to go on with.

    As a shell does it, and as one does it who asks nobody.
    """
    for number in (signal.SIGTSTP, signal.SIGSTOP):
        seat.process.send_signal(number)
        end = time.monotonic() + PATIENCE / 2
        waiting = os.WSTOPPED | os.WNOHANG
        while os.waitid(os.P_PID, seat.process.pid, waiting) is None and time.monotonic() < end:
            seat.read(0.02)
        seat.process.send_signal(signal.SIGCONT)
        seat.read()


def rushed(seat: Seat, chance: random.Random) -> None:
    """Keys of all kinds: gates are passed, forms, lists and boxes come and go."""
    for _ in range(40):
        seat.type(chance.choice(KEYS))
        seat.read(chance.choice((0.0, 0.05)))


DEEDS: tuple[Callable[[Seat, random.Random], None], ...] = (storm, pasted, stopped, rushed)


def tried(seed: int, folder: Path, deed: Callable[[Seat, random.Random], None] | None = None) -> Ended:
    """One program begun, done that to, and ended by one of the signals that end a program."""
    chance = random.Random(seed)
    words = ["--data", str(folder), *chance.choice(BEGUN)]
    names = [name for name in ENDING if hasattr(signal, name)]
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    before = termios.tcgetattr(theirs)[3]
    environment = {**os.environ, "TERM": "xterm-256color", **({"LC_ALL": "C"} if chance.random() < 0.3 else {})}
    call = [sys.executable, "-m", "coach", *words]
    process = subprocess.Popen(call, stdin=theirs, stdout=theirs, stderr=theirs, env=environment)
    seat = Seat(ours, theirs, process)
    try:
        end = time.monotonic() + PATIENCE
        while len(seat.output) < STANDS and time.monotonic() < end:
            seat.read(0.05)
        (deed or chance.choice(DEEDS))(seat, chance)
        with contextlib.suppress(OSError):
            process.send_signal(getattr(signal, chance.choice(names)))
        end = time.monotonic() + PATIENCE
        while process.poll() is None and time.monotonic() < end:
            seat.read(0.05)
        seat.read()
        cooked = termios.tcgetattr(theirs)[3] == before
        return Ended(process.poll(), seat.output, cooked)
    finally:
        with contextlib.suppress(OSError):
            process.kill()
        process.wait()
        os.close(ours)
        os.close(theirs)


def restored(ended: Ended) -> bool:
    """The terminal as it was, at most a sentence behind the picture, and no mistake."""
    behind = ended.output.rpartition(LEFT)[2]
    return ended.in_order and behind.count(b"\n") <= 2
