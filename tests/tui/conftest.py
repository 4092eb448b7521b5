"""Keys of a test come faster than fingers: what tells two fingers from one glove is asked for where it is tested."""

import pytest

from coach.tui.screens.parts import Choices


@pytest.fixture(autouse=True)
def _nimble_fingers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two different digits are two presses, however close together."""
    monkeypatch.setattr(Choices, "APART", 0.0)
