"""How a file is written: whole or not at all, also when the power goes, and as private as it was."""

import os
import stat
import sys
from pathlib import Path

import pytest

from coach.errors import Unreadable, Unwritable
from coach.files import write_text
from coach.lifting import read_lifted
from coach.session import document as session_document
from coach.session.baselines import load
from coach.upkeep import document as log_document

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="folders cannot be flushed, and modes mean little")


@POSIX
def test_the_file_is_on_disk_before_it_is_renamed_and_the_renaming_after(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """rename(2) swaps names, not contents: the new file is flushed before it, the folder after it (fsync(2): a file's
    fsync does not ensure that its folder's entry has reached the disk)."""
    done: list[str] = []
    fsync, replace = os.fsync, os.replace

    def flushed(handle: int) -> None:
        done.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file")
        fsync(handle)

    def renamed(old: str, new: str | Path) -> None:
        done.append("renamed")
        replace(old, new)

    monkeypatch.setattr(os, "fsync", flushed)
    monkeypatch.setattr(os, "replace", renamed)
    write_text(tmp_path / "s.toml", "one = 1\n")
    assert done == ["file", "renamed", "folder"]


@POSIX
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o644])
def test_who_may_read_a_file_stays_as_it_was(tmp_path: Path, mode: int) -> None:
    """A file that its owner closed to others is not opened to them by being written anew."""
    path = tmp_path / "s.toml"
    path.write_text("one = 1\n", encoding="utf-8")
    path.chmod(mode)
    write_text(path, "two = 2\n")
    assert stat.S_IMODE(path.stat().st_mode) == mode
    assert path.read_text(encoding="utf-8") == "two = 2\n"


@pytest.mark.parametrize(
    ("there", "left"), [(True, "what was there before is unchanged"), (False, "nothing was made there")]
)
def test_a_writing_that_fails_says_what_is_there_now(tmp_path: Path, there: bool, left: str) -> None:
    """The old file; of a new one nothing, and nothing is said of what was there before."""
    path = tmp_path / "s.toml"
    if there:
        path.write_text("one = 1\n", encoding="utf-8")
    with pytest.raises(Unwritable, match=left):
        write_text(path, "broken = '\ud800'\n")
    assert [each.name for each in tmp_path.iterdir()] == (["s.toml"] if there else [])


@POSIX
def test_a_link_stays_a_link(tmp_path: Path) -> None:
    """Who keeps the data elsewhere and links to it finds the new content there."""
    kept = tmp_path / "elsewhere.toml"
    kept.write_text("one = 1\n", encoding="utf-8")
    link = tmp_path / "s.toml"
    link.symlink_to(kept)
    write_text(link, "two = 2\n")
    assert link.is_symlink()
    assert kept.read_text(encoding="utf-8") == "two = 2\n"


@pytest.mark.parametrize(
    ("read_", "what"),
    [
        (session_document.read, "a session file"),
        (log_document.read, "a log of upkeep"),
        (lambda path: load(path.parent.parent, path.stem), "a file of baselines"),
    ],
)
@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('machine = "x"\n', "the key 'schema' with a whole number is missing"),
        ("schema = 999\n", "written by a newer coach (schema 999"),
        ("schema = 0\n", "schema 0 is not known; the oldest known is 1"),
    ],
)
def test_a_file_of_another_shape_is_told_in_the_same_words(tmp_path, read_, what, text, says) -> None:
    """Sessions, logs and baselines: what is wrong, and the file is left as it was."""
    path = tmp_path / "baselines" / "shed.toml"
    path.parent.mkdir()
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        read_(path)
    assert says in str(caught.value)
    assert what in str(caught.value) or "schema =" in text
    assert path.read_text(encoding="utf-8") == text


def test_a_table_is_lifted_shape_by_shape(tmp_path) -> None:
    """Each function once, in order, the old one's work before the next one's."""
    path = tmp_path / "s.toml"
    path.write_text("schema = 1\n", encoding="utf-8")
    steps = {n: lambda table, n=n: {**table, "went": [*table.get("went", []), n]} for n in (1, 2)}
    assert read_lifted(path, "a file", 3, steps)["went"] == [1, 2]
