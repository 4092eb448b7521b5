"""Whatever a file holds, plain lines end: what nobody can answer is said once."""

import re
from pathlib import Path

import pytest
from lineside import in_turn, talk

from coach import Machine, Session
from coach.errors import CoachError, InputError, Unreadable
from coach.plain import job
from coach.practice.demo import demo_machine
from coach.session.document import Practice

MOST = 20
ENOUGH = 200
"""Lines; the list and one step take some forty."""


def practice_in(folder: Path, kind: str = "plain") -> Path:
    """A practice session whose head stands somewhere on the right."""
    session = Session.start(demo_machine(), practice=Practice(kind=kind, seed=3))
    path = session.keep_new(folder)
    session.mark("back-right", u=1.0, v=0.5)
    return path


def test_a_kind_that_nobody_knows_is_said_once(tmp_path: Path) -> None:
    """Opened by itself it is refused; from the list it is said, and the list stands again."""
    path = practice_in(tmp_path, kind="of another coach")
    before = path.read_bytes()
    with pytest.raises(CoachError, match="no practice kind"):
        talk(tmp_path, in_turn("1"), session=path)
    said = talk(tmp_path, in_turn("1", "quit"))
    assert said.status == 0
    assert len(said.lines) < ENOUGH
    assert said.text.count("no practice kind 'of another coach'") == 1
    assert path.read_bytes() == before


def test_a_bed_smaller_than_its_positions_is_told_with_the_line(tmp_path: Path) -> None:
    """The entry cannot have happened on that machine: the file is refused, not opened and repeated."""
    path = practice_in(tmp_path)
    text, entry, rest = path.read_text(encoding="utf-8").partition("[[events]]")
    path.write_text(text + entry + re.sub(r"x = [0-9.]+", "x = 5800.0", rest), encoding="utf-8")
    with pytest.raises(Unreadable, match="outside the travel") as error:
        Session.load(path)
    assert error.value.line


def test_a_step_that_cannot_be_said_leads_back_to_the_list(
    tmp_path: Path, demo: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sentence that comes before anything was asked would come again for ever: it comes once."""

    times = iter(range(MOST))

    def broken(*_: object) -> None:
        assert next(times, None) is not None
        raise InputError("This step cannot be said")

    Session.start(demo).keep_new(tmp_path)
    monkeypatch.setattr(job, "current_step", broken)
    said = talk(tmp_path, in_turn("1", "quit"))
    assert said.status == 0
    assert len(said.lines) < ENOUGH
    assert said.text.count("This step cannot be said") == 1


def test_a_slip_at_a_step_leaves_the_person_there(tmp_path: Path, demo: Machine) -> None:
    """What comes after an answer is said, and the step stands again."""
    Session.start(demo).keep_new(tmp_path)
    said = talk(tmp_path, in_turn("1", "correct", "quit"))
    assert said.text.count("There is no mark to correct yet") == 1
    assert "Which one?" in said.lines[-1] or said.status == 0
