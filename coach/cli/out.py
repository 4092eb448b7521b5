"""What goes to standard output and standard error: it commands no terminal, and is readable where − or ⅛ is not."""

import contextlib
import math
import sys
from typing import Any, TextIO

from coach.shown import SPELLED
from coach.signs import visible

PLAIN = str.maketrans(
    {
        "−": "-",
        "×": "x",
        "°": " deg",
    }
    | SPELLED
    | {"±": "+/-", "…": "...", "²": "2", "’": "'", "″": '"'}
)
"""Signs that we print, for encodings without them."""


LONGEST = 1000
"""Characters of a complaint; it may quote what was typed."""


def say(text: str) -> None:
    """One line (or several) on standard output."""
    _write(sys.stdout, text)


def complain(text: str) -> None:
    """One sentence on standard error; never fails."""
    line = " ".join(text.split())
    with contextlib.suppress(OSError, ValueError):
        _write(sys.stderr, line if len(line) <= LONGEST else line[:LONGEST] + "…")


def say_json(value: Any) -> None:
    """The value as JSON on standard output, in plain ASCII."""
    import json

    _write(sys.stdout, json.dumps(value, indent=2, allow_nan=False))


def number(value: float, places: int = 4) -> float | None:
    """A number for JSON: rounded, and null where there is none."""
    return round(float(value), places) if math.isfinite(value) else None


def _write(stream: TextIO | None, text: str) -> None:
    if stream is None:  # closed by whoever started us
        return
    text = visible(text)
    encoding = getattr(stream, "encoding", None) or "utf-8"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        text = text.translate(PLAIN).encode(encoding, "replace").decode(encoding)
    stream.write(text + "\n")
