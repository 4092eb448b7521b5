"""Keys of a test come faster than fingers, and its screen is no terminal's: each is asked about where it matters."""

import pytest
from drawing import spared

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


@pytest.fixture(autouse=True)
def _no_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is done for a terminal that is not there."""
    spared(monkeypatch)
