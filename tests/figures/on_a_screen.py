"""A hand at the full screen, and an eye on it: what stands there, what is pressed, and how it was left."""

import fcntl
import os
import pty
import select
import struct
import subprocess
import termios
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Self

from coach.steps.gates import GATES

PATIENCE, AGAIN = 60.0, 1.5
"""Seconds until it counts as hung, and until a key that came too early is pressed once more."""


@dataclass(frozen=True)
class Ended:
    """How a program ended, and what it had said."""

    status: int | None
    said: str
    cooked: bool
    """Whether the terminal is as it was."""
    found: bool
    """Whether what was waited for came."""


class Hand:
    """The coach on a pseudo terminal of 80x24, with all of its environment given."""

    def __init__(self, call: Sequence[str], around: Mapping[str, str]) -> None:
        self._ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self._theirs, self._before = theirs, termios.tcgetattr(theirs)[3]
        self._process = subprocess.Popen(call, env=dict(around), cwd="/", stdin=theirs, stdout=theirs, stderr=theirs)
        self._said = b""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._process.poll() is None:
            self._process.kill()
        self._process.wait()
        os.close(self._ours)
        os.close(self._theirs)

    def first_entry(self) -> Ended:
        """The first gate answered, then home and out."""
        return self._left(self._comes(GATES[0].confirm) and self._comes(GATES[1].confirm, pressing="\r"))

    def looked(self) -> Ended:
        """What was left stands there again, its first gate asked anew."""
        return self._left(self._comes(GATES[0].confirm))

    def _left(self, found: bool) -> Ended:
        end, pressed = time.monotonic() + PATIENCE, time.monotonic()
        while self._process.poll() is None and time.monotonic() < end:
            self._hear()
            if time.monotonic() - pressed > AGAIN:
                pressed = time.monotonic()
                os.write(self._ours, b"q")
        self._hear()
        cooked = termios.tcgetattr(self._theirs)[3] == self._before
        return Ended(self._process.poll(), self._said.decode(errors="replace"), cooked, found)

    def _comes(self, words: str, pressing: str = "") -> bool:
        """Whether these words come, pressed for again and again."""
        end, pressed, before = time.monotonic() + PATIENCE, 0.0, len(self._said)
        while words.encode() not in self._said[before:]:
            if time.monotonic() > end or self._process.poll() is not None:
                return False
            if pressing and time.monotonic() - pressed > AGAIN:
                pressed = time.monotonic()
                os.write(self._ours, pressing.encode())
            self._hear()
        return True

    def _hear(self) -> None:
        while select.select([self._ours], [], [], 0.1)[0]:
            try:
                self._said += os.read(self._ours, 65536)
            except OSError:
                return
