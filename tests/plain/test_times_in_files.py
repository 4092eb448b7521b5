"""Times in a file: by hand, without a zone, absurd, in the future, backwards."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lineside import in_turn, talk

from coach import Machine, Session
from coach.errors import Unreadable
from coach.session.document import read
from coach.session.store import Store
from coach.steps.results import age_words
from coach.steps.stored import session_words, stored

ABSURD = ("0001-01-01T00:00:00Z", "1969-12-31T23:59:59Z", "2200-01-01T00:00:00Z", "9999-12-31T23:59:59-23:59")


def written(folder: Path, machine: Machine, at: str, created: str = "2026-03-01T10:00:00Z") -> Path:
    """A session with one note at that time."""
    session = Session.start(machine)
    session.note("smoke")
    path = folder / "sessions" / "a.toml"
    session.save(path)
    text = path.read_text(encoding="utf-8")
    for key, time in (("at", at), ("created", created)):
        text, count = re.subn(rf"\b{key} = \d{{4}}-[^,\n]*", f"{key} = {time}", text)
        assert count == 1
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("at", ABSURD)
@pytest.mark.parametrize("key", ["at", "created"])
def test_an_absurd_time_ends_no_start(key: str, at: str, tmp_path: Path, demo: Machine) -> None:
    """One file of the folder has it: it is told with line and reason, and the program begins as ever."""
    written(tmp_path, demo, **({"at": at} if key == "at" else {"at": "2026-03-01T10:00:00Z", "created": at}))
    with pytest.raises(
        Unreadable, match=f"{key}: nothing happened in the year {int(at[:4])}; .*1970 to 2199"
    ) as error:
        Session.load(tmp_path / "sessions" / "a.toml")
    assert error.value.line
    said = talk(tmp_path, in_turn("quit"))
    assert said.status == 0
    assert "Could not be read" in said.text
    assert "nothing happened in the year" in said.text


def test_times_without_a_zone_are_of_the_clock_here(tmp_path: Path, demo: Machine) -> None:
    """Written by hand among others with one: read, compared, told, and written back with the zone."""
    path = written(tmp_path, demo, "2026-03-01T11:00:00")
    session = Session.resume(path)
    assert session.events[0].at == datetime(2026, 3, 1, 11).astimezone()
    session.note("more")
    assert [event.at.tzinfo is not None for event in read(path).events] == [True, True]
    assert talk(tmp_path, in_turn("1", "review", "quit")).status == 0


@given(st.datetimes(timezones=st.none() | st.timezones()))
@pytest.mark.sweep
def test_no_time_that_can_be_written_stops_a_listing(tmp_path_factory: pytest.TempPathFactory, at: datetime) -> None:
    """Either the file is told with its reason, or everything that is said of its time can be said."""
    from machines import make_machine

    folder = tmp_path_factory.mktemp("folder")
    written(folder, make_machine(), at.replace(microsecond=0).isoformat())
    found = stored(folder)
    assert len(found.unfinished) + len(found.problems) == 1
    for session in found.unfinished:
        assert session_words(session)
    assert Store(folder).sessions()


def test_a_clock_set_back_keeps_the_order_of_entries(tmp_path: Path, demo: Machine) -> None:
    """Entries count by their numbers: one that is dated before the one before it changes nothing."""
    path = written(tmp_path, demo, "2099-01-01T00:00:00+05:30")
    session = Session.resume(path)
    session.mark("middle", u=1.0, v=0.5)
    assert session.events[1].at < session.events[0].at
    assert [event.kind for event in Session.load(path).events] == ["note", "mark"]
    assert Session.load(path).advice() == session.advice()


def test_what_lies_ahead_is_not_today() -> None:
    """A session that another clock dated into the future says so."""
    now = datetime(2026, 3, 1, 12, tzinfo=UTC)
    assert age_words(now + timedelta(days=9), now) == "9 days ahead of this clock"
    assert age_words(now + timedelta(hours=2), now) in ("today", "1 day ahead of this clock")
