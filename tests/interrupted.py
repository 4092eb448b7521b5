"""The full-screen program on a pseudo terminal of 80×24, sent a signal at some instant; how it left the terminal."""

import os
import select
import signal
import time
from pathlib import Path

from seat import PATIENCE, Ended, seated


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
    sent, end = False, time.monotonic() + PATIENCE
    with seated(arguments, errors=errors) as seat:
        while time.monotonic() < end:
            if select.select([seat.ours], [], [], 0.005)[0]:
                seat.output += os.read(seat.ours, 4096)
            elif seat.process.poll() is not None:
                break
            if not sent and len(seat.output) >= after_bytes:
                time.sleep(after_seconds)
                seat.process.send_signal(number)
                sent = True
        return seat.ended


def started(folder: Path) -> list[str]:
    """The words that open a practice session at once."""
    return ["--data", str(folder), "practice", "--seed", "3"]
