"""A signal at any instant of the start: what stands on the terminal is taken away, and no mistake is told."""

import signal
import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("needs a pseudo terminal", allow_module_level=True)

from interrupted import interrupted, started


@pytest.mark.parametrize(
    ("number", "after"), [(signal.SIGTERM, 1), (signal.SIGHUP, 1), (signal.SIGTERM, 6000), (signal.SIGTERM, 20_000)]
)
def test_ended_while_it_begins(number: signal.Signals, after: int, tmp_path: Path) -> None:
    """With the first byte it draws, while the session's screen comes, and just after."""
    ended = interrupted(started(tmp_path), number, after_bytes=after)
    assert ended.in_order, ended
