"""Upkeep in plain lines: read, said done, hours, taken back."""

import os
from datetime import date, datetime, timedelta
from pathlib import Path

from lineside import in_turn, talk

from coach import MachineLog
from coach.practice.demo import demo_machine
from coach.session.store import Store
from coach.upkeep.items import ITEMS

NAME = "Shed laser"


def kept(folder: Path) -> Path:
    """One machine, described 400 days ago: all of its upkeep is due."""
    path = Store(folder).save_machine(demo_machine().model_copy(update={"name": NAME}))
    then = (datetime.now() - timedelta(days=400)).timestamp()
    os.utime(path, (then, then))
    return folder


def test_read_done_counted_and_taken_back(tmp_path: Path) -> None:
    """From the row at home; reading alone enters nothing; a slip is said and asked again."""
    behind = [str(len(ITEMS) + n) for n in (1, 2, 3)]  # the hours, what was entered taken back, and back
    said = talk(
        kept(tmp_path),
        in_turn("due", "3", "not done", "rails", "done", "enter the", "118,5", *behind[:1], "5", *behind[1:], "quit"),
    )
    assert f"5: Due: lens look, clean optics, rails and wheels and {len(ITEMS) - 3} more" in said.lines
    assert "3: rails and wheels: due for 393 days" in said.lines
    assert said.text.count("Danger: Before hands go in: supply isolated") == 2
    assert f"Done on {date.today()}: rails and wheels." in said.lines
    assert "The hours run backwards: 5" in said.text
    assert f"Taken back: Counter on {date.today()}: 118.5 h." in said.lines
    log = MachineLog.open(NAME, tmp_path)
    assert [entry.kind for entry in log.events] == ["done", "hours", "undo"]
    assert said.status == 0


def test_from_the_machine_and_back_by_a_word(tmp_path: Path) -> None:
    """A machine's own row leads there too; "back" leaves an item for the list, and the list for home."""
    said = talk(kept(tmp_path), in_turn("1", "upkeep", "lens", "back", "back", "quit"))
    assert said.lines.count(f"Upkeep of {NAME}, what is due first. Counter of hours of use: not read yet.") == 2
    assert said.lines.count("Alignment coach, plain lines. Machines and sessions:") == 2
    assert MachineLog.open(NAME, tmp_path).events == ()


def test_a_broken_log_is_told_and_left(tmp_path: Path) -> None:
    """Named among what could not be read; chosen all the same, its sentence is said and home goes on."""
    (kept(tmp_path) / "upkeep").mkdir()
    (tmp_path / "upkeep" / "shed-laser.toml").write_text("schema = 1\nmachine = 3\n")
    said = talk(tmp_path, in_turn("1", "upkeep", "quit"))
    assert "Could not be read, and was left as it is:" in said.text
    assert said.text.count("shed-laser.toml, line 2") == 3  # at home, in its place, and at home again
    assert (tmp_path / "upkeep" / "shed-laser.toml").read_text() == "schema = 1\nmachine = 3\n"
