"""Where answers come from: a file, or standard input."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

from coach.errors import Unreadable

_COMMENT = re.compile(r"(?:^|\s)#(?:\s.*|$)")
"""A number sign with a gap on both sides, so that "roll #2" may stand in a note."""


def answers_in(path: Path) -> Iterator[str]:
    """The answers in a file, one a line; an empty line takes the default.  Raises Unreadable.

    What stands behind "# " is a comment; a line with nothing but a comment is no answer.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise Unreadable(path, "this is not UTF-8 text", line) from None
    except OSError as error:
        raise Unreadable(path, f"the answers cannot be read ({error.strerror or error})") from None
    return iter([line for line in map(_answer, text.splitlines()) if line is not None])


def _answer(line: str) -> str | None:
    """The answer of a line; None where only a comment stands there."""
    answer = _COMMENT.split(line, maxsplit=1)[0].strip()
    return None if not answer and line.strip() else answer


def answers_from(stream: TextIO | None) -> Iterator[str]:
    """The answers typed or piped in, one a line, each read when it is asked for."""
    while stream is not None:
        line = stream.readline()
        if not line:
            return
        yield line.strip()
