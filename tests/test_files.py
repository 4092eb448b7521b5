"""How a file is written: whole or not at all, also when the power goes, and as private as it was."""

import os
import stat
import sys
from pathlib import Path

import pytest

from coach.files import write_text

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
