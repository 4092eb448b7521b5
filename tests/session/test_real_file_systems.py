"""Disks that fill up, are only read, or go away under the running program: real ones, not pretended errors."""

import errno
import os
import shutil
import stat
from pathlib import Path

import pytest
from real_file_systems import fill, read_only, small_disk

from coach import Machine, Session, settings
from coach.cli.main import main
from coach.errors import Changed, Unwritable
from coach.session.document import read
from coach.session.store import Store

MOST = 2000
LONG = "smoke " * 100


def texts(path: Path) -> list[str]:
    """The notes that stand on disk."""
    return [event.text for event in read(path).events]


def _note_without_end(session: Session) -> None:
    for number in range(MOST):
        session.note(f"{number} {LONG}")
        assert len(session.events) == number + 1


def test_a_disk_that_fills_up_loses_nothing(tmp_path: Path, demo: Machine) -> None:
    """64 kB: entries are made until there is no room; all of them load, and no litter is left."""
    with small_disk(tmp_path / "disk") as disk:
        session = Session.start(demo)
        path = session.keep_new(disk)
        with pytest.raises(Unwritable, match=r"No space left on device.*unchanged"):
            _note_without_end(session)
        made = texts(path)
        assert made == [event.text for event in session.events]
        assert len(made) > 5
        filler = fill(disk)
        with pytest.raises(Unwritable, match="No space left"):
            session.keep_draft({"note": "half"})
        with pytest.raises(Unwritable, match="No space left"):
            Session.start(demo).keep_new(disk)
        with pytest.raises(Unwritable, match="No space left"):
            settings.save(disk, unit="in")
        assert texts(path) == made
        assert sorted(p.name for p in path.parent.iterdir()) == [".lock", path.name]
        filler.unlink()
        other = Session.start(demo)
        other.keep_new(disk)
        other.note("of the other")
        assert texts(path) == made


def test_with_room_again_the_same_entry_is_made(tmp_path: Path, demo: Machine) -> None:
    """The very session that was refused goes on, and is not locked out by its own try."""
    with small_disk(tmp_path / "disk") as disk:
        session = Session.start(demo)
        path = session.keep_new(disk)
        session.note("before")
        filler = fill(disk)
        for _ in range(3):
            with pytest.raises(Unwritable, match="No space left"):
                session.note("smoke")
        filler.unlink()
        session.note("smoke")
        session.note("after")
        assert texts(path) == ["before", "smoke", "after"]


def test_a_disk_that_is_only_read_is_told(tmp_path: Path, demo: Machine, capsys: pytest.CaptureFixture[str]) -> None:
    """It is listed, checked and advised on; an entry is refused in a sentence, and nothing changes."""
    folder = tmp_path / "data"
    Store(folder).save_machine(demo)
    path = Session.start(demo).keep_new(folder)
    before = path.read_bytes()
    with read_only(folder, tmp_path / "seen") as seen:
        there = seen / "sessions" / path.name
        session = Session.resume(there)
        with pytest.raises(Unwritable, match="Read-only file system"):
            session.note("smoke")
        assert session.events == ()
        for words in (("list",), ("check", str(there)), ("advise", str(there))):
            assert main(["--data", str(seen), *words]) == 0
        for words in (("note", str(there), "smoke"), ("new-session", demo.name), ("practice", "--plain")):
            capsys.readouterr()
            assert main(["--data", str(seen), *words]) == 2
            said = capsys.readouterr().err
            assert "Read-only file system" in said
            assert said.count("\n") == 1
    assert path.read_bytes() == before
    assert sorted(p.name for p in path.parent.iterdir()) == [".lock", path.name]


def test_a_disk_that_goes_away_takes_nothing_with_it(tmp_path: Path, demo: Machine) -> None:
    """Unplugged under the running program: the next entry is written with all that came before it."""
    place = tmp_path / "disk"
    with small_disk(place) as disk:
        session = Session.start(demo)
        path = session.keep_new(disk)
        session.note("before")
    assert not path.exists()
    session.note("smoke")
    assert texts(path) == ["before", "smoke"]


def test_a_folder_that_is_removed_comes_back_with_all_entries(tmp_path: Path, demo: Machine) -> None:
    """The file is gone, so nobody's writing is in the way."""
    session = Session.start(demo)
    path = session.keep_new(tmp_path / "data")
    session.note("before")
    shutil.rmtree(tmp_path / "data")
    session.note("smoke")
    assert texts(path) == ["before", "smoke"]


@pytest.mark.parametrize("what", ["another session", "no text", "a folder", "a link"])
def test_a_file_that_was_replaced_is_left_alone(what: str, tmp_path: Path, demo: Machine) -> None:
    """Whatever stands there now stays, the entry is refused with a way on, and what was known is still in memory."""
    session = Session.start(demo)
    path = session.keep_new(tmp_path)
    session.note("before")
    path.unlink()
    if what == "a folder":
        path.mkdir()
    elif what == "a link":
        (tmp_path / "elsewhere").write_text("of somebody else")
        path.symlink_to(tmp_path / "elsewhere")
    elif what == "no text":
        path.write_bytes(b"\xff\x00")
    else:
        Session.start(demo, title="another").save(path)
    kind, content = stat.S_IFMT(path.lstat().st_mode), None if path.is_dir() else path.read_bytes()
    with pytest.raises(Changed, match="back to the list"):
        session.note("smoke")
    assert stat.S_IFMT(path.lstat().st_mode) == kind
    assert content is None or path.read_bytes() == content
    assert [event.text for event in session.events] == ["before"]
    session.save(tmp_path / "rescued.toml")
    assert texts(tmp_path / "rescued.toml") == ["before"]


@pytest.mark.parametrize("refusal", [errno.EINVAL, errno.EIO, errno.EACCES])
def test_a_folder_that_cannot_be_synced_locks_nobody_out(
    refusal: int, tmp_path: Path, demo: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """POSIX lets fsync fail with EINVAL for what does not support it: the file was renamed by then, and counts."""
    true = os.fsync

    def files_alone(handle: int) -> None:
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            raise OSError(refusal, os.strerror(refusal))
        true(handle)

    monkeypatch.setattr(os, "fsync", files_alone)
    session = Session.start(demo)
    path = session.keep_new(tmp_path)
    session.note("one")
    session.note("two")
    assert texts(path) == ["one", "two"]
