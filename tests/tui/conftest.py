"""Keys of a test come faster than fingers: what tells a press from a slip is asked for where it is tested."""

import pytest

from coach.tui.haste import PatientApp
from coach.tui.presses import Presses
from coach.tui.screens.parts import KeysLine


@pytest.fixture(autouse=True)
def _nimble_fingers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two keys are two presses, however close together."""
    monkeypatch.setattr(KeysLine, "BRIEFLY", 600.0)  # what is said for a moment outlasts a slow machine
    for name in ("APART", "HELD", "CALM", "READ", "NUMBER"):
        monkeypatch.setattr(Presses, name, 0.0)
    monkeypatch.setattr(PatientApp, "BURST", 0.0)
