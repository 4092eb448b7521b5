"""What is kept when something unexpected happens: a text file for whoever mends the program."""

import contextlib
import platform
import tempfile
import traceback
from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise
from pathlib import Path

from coach import __version__
from coach.files import write_text
from coach.paths import data_folder
from coach.signs import visible


class OwnMistake(Exception):
    """An error that says nothing about what the person asked for: `mistake` is to be told as one of the coach's."""

    def __init__(self, mistake: Exception) -> None:
        super().__init__(str(mistake))
        self.mistake = mistake


def write_report(error: BaseException, given: Sequence[str]) -> str:
    """Write the details to a file; returns one sentence that says where, or that it was impossible.  Never raises."""
    now = datetime.now().astimezone()
    lines = [
        f"alignment-coach {__version__}, Python {platform.python_version()}, {platform.platform()}",
        f"at {now.isoformat(timespec='seconds')}",
        f"arguments: {list(given)!r}",
        "",
        *traceback.format_exception(error),
    ]
    name = f"report-{now:%Y-%m-%d-%H%M%S}.txt"
    for folder in (_folder_given, _folder_for_all):
        with contextlib.suppress(Exception):  # a second mistake must not hide the first
            path = folder(given) / name
            write_text(path, visible("\n".join(lines)))
            return f"The details are in {path}; please send that file with a report."
    return "The details could not be written to any file."


def _folder_given(given: Sequence[str]) -> Path:
    """The folder for reports in the data folder that the arguments name."""
    data = None
    for word, following in pairwise([*given, ""]):
        if word == "--data":
            data = following
        elif word.startswith("--data="):
            data = word.partition("=")[2]
    return data_folder(data) / "reports"


def _folder_for_all(_: Sequence[str]) -> Path:
    """Where the system lets everybody write."""
    return Path(tempfile.gettempdir())
