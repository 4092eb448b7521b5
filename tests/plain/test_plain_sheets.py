"""A sheet in plain lines: typed in with the questions of measuring, interrupted, gone on with, then the session."""

from datetime import timedelta
from pathlib import Path

from lineside import in_turn, talk

from coach.practice.demo import demo_machine
from coach.session.events import Mark
from coach.session.kept import now
from coach.session.session import Session
from coach.session.store import Store

YESTERDAY = (now() - timedelta(days=1)).date()


def test_typed_interrupted_and_gone_on_with(tmp_path: Path) -> None:
    """A day ahead is asked again; gaps that do not add up are questioned; what is typed stays; then the job."""
    Store(tmp_path).save_machine(demo_machine().model_copy(update={"name": "Shed laser"}))
    first = ("1", "worksheet", "type", "2199-01-01", "yesterday", "pulse", "70", "12", "", "1", "a round")
    said = talk(tmp_path, in_turn(*first, "same", "6,2; 8.2; 7; 9.9"))
    assert "2199-01-01 lies ahead." in said.text
    assert "Understood: 70 ms at 12 %." in said.lines
    assert "These gaps do not add up" in said.text
    assert "Everything is saved; the session waits in" in said.text
    (path,) = (tmp_path / "sessions").glob("*.toml")
    assert [event.kind for event in Session.load(path).events] == ["pulse"]
    again = ("2", "worksheet", "type", "go on", "1", "same", "", "", "", "7.3", "1", "2", "left", "that is all")
    said = talk(tmp_path, in_turn(*again, "quit"))
    assert "1: back-left: a mark, not measured yet" in said.lines
    assert "Left gap in mm? Enter alone keeps 6,2." in said.text
    assert "2: front-left: left empty" in said.lines
    assert "Warning: Pulse briefly and let go: never hold the fire button." in said.lines
    (mark,) = [event for event in Session.load(path).events if isinstance(event, Mark)]
    assert (mark.at.date(), mark.typed["left"], mark.ms) == (YESTERDAY, "6,2", 70.0)
    assert "Local rules" in said.text
