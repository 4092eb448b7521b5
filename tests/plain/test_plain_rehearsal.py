"""A visit that is rehearsed in plain lines: what the practice machine shows is said at the step."""

from pathlib import Path

import pytest
from lineside import in_turn, stored, talk

from coach.cli.main import main
from coach.session.document import Practice
from coach.session.session import Session


def test_what_is_seen_is_said_and_answered_in_words(tmp_path: Path) -> None:
    """After the rules the first question, with the owner's answer; it is entered, and the next asked."""
    answers = in_turn("I know", "toward", "quit")
    said = talk(tmp_path, answers, practice=Practice(kind="visit-bed", seed=1))
    assert "Bench: toward one corner." in said.lines
    assert "Bench: suddenly." in said.lines
    assert Session.load(stored(tmp_path)).answers()["weak"] == ("toward one corner",)


def test_a_visit_is_begun_from_the_shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With what is wrong, or without; both are refused together with a kind of the beam's path."""
    given = ["--data", str(tmp_path), "--plain", "--answers", "/dev/null", "--seed", "1"]
    assert main(["practice", "--visit", "bed", *given]) == 0
    assert Session.load(stored(tmp_path)).practice == Practice(kind="visit-bed", seed=1)
    assert "Rules first" in capsys.readouterr().out
    assert main(["practice", "--visit", "bed", "--kind", "far", *given]) == 2
    assert "not allowed with" in capsys.readouterr().err
    assert main(["practice", "--visit", "flood", *given]) == 2
    assert "flood" in capsys.readouterr().err
