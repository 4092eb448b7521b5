"""File systems of their own: one of 64 kB, one that is only read.  Where none may be mounted, that is said."""

import contextlib
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOM = 64 * 1024


@contextlib.contextmanager
def small_disk(folder: Path) -> Iterator[Path]:
    """A disk of 64 kB (a tmpfs) mounted on that folder, empty."""
    folder.mkdir()
    with _mounted(folder, "-t", "tmpfs", "-o", f"size={ROOM}", "tmpfs", str(folder)):
        yield folder


@contextlib.contextmanager
def read_only(folder: Path, place: Path) -> Iterator[Path]:
    """The same folder at another place, where it can only be read (a bind mount)."""
    place.mkdir()
    with _mounted(place, "--bind", str(folder), str(place)):
        _call("mount", "-o", "remount,bind,ro", str(place))
        yield place


def fill(folder: Path) -> Path:
    """Take all the room that is left; the file to take away again."""
    filler = folder / "film"
    with filler.open("wb", buffering=0) as stream, contextlib.suppress(OSError):
        while True:
            stream.write(b"x" * 512)
    return filler


@contextlib.contextmanager
def _mounted(place: Path, *words: str) -> Iterator[None]:
    if not (shutil.which("mount") and shutil.which("umount")):
        pytest.skip("needs mount, to try it on a real second file system")
    done = _call("mount", *words)
    if done.returncode:
        pytest.skip(f"no file system may be mounted here ({done.stderr.strip()}): not tried on a real one")
    try:
        yield
    finally:
        _call("umount", "-l", str(place))


def _call(*words: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(words, capture_output=True, text=True, check=False)
