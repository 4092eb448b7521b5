"""Opening the plain mode: the job as question-and-answer lines, with or without a terminal."""

import sys
from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from coach.cli.folder import store_of
from coach.cli.out import say

if TYPE_CHECKING:
    from coach.session.document import Practice


def open_plain(arguments: Namespace, *, practice: "Practice | None" = None, session: Path | None = None) -> int:
    """Lead the conversation over standard output, with answers from the file that is named or standard input."""
    from coach.plain.run import run

    folder = store_of(arguments).folder
    answers, seen = _answers(arguments)
    return run(folder, _say, answers, echo=not seen, practice=practice, session=session)


def _answers(arguments: Namespace) -> tuple[Iterator[str], bool]:
    """The answers, and whether the person sees them being typed.  Raises Unreadable."""
    from coach.plain.script import answers_from, answers_in

    if arguments.answers is not None:
        return answers_in(Path(arguments.answers)), False
    stream = sys.stdin
    if hasattr(stream, "reconfigure"):
        stream.reconfigure(errors="replace")
    return answers_from(stream), stream is not None and stream.isatty()


def _say(line: str) -> None:
    """One line, out at once: the answer may depend on it."""
    say(line)
    if sys.stdout is not None:
        sys.stdout.flush()
