"""`last` is the session at a machine that was worked on last, by what stands in the files; each entry says where."""

import os
import re
import time
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from shellside import Shell

from coach import Session
from coach.practice.begun import begun
from coach.session.document import Practice
from coach.session.store import Store

HOUR = timedelta(hours=1)
NOW = datetime.now(UTC).replace(microsecond=0)


def at(shell: Shell, title: str, *times: datetime, practice: bool = False) -> Path:
    """A session with a note at each of these times, begun at the first."""
    machine = Store(shell.folder).find_machine("Shed laser")
    session = begun(Practice(seed=3)) if practice else Session.start(machine, title=title)
    for number in range(len(times)):
        session.note(f"note {number}")
    path = shell.folder / "sessions" / f"{title}.toml"
    session.save(path)
    said = iter([times[0], *times])
    path.write_text(
        re.sub(r"\b(created|at) = [^,\n]*", lambda m: f"{m[1]} = {next(said).isoformat()}", path.read_text())
    )
    return path


@pytest.fixture
def known(shell: Shell) -> Shell:
    """A shell with a machine."""
    shell.begun().unlink()
    return shell


def noted_in(shell: Shell, name: str = "last") -> str:
    """The session in which a note is said to stand, and does."""
    said = shell.ok("note", name, "here it is").splitlines()[-1]
    where = said.removesuffix(".").split()[-1]
    path = shell.folder / "sessions" / f"{where}.toml"
    assert "here it is" in path.read_text(encoding="utf-8")
    return where


def test_a_file_that_was_touched_is_not_the_last(known: Shell) -> None:
    """Copied, touched, or with a time in the future: what counts stands in the file."""
    old, new = at(known, "old", NOW - 30 * HOUR), at(known, "new", NOW - HOUR)
    os.utime(new, (1, 1))
    for when in (time.time(), time.time() + 1e7):
        os.utime(old, (when, when))
        assert noted_in(known) == "new"
        new = at(known, "new", NOW - HOUR)


def test_practice_is_never_the_last_nor_the_other_way_round(known: Shell) -> None:
    """Whichever was worked on later; the echo names the session and calls practice so."""
    at(known, "real", NOW - 2 * HOUR)
    at(known, "bench", NOW - HOUR, practice=True)
    assert noted_in(known) == "real"
    assert noted_in(known, "last-practice") == "bench"
    assert known.ok("note", "last", "x") == "Noted: x\nIn session real.\n"
    assert known.ok("note", "last-practice", "x") == "Noted: x\nIn practice session (kind plain, seed 3) bench.\n"


def test_where_there_is_only_the_other_kind_it_is_named(known: Shell) -> None:
    """Nothing is entered, and what would be taken is said."""
    path = at(known, "bench", NOW - HOUR, practice=True)
    before, said = path.read_text(), known("note", "last", "x")
    assert (said.status, path.read_text()) == (2, before)
    assert "last-practice" in said.err
    path.unlink()
    at(known, "real", NOW - HOUR)
    assert '"last"' in known("note", "last-practice", "x").err


def test_times_are_compared_across_zones(known: Shell) -> None:
    """10:00 in one zone may come after 12:00 in another."""
    east, west = timezone(timedelta(hours=9)), timezone(timedelta(hours=-7))
    at(known, "east", (NOW - 3 * HOUR).astimezone(east))
    at(known, "west", (NOW - 2 * HOUR).astimezone(west))
    assert noted_in(known) == "west"


def test_what_lies_ahead_of_this_clock_tells_nothing(known: Shell) -> None:
    """A session of a clock that was ahead is not the last, unless it was worked on since the clock was put right."""
    at(known, "ahead", NOW - 9 * HOUR, NOW + 1000 * HOUR)
    at(known, "right", NOW - 2 * HOUR)
    assert noted_in(known) == "right"
    at(known, "righted", NOW + 1000 * HOUR, NOW - HOUR)
    at(known, "right", NOW - 2 * HOUR)
    assert noted_in(known) == "righted"


def test_a_clock_that_was_set_back_within_a_session(known: Shell) -> None:
    """The later of its times counts: it was made then, whatever the clock said afterwards."""
    at(known, "setback", NOW - 9 * HOUR, NOW - HOUR, NOW - 5 * HOUR)
    at(known, "before", NOW - 3 * HOUR)
    assert noted_in(known) == "setback"


def test_looking_at_a_session_does_not_make_it_the_last_and_a_report_says_which_it_took(known: Shell) -> None:
    """An older one opened since, and practice since: the report is of the one worked on, says so, and tells of the
    newer practice."""
    at(known, "done", NOW - 2 * HOUR)
    looked = Session.resume(at(known, "looked", NOW - 9 * HOUR))
    looked.opened()
    named, page = known.ok("report", "--to", str(known.folder)).splitlines()
    assert named.startswith("Session: done, Shed laser, last entry ")
    assert page.endswith("done-report.html")
    at(known, "bench", NOW - HOUR, practice=True)
    assert "Practice is newer (bench)" in known.ok("report", "--to", str(known.folder), "--replace").splitlines()[1]
    assert "bench" in known("report", "--format", "text").err
    assert known("report", "done", "--format", "text").err == ""


def test_a_broken_file_written_since_is_not_passed_over(known: Shell) -> None:
    """It may be the last: nothing is entered elsewhere; an older one is no hindrance."""
    at(known, "good", NOW - HOUR)
    broken = known.folder / "sessions" / "hurt.toml"
    broken.write_text("schema = ")
    said = known("note", "last", "x")
    assert said.status == 2
    assert "hurt.toml" in said.err
    assert "Noted" not in said.out
    before = (NOW - 9 * HOUR).timestamp()
    os.utime(broken, (before, before))
    assert noted_in(known) == "good"


def test_a_session_is_found_by_its_name_whatever_else_lies_there(known: Shell) -> None:
    """By its file's name with and without its ending, by its path; what is not there is told with what is."""
    path = at(known, "good", NOW - HOUR)
    (known.folder / "sessions" / "hurt.toml").write_text("schema = ")
    for name in ("good", "good.toml", str(path)):
        assert noted_in(known, name) == "good"
    assert "good, hurt" in known("note", "another", "x").err
