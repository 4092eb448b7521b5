"""The shell of a test: a data folder of its own, and nothing from the environment."""

from pathlib import Path

import pytest
from shellside import Shell


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Shell:
    monkeypatch.delenv("ALIGNMENT_COACH_DATA", raising=False)
    monkeypatch.chdir(tmp_path)
    return Shell(tmp_path / "data", capsys)
