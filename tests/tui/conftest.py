"""Keys of a test come faster than fingers: what tells a press from a slip is asked for where it is tested."""

import pytest

from coach.tui.screens.parts import Choices


@pytest.fixture(autouse=True)
def _nimble_fingers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two keys are two presses, however close together."""
    for name in ("APART", "HELD", "CALM"):
        monkeypatch.setattr(Choices, name, 0.0)
