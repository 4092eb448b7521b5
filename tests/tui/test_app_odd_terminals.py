"""What terminals and hands do to the full screen, a little of `python tests/figures/reliability.py terminals`."""

import random
import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("needs a pseudo terminal", allow_module_level=True)

from odd_terminals import pasted, restored, stopped, storm, tried
from seat import Seat

from coach.session.store import Store


def slept(seat: Seat, chance: random.Random) -> None:
    """Sizes without a pause, then stopped and continued."""
    storm(seat, chance)
    stopped(seat, chance)


@pytest.mark.sweep
@pytest.mark.parametrize("deed", [slept, pasted], ids=lambda deed: deed.__name__)
def test_it_is_given_back_and_everything_loads(deed, tmp_path: Path) -> None:
    """Sizes from 1x1 to 120 rows of 400, stopped and continued, 10,000 characters at once; then a signal ends it."""
    ended = tried(11, tmp_path, deed)
    assert restored(ended), ended.output[-300:]
    assert all(found.content is not None for found in Store(tmp_path).sessions())
