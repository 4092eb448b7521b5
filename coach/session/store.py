"""The person's folder of machines and sessions, and the one-writer rule.

    DATA/machines/shed-laser.toml
    DATA/sessions/shed-laser-2026-03-01-180211.toml

A file that cannot be read is reported beside the others and left untouched.
"""

import re
import time
import unicodedata
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Generic, TypeVar

from coach import files
from coach.errors import CoachError, FileError, InputError, Taken, UnknownName, Unwritable
from coach.machine import Machine
from coach.session.document import Document, read

T = TypeVar("T")

NAMELESS = "machine"
"""File name of whatever has no plain letter or digit in its name."""
MOST_NAMED = 5
"""So many sessions are named when the one asked for is not there."""
CLOCKS_APART = 60.0
"""s, between this clock and that of a folder on another machine."""
MOST_AT_ONCE = 10_000
"""More sessions of one name are not begun in one second."""


@dataclass(frozen=True)
class Found(Generic[T]):
    """One file of a listing: what it holds, or why it could not be read."""

    path: Path
    content: T | None
    problem: str = ""
    line: int | None = None
    """Where in the file the (first) problem stands, if known."""


@dataclass(frozen=True)
class Change:
    """A stored profile before and after it was changed, and where it is."""

    path: Path
    before: Machine
    after: Machine


class Store:
    """Machines and sessions under one data folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @property
    def machines_folder(self) -> Path:
        """Where the profiles are."""
        return self.folder / "machines"

    @property
    def sessions_folder(self) -> Path:
        """Where the sessions are."""
        return self.folder / "sessions"

    def machines(self) -> list[Found[Machine]]:
        """All profiles, by name; broken files with their problem."""
        return _listing(self.machines_folder, Machine.load)

    def sessions(self) -> list[Found[Document]]:
        """All sessions, newest first; broken files with their problem."""
        found = _listing(self.sessions_folder, read)
        return sorted(found, key=lambda item: _modified(item.path), reverse=True)

    def machine_path(self, name: str) -> Path:
        """Where the machine of that name is or would be kept."""
        return self.machines_folder / f"{slug(name)}.toml"

    def save_machine(self, machine: Machine, *, replace: bool = False) -> Path:
        """Keep a profile.  Raises InputError if there is one of that name, unless `replace`."""
        path = self.machine_path(machine.name)
        if replace:
            machine.save(path)
            return path
        try:
            files.create_toml(path, machine.to_table())
        except Taken:
            raise InputError(f"There is already a machine in {path.name}", expected="another name") from None
        return path

    def change_machine(self, name: str, change: Callable[[Machine], Machine]) -> Change:
        """Change the machine of that name as its file has it now, which may not be as it was read before.

        Raises InputError, Unreadable, Unwritable, and whatever `change` raises; nothing is written then.
        """
        path = self._machine_file(name).path
        with files.locked(path):
            before = Machine.load(path)
            after = change(before)
            if after != before:
                after.save(path)
        return Change(path, before, after)

    def find_machine(self, name: str) -> Machine:
        """The machine of that name (or file name).  Raises InputError or Unreadable."""
        found = self._machine_file(name)
        return found.content or Machine.load(found.path)  # which tells what is wrong with it

    def _machine_file(self, name: str) -> Found[Machine]:
        wanted = slug(name)
        machines = self.machines()
        for found in machines:
            if found.content and found.content.name == name:
                return found
        for found in machines:
            if found.path.stem == wanted or (found.content and slug(found.content.name) == wanted):
                return found
        have = ", ".join(repr(f.content.name) for f in machines if f.content) or "none yet"
        raise InputError(f"There is no machine called {name!r}", expected=f"one of: {have}")

    def find_session(self, name: str) -> Path:
        """The file of a session: "last" for the newest, the name of a file in the store, or a path.

        Raises UnknownName.
        """
        stored = sorted(self.sessions_folder.glob("*.toml"), key=_modified, reverse=True)
        if name == "last" and stored:
            return stored[0]
        for path in stored:
            if name in (path.stem, path.name):
                return path
        if Path(name).is_file():
            return Path(name)
        if not stored:
            raise UnknownName(f"There is no session {name!r}", expected="a session's path; none is stored yet")
        names = ", ".join(path.stem for path in stored[:MOST_NAMED]) + (", …" if len(stored) > MOST_NAMED else "")
        raise UnknownName(f"There is no session {name!r}", expected=f'"last", a path, or one of: {names}')

    def keep_new(self, title: str, when: datetime, table: dict[str, Any]) -> tuple[Path, files.Stamp | None]:
        """Keep a new session in a file of its own, whoever else begins one; the file and its stamp.

        Raises Unwritable.
        """
        for path in self._new_paths(title, when):
            try:
                return path, files.create_toml(path, table)
            except Taken:
                continue
        raise Unwritable(self.sessions_folder, "too many sessions of that name were begun in this second")

    def new_session_path(self, title: str, when: datetime) -> Path:
        """A file name that no session has now; `keep_new` also holds it against others."""
        return next(path for path in self._new_paths(title, when) if not path.exists())

    def _new_paths(self, title: str, when: datetime) -> Iterator[Path]:
        base = f"{slug(title)}-{when:%Y-%m-%d-%H%M%S}"
        yield self.sessions_folder / f"{base}.toml"
        yield from (self.sessions_folder / f"{base}-{number}.toml" for number in range(2, MOST_AT_ONCE))


def _listing(folder: Path, load: Callable[[Path], T]) -> list[Found[T]]:
    items: list[Found[T]] = []
    if not folder.is_dir():
        return items
    for path in sorted(folder.glob("*.toml")):
        try:
            items.append(Found(path, load(path)))
        except CoachError as error:
            items.append(Found(path, None, str(error), error.line if isinstance(error, FileError) else None))
    return items


def _modified(path: Path) -> float:
    """When it was last written; a time that lies ahead is of another clock and tells nothing."""
    try:
        written = path.stat().st_mtime
    except OSError:
        return 0.0
    return written if written <= time.time() + CLOCKS_APART else 0.0


def slug(name: str) -> str:
    """A file name from any name: plain letters, digits and dashes."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    latin = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    return latin or f"{NAMELESS}-{zlib.crc32(name.encode('utf-8', 'replace')):08x}"
