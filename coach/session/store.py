"""The person's folder of machines and sessions, and the one-writer rule.

    DATA/machines/shed-laser.toml
    DATA/sessions/shed-laser-2026-03-01-180211.toml

A file that cannot be read is reported beside the others and left untouched.
"""

import contextlib
import re
import time
import unicodedata
import zlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from coach import files
from coach.errors import CoachError, FileError, InputError, Taken, UnknownName, Unwritable
from coach.session.found import Found
from coach.session.index import Besides, Facts, Told, stamp_of, survey
from coach.session.summary import NEVER, SUMMARY, Summary, as_summary, summary_of

if TYPE_CHECKING:  # a list from the index needs no model
    from coach.machine import Machine
    from coach.session.document import Document

T = TypeVar("T")

NAMELESS = "machine"
"""File name of whatever has no plain letter or digit in its name."""
MOST_NAMED = 5
"""So many sessions are named when the one asked for is not there."""
LAST, LAST_PRACTICE = "last", "last-practice"
"""In place of a session's name: the one that was worked on last, at a machine and on the practice bench."""
MOST_AT_ONCE = 10_000
"""More sessions of one name are not begun in one second."""


@dataclass(frozen=True)
class Change:
    """A stored profile before and after it was changed, and where it is."""

    path: Path
    before: "Machine"
    after: "Machine"


class Visits:
    """Sessions on one machine, the one begun last first; each is read when it comes, broken ones are left out."""

    def __init__(self, paths: Sequence[Path]) -> None:
        self.paths = tuple(paths)

    def __iter__(self) -> "Iterator[Document]":
        return (document for _, document in self.read())

    def read(self) -> "Iterator[tuple[Path, Document]]":
        """Each with its file."""
        from coach.session.document import read

        for path in self.paths:
            with contextlib.suppress(CoachError):  # it was readable a moment ago
                yield path, read(path)


class Store:
    """Machines and sessions under one data folder."""

    def __init__(self, folder: Path, besides: Besides = tuple) -> None:
        """`besides`: as in `survey`."""
        self.folder, self._besides = folder, besides

    @property
    def machines_folder(self) -> Path:
        """Where the profiles are."""
        return self.folder / "machines"

    @property
    def sessions_folder(self) -> Path:
        """Where the sessions are."""
        return self.folder / "sessions"

    def machines(self) -> "list[Found[Machine]]":
        """All profiles, by name; broken files with their problem."""
        from coach.machine import Machine

        return _listing(self.machines_folder, Machine.load)

    def sessions(self) -> "list[Found[Document]]":
        """All sessions, each read whole; in the order of `summaries`."""
        from coach.session.document import read

        found = _listing(self.sessions_folder, read)
        summed = [each.holding(summary_of(each.content) if each.content else None) for each in found]
        order = {each.path: place for place, each in enumerate(newest_first(summed))}
        return sorted(found, key=lambda each: order[each.path])

    def summaries(self, *, told: Told | None = None) -> list[Found[Summary]]:
        """What lists say of all sessions, the one worked on last first; broken files behind them, with their problem.

        Only files that were written since they were read last are read.  `told`: as in `survey`.
        """
        return summaries(survey(self.folder, (SUMMARY,), besides=self._besides, told=told).found)

    def visits(self, machine: str) -> "Visits":
        """The sessions on the machine of that name, the one begun last first; practice is none."""
        return visits_among(self.summaries(), machine)

    def machine_path(self, name: str) -> Path:
        """Where the machine of that name is or would be kept."""
        return self.machines_folder / f"{slug(name)}.toml"

    def save_machine(self, machine: "Machine", *, replace: bool = False) -> Path:
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

    def change_machine(self, name: str, change: "Callable[[Machine], Machine]") -> Change:
        """Change the machine of that name as its file has it now, which may not be as it was read before.

        Raises InputError, Unreadable, Unwritable, and whatever `change` raises; nothing is written then.
        """
        from coach.machine import Machine

        path = self._machine_file(name).path
        with files.locked(path):
            before = Machine.load(path)
            after = change(before)
            if after != before:
                after.save(path)
        return Change(path, before, after)

    def find_machine(self, name: str) -> "Machine":
        """The machine of that name (or file name).  Raises InputError or Unreadable."""
        from coach.machine import Machine

        found = self._machine_file(name)
        return found.content or Machine.load(found.path)  # which tells what is wrong with it

    def _machine_file(self, name: str) -> "Found[Machine]":
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
        """The file of a session: "last", "last-practice", the name of a file in the store, or a path.

        Raises UnknownName.
        """
        if name in (LAST, LAST_PRACTICE):
            return self._last(practice=name == LAST_PRACTICE)
        if name == Path(name).name:
            for path in (self.sessions_folder / f"{name}.toml", self.sessions_folder / name):
                if path.suffix == ".toml" and path.exists():
                    return path
        if Path(name).is_file():
            return Path(name)
        have = [each.path.stem for each in self.summaries()]
        if not have:
            raise UnknownName(f"There is no session {name!r}", expected="a session's path; none is stored yet")
        names = ", ".join(have[:MOST_NAMED]) + (", …" if len(have) > MOST_NAMED else "")
        raise UnknownName(f"There is no session {name!r}", expected=f'"last", a path, or one of: {names}')

    def _last(self, *, practice: bool) -> Path:
        """The session of that kind that was worked on last; a broken file written since is taken for it."""
        found = self.summaries()
        mine = [each for each in found if each.content and (each.content.practice is not None) == practice]
        broken = next((each for each in found if each.content is None and _written(each) <= time.time()), None)
        last = mine[0].content.last.timestamp() if mine and mine[0].content else 0.0
        if broken is not None and (not mine or _written(broken) > last):
            return broken.path  # reading it tells what is wrong; another session would be entered into in silence
        if mine:
            return mine[0].path
        if not found:
            raise UnknownName("There is no session yet", expected="a session's path; none is stored yet")
        kind, other = ("practice session", LAST) if practice else ("session at a machine", LAST_PRACTICE)
        raise UnknownName(f"There is no {kind} yet", expected=f'"{other}" for the newest of the others, or a name')

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
            items.append(Found(path, load(path), stamp=stamp_of(path)))
        except CoachError as error:
            items.append(
                Found(path, None, str(error), error.line if isinstance(error, FileError) else None, stamp_of(path))
            )
    return items


def summaries(found: Iterable[Found[Facts]]) -> list[Found[Summary]]:
    """What a survey that asked for it learned for lists, in their order."""
    return newest_first(
        each.holding(as_summary(each.content[SUMMARY.name]) if each.content else None) for each in found
    )


def visits_among(found: Iterable[Found[Summary]], machine: str) -> Visits:
    """Those of a list that are visits to the machine of that name."""
    mine = [
        (each.content.created, each.path)
        for each in found
        if each.content and each.content.machine.name == machine and each.content.practice is None
    ]
    return Visits([path for _, path in sorted(mine, key=lambda each: each[0], reverse=True)])


def newest_first(found: Iterable[Found[Summary]], now: datetime | None = None) -> list[Found[Summary]]:
    """The session that was worked on last first; those that tell no time of it by when they were written."""
    clock = now or datetime.now().astimezone()

    def worked_on(each: Found[Summary]) -> tuple[datetime, float, str]:
        written = _written(each) if _written(each) <= time.time() else 0.0  # else by a clock that was ahead
        return each.content.worked_on(clock) if each.content else NEVER, written, each.path.name

    return sorted(found, key=lambda each: (each.content is not None, *worked_on(each)), reverse=True)


def _written(found: Found[Any]) -> float:
    """When a file was written, in seconds; 0 where it is gone."""
    return found.stamp[0] / 1e9 if found.stamp else 0.0


def slug(name: str) -> str:
    """A file name from any name: plain letters, digits and dashes."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    latin = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    return latin or f"{NAMELESS}-{zlib.crc32(name.encode('utf-8', 'replace')):08x}"
