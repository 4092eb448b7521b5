"""At the end of a call: who may read a file, what is left over, which session is last, what a status says."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest
from shellside import Shell

from coach import MachineLog, Session, settings
from coach.cli import screen
from coach.errors import InputError


def test_new_files_are_their_owners_alone(shell: Shell) -> None:
    """Whatever the umask; a mode that somebody gave a file stays."""
    before = os.umask(0)
    try:
        path = shell.begun()
        assert [found.stat().st_mode & 0o777 for found in shell.folder.rglob("*.toml")] == [0o600, 0o600]
        path.chmod(0o640)
        shell.ok("note", "last", "smoke")
    finally:
        os.umask(before)
    assert path.stat().st_mode & 0o777 == 0o640


def test_what_killed_writers_left_is_swept(shell: Shell) -> None:
    """An old half is taken away with the next new session; a young one may be somebody's who is still writing."""
    path = shell.begun()
    old, young = (path.parent / f".a.toml.{name}.new" for name in ("old", "young"))
    old.write_text("half")
    young.write_text("half")
    os.utime(old, (time.time() - 7200,) * 2)
    shell.ok("new-session", "Shed laser")
    assert (old.exists(), young.exists()) == (False, True)


def test_what_was_left_beside_settings_and_logs_is_swept(shell: Shell) -> None:
    """With the next setting that is kept, and with a machine's first entry."""
    shell.begun()
    left = [shell.folder / ".settings.toml.a.new", shell.folder / "upkeep" / ".old.toml.b.new"]
    for half in left:
        half.parent.mkdir(exist_ok=True)
        half.write_text("half")
        os.utime(half, (time.time() - 7200,) * 2)
    settings.save(shell.folder, unit="in")
    MachineLog.open("Shed laser", shell.folder).done("lens")
    assert [half for half in left if half.exists()] == []


def test_a_file_from_a_clock_ahead_is_not_the_last(shell: Shell) -> None:
    """An old session dated into the future catches no new entry."""
    old = shell.begun()
    new = Path(shell.ok("new-session", "Shed laser").strip())
    os.utime(old, (time.time() + 90_000,) * 2)
    shell.ok("note", "last", "smoke")
    assert [len(Session.load(path).events) for path in (old, new)] == [0, 1]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_note_that_stands_is_not_said_to_be_wrong_use(shell: Shell) -> None:
    """Standard output is full: the note is there, and the status tells that only the answer is missing."""
    path = shell.begun()
    call = [sys.executable, "-m", "coach", "--data", str(shell.folder), "note", "last", "smoke"]
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(call, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert (done.returncode, done.stderr.count("\n")) == (3, 1)
    assert "is done, but the answer could not be written" in done.stderr
    assert len(Session.load(path).events) == 1


@pytest.mark.parametrize("kind", ["dumb", "unknown", None])
def test_a_terminal_without_screens_is_told_of_plain_lines(kind: str | None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is drawn where only lines can be shown, or where nobody says what can be."""

    class Terminal:
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr(os, "name", "posix")
    monkeypatch.setenv("TERM", kind) if kind else monkeypatch.delenv("TERM", raising=False)
    monkeypatch.setattr(sys, "__stdin__", Terminal())
    monkeypatch.setattr(sys, "__stdout__", Terminal())
    with pytest.raises(InputError, match=f"(calls itself {kind}|TERM is not set).*--plain"):
        screen._need_terminal()
