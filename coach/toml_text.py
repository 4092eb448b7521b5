"""A person's TOML file as a table, whatever lies under its name: nothing large, and nothing heavy to import.

A folder may hold anything: a pipe that nobody writes to, a device, a film, a text made to take hours to parse.  Each
is refused with one sentence before it costs anything.
"""

import os
import re
import stat
import tomllib
from pathlib import Path
from typing import Any

from coach.errors import Unreadable

LARGEST = 2_000_000
"""Bytes: some eight thousand entries, more than a hundred long visits on one machine."""
DEEPEST = 12
"""Parts of one dotted key: each part after the first costs the parser as much as all before it."""
_PART = r"(?:[\w-]++|\"[^\"\n]*+\"|'[^'\n]*+')[ \t]*+"
_DOTTED = re.compile(rf"(?:^|[{{,\[])[ \t]*+(?:{_PART}\.[ \t]*+){{{DEEPEST}}}", re.MULTILINE | re.ASCII)
"""A key with more parts, wherever one may stand.  Nothing in it is tried twice: it takes as long as the text is."""
MOST_BITS = 63
"""Of a whole number beside its sign (TOML 1.0.0, "Integer": 64 bits are to be read, and more is an error)."""


def read_toml(path: Path) -> dict[str, Any]:
    """The file's table.  Raises Unreadable with the line and the reason; never changes the file."""
    text = text_of(path)
    deep = _DOTTED.search(text)
    if deep:
        line = text.count("\n", 0, deep.end()) + 1
        raise Unreadable(path, f"not one of ours: a key of more than {DEEPEST} parts stands there", line)
    try:
        table = tomllib.loads(text)
    except RecursionError:
        raise Unreadable(path, "not valid TOML: its lists or tables are nested too deeply") from None
    except ValueError as error:  # TOMLDecodeError, and whole numbers too long to read
        raise Unreadable(path, *_reason(str(error), text)) from None
    if _has_long_number(table):
        raise Unreadable(path, "not valid TOML: it holds a whole number of more than 64 bits")
    return table


def text_of(path: Path) -> str:
    """The file's text, without the mark (BOM) that some editors put before it.  Raises Unreadable."""
    try:
        content = _content(path)
        return content.decode("utf-8-sig")
    except FileNotFoundError:
        raise Unreadable(path, "there is no such file") from None
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        raise Unreadable(path, "this is not UTF-8 text", line) from None
    except OSError as error:
        raise Unreadable(path, error.strerror or str(error)) from None


def _content(path: Path) -> bytes:
    """What is in a file that is one, and no larger than ours can be.  Raises OSError or Unreadable."""
    waits = getattr(os, "O_NONBLOCK", 0)  # a pipe is opened at once, and seen to be one
    handle = os.open(path, os.O_RDONLY | waits | getattr(os, "O_BINARY", 0))
    with open(handle, "rb") as stream:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise Unreadable(path, "this is no regular file")
        content = stream.read(LARGEST + 1)
    if len(content) > LARGEST:
        raise Unreadable(path, f"larger than {LARGEST / 1e6:g} MB, as no file of ours is")
    return content


def _reason(message: str, text: str) -> tuple[str, int]:
    """The parser's message without its position, and the line it points to."""
    place = re.search(r"\(at line (\d+), column \d+\)", message)
    line = int(place.group(1)) if place else text.count("\n") + 1
    reason = re.sub(r"\s*\(at .*\)$", "", message)
    return f"not valid TOML: {brief(reason)}; the file may be cut short or have a typing slip", line


def _has_long_number(table: dict[str, Any]) -> bool:
    todo: list[Any] = [table]
    while todo:
        value = todo.pop()
        if isinstance(value, dict):
            todo.extend(value.values())
        elif isinstance(value, list):
            todo.extend(value)
        elif isinstance(value, int) and value.bit_length() > MOST_BITS:
            return True
    return False


def brief(text: str, most: int = 80) -> str:
    """As much of it as belongs into a sentence."""
    return text if len(text) <= most else text[: most - 1] + "…"
