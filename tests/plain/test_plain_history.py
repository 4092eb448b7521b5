"""A machine's history in plain lines: told, its visits, two of them, and a slip that is said."""

from pathlib import Path

from drifting_visits import drifting, kept
from lineside import in_turn, talk


def test_told_listed_and_compared(tmp_path: Path) -> None:
    """From the machine's row; a visit that is not there is said, and the list comes again."""
    kept(tmp_path, *drifting("mirror 2", 4, 1.0))
    words = ("Zoo", "history", "the visits", "two visits", "1", "9", "two visits", "1", "4", "back to", "quit")
    said = talk(tmp_path, in_turn(*words))
    assert any(line.startswith("Mirror 2 has turned") for line in said.lines)
    assert any(line.startswith("visit 4, 2026-05-30: found ") for line in said.lines)
    assert "There is no visit '9'" in said.text
    assert "Leg 2, right: 2026-03-01 left: minus 0." in said.text
    assert "2026-05-30 found: minus 3.5 plus or minus" in said.text  # −2·g_x, g_x 1.8 mrad: docs/model.md, "Mirrors"
    assert "Cut speed: 2026-03-01 left: not known" in said.text
    assert said.status == 0
