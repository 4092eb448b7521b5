"""The full-screen program on a pseudo terminal of 80×24, sent a signal at some instant; how it left the terminal."""

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
import time
from dataclasses import dataclass
from pathlib import Path

LEFT, ENTERED = b"\x1b[?1049l", b"\x1b[?1049h"
"""Leaves and enters the alternate screen (xterm control sequences)."""
PATIENCE = 40.0
"""Seconds after which a program that does not end counts as hung."""


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


def interrupted(
    arguments: list[str],
    number: signal.Signals,
    *,
    after_bytes: int,
    after_seconds: float = 0.0,
    errors: int | None = None,
) -> Ended:
    """Start the program, send it the signal once it wrote so much (and so long after), and see how it ends.

    `errors`: the file that its standard error is sent to; None: the terminal too.
    """
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    before = termios.tcgetattr(theirs)[3]
    environment = {**os.environ, "TERM": "xterm-256color"}
    process = subprocess.Popen(
        [sys.executable, "-m", "coach", *arguments],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs if errors is None else errors,
        env=environment,
    )
    output, sent, end = b"", False, time.monotonic() + PATIENCE
    try:
        while time.monotonic() < end:
            if select.select([ours], [], [], 0.005)[0]:
                output += os.read(ours, 4096)
            elif process.poll() is not None:
                break
            if not sent and len(output) >= after_bytes:
                time.sleep(after_seconds)
                process.send_signal(number)
                sent = True
        cooked = termios.tcgetattr(theirs)[3] == before
        return Ended(process.poll(), output, cooked)
    finally:
        with contextlib.suppress(OSError):
            process.kill()
        process.wait()
        os.close(ours)
        os.close(theirs)


def started(folder: Path) -> list[str]:
    """The words that open a practice session at once."""
    return ["--data", str(folder), "practice", "--seed", "3"]
