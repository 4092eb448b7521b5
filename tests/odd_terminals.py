"""The full screen under what terminals and hands do: storms of sizes, pastes, stops, keys in a rush, signals."""

import contextlib
import os
import random
import signal
import time
from collections.abc import Callable
from pathlib import Path

from seat import LEFT, PATIENCE, Ended, Seat, seated

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
    with seated(words, **({"LC_ALL": "C"} if chance.random() < 0.3 else {})) as seat:
        end = time.monotonic() + PATIENCE
        while len(seat.output) < STANDS and time.monotonic() < end:
            seat.read(0.05)
        (deed or chance.choice(DEEDS))(seat, chance)
        with contextlib.suppress(OSError):
            seat.process.send_signal(getattr(signal, chance.choice(names)))
        end = time.monotonic() + PATIENCE
        while seat.process.poll() is None and time.monotonic() < end:
            seat.read(0.05)
        seat.read()
        return seat.ended


def restored(ended: Ended) -> bool:
    """The terminal as it was, at most a sentence behind the picture, and no mistake."""
    behind = ended.output.rpartition(LEFT)[2]
    return ended.in_order and behind.count(b"\n") <= 2
