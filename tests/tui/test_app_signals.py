"""A signal at any instant of the start: what stands on the terminal is taken away, and no mistake is told."""

import signal
import sys
from pathlib import Path

import pytest
from sweeps import sampled

if sys.platform == "win32":
    pytest.skip("needs a pseudo terminal", allow_module_level=True)

from interrupted import interrupted, started
from seat import ENTERED


@pytest.mark.parametrize(
    ("number", "after"),
    sampled([(signal.SIGINT, 1), (signal.SIGHUP, 1), (signal.SIGTERM, 20_000)]),
)
def test_ended_while_it_begins(number: signal.Signals, after: int, tmp_path: Path) -> None:
    """With the first byte it draws, and just after the session's screen came."""
    ended = interrupted(started(tmp_path), number, after_bytes=after)
    assert ended.in_order, ended


def test_with_its_errors_sent_to_a_file_it_is_drawn_on_the_terminal_all_the_same(tmp_path: Path) -> None:
    """Not into that file, where nobody would see it; ended while a screen comes, it leaves in order."""
    errors = tmp_path / "errors.txt"
    with errors.open("wb") as file:
        ended = interrupted(started(tmp_path / "data"), signal.SIGTERM, after_bytes=6000, errors=file.fileno())
    assert ended.in_order, ended
    assert ENTERED in ended.output
    assert errors.read_bytes() == b""
