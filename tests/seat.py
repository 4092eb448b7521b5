"""A seat at the full-screen program on a pseudo terminal of 80×24: what is typed, what it wrote, and how it ended."""

import contextlib
import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

LEFT, ENTERED = b"\x1b[?1049l", b"\x1b[?1049h"
"""Leaves and enters the alternate screen (xterm control sequences)."""
PATIENCE = 40.0
"""Seconds after which a program that does not end counts as hung."""
CALM = 0.2
"""s without output after which a picture counts as drawn."""


@dataclass(frozen=True)
class Ended:
    """How the program ended."""

    status: int | None
    """None: it did not."""
    output: bytes
    cooked: bool
    """Whether the terminal takes whole lines and shows what is typed, as before."""

    @property
    def in_order(self) -> bool:
        """The terminal as it was, no mistake told, no traceback; ended by the signal itself only before it drew."""
        alternate = self.output.rfind(ENTERED) > self.output.rfind(LEFT)
        wrong = any(words in self.output for words in (b"mistake of its own", b"Traceback"))
        drawn = ENTERED in self.output
        return (
            self.cooked
            and not alternate
            and not wrong
            and (self.status == 0 or (not drawn and self.status is not None))
        )


@dataclass
class Seat:
    """This end of the terminal, the program, and what it wrote."""

    ours: int
    theirs: int
    before: int
    """The local modes of the terminal before anything was begun there: whole lines, typed letters shown."""
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

    @property
    def ended(self) -> Ended:
        """How the program ended, if it did, and how it left the terminal."""
        return Ended(self.process.poll(), self.output, _modes(self.theirs) == self.before)


def _modes(terminal: int) -> int:
    return int(termios.tcgetattr(terminal)[3])


@contextlib.contextmanager
def seated(arguments: Sequence[str], *, errors: int | None = None, **environment: str) -> Iterator[Seat]:
    """The program begun on a pseudo terminal of 80×24; when it is left the program is gone and both ends are closed.

    `errors`: the file that its standard error is sent to; None: the terminal too.
    """
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    before = _modes(theirs)
    process = subprocess.Popen(
        [sys.executable, "-m", "coach", *arguments],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs if errors is None else errors,
        env={**os.environ, "TERM": "xterm-256color", **environment},
    )
    try:
        yield Seat(ours, theirs, before, process)
    finally:
        with contextlib.suppress(OSError):
            process.kill()
        process.wait()
        os.close(ours)
        os.close(theirs)
