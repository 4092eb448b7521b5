"""What listings ask of every session, without reading all sessions each time.

A facet is one such question: a function from a session's document to plain JSON values.  Its answers are kept in an
index beside the files (`shelf.py`) together with the stamp of the writing that they were read from, and are used as
long as the file has that stamp.  The files are the truth: without the index, or with a broken one, the answers are
the same and take longer.
"""

import contextlib
import json
import os
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coach import files
from coach.errors import CoachError, FileError, Unreadable
from coach.session.found import Found
from coach.session.shelf import Row, Shelf

if TYPE_CHECKING:
    from coach.session.document import Document

SETTLED = 2_000_000_000
"""ns after which a file system's clock has moved on for certain (FAT counts in two seconds): a file that was written
less long ago may be written again without its stamp showing it, so it is read each time."""
KEPT_AFTER = 200
"""Files read after which what was learned is kept: whoever leaves meanwhile need not begin again."""

Facts = Mapping[str, Any]
"""What was asked, by the facet's name."""
Told = Callable[[int, int], None]
"""Hears how many files were looked at, of how many; what it raises ends the survey, and what was read is kept."""


@dataclass(frozen=True)
class Facet:
    """A question about a session: `of` answers it with plain JSON values and looks at nothing but the document."""

    name: str
    of: Callable[["Document"], Any]


@dataclass(frozen=True)
class Survey:
    """Every session's file with what was asked of it, by file name; broken ones with their problem."""

    found: tuple[Found[Facts], ...]
    index: str
    """How the index was found."""
    read: int
    """So many files had to be read."""


Besides = Callable[[], Sequence[Facet]]
"""What a session is asked as well when its file has to be read anyway: others will want to know."""


def survey(
    folder: Path,
    facets: Sequence[Facet],
    *,
    besides: Besides = tuple,
    told: Told | None = None,
    now: Callable[[], int] = time.time_ns,
) -> Survey:
    """Ask every session of a data folder; never raises for a broken file or index.

    `now`: the clock by which a file is old enough to be known by its stamp, ns.
    """
    surveyor = _Surveyor(Shelf(folder, _made_by()), facets, besides, now)
    paths = sorted((folder / "sessions").glob("*.toml"))
    found = []
    try:
        for number, path in enumerate(paths):
            if told is not None:
                told(number, len(paths))
            found.append(surveyor.ask(path))
    finally:
        surveyor.keep(gone=len(found) == len(paths))
    return Survey(tuple(found), surveyor.shelf.state, surveyor.read)


def asked(folder: Path, paths: Sequence[Path], facets: Sequence[Facet]) -> list[Found[Facts]]:
    """Ask these files of a data folder alone, in their order: for what would take too long to ask of all."""
    surveyor = _Surveyor(Shelf(folder, _made_by()), facets, tuple, time.time_ns)
    try:
        return [surveyor.ask(path) for path in paths]
    finally:
        surveyor.keep()


class _Surveyor:
    """Asks file after file, and keeps what it learned."""

    def __init__(self, shelf: Shelf, facets: Sequence[Facet], besides: Besides, now: Callable[[], int]) -> None:
        self.shelf, self._facets, self._besides, self._now = shelf, facets, besides, now
        self._known = shelf.rows()
        self._left = set(self._known)
        self._fresh: dict[str, Row] = {}
        self.read = 0

    def ask(self, path: Path) -> Found[Facts]:
        """What a file answers: as it is known, else read."""
        self._left.discard(path.name)
        stamp = stamp_of(path)
        row = self._known.get(path.name)
        known = json.loads(row.told) if row is not None and row.stamp == stamp else {}
        if "problem" in known:
            return _broken(path, Unreadable(path, known["problem"], known["line"]), stamp)
        if not all(facet.name in known for facet in self._facets):
            try:
                known = known | self._answers(path)
            except CoachError as error:
                return self._told_broken(path, stamp, error)
            self._learn(path, stamp, known)
        return Found(path, {facet.name: known[facet.name] for facet in self._facets}, stamp=stamp)

    def keep(self, *, gone: bool = False) -> None:
        """Keep what was learned; `gone`: files that were not met are not there any more."""
        left = self._left if gone else set()
        if self._fresh or left:
            self.shelf.keep(self._fresh, left)
        self._fresh = {}

    def _answers(self, path: Path) -> dict[str, Any]:
        from coach.session.document import read  # heavy, and mostly nothing has to be read

        self.read += 1
        document = read(path)
        return {facet.name: facet.of(document) for facet in (*self._facets, *self._besides())}

    def _told_broken(self, path: Path, stamp: files.Stamp | None, error: CoachError) -> Found[Facts]:
        if isinstance(error, FileError) and _can_be_opened(path):
            self._learn(path, stamp, {"problem": error.reason, "line": error.line})
        return _broken(path, error, stamp)

    def _learn(self, path: Path, stamp: files.Stamp | None, told: dict[str, Any]) -> None:
        """Remember it, if the file is what it was before it was read and will show when it is written again."""
        if stamp is None or stamp != stamp_of(path) or self._now() - max(stamp[0], stamp[3]) < SETTLED:
            return
        self._fresh[path.name] = Row(stamp, json.dumps(told))
        if len(self._fresh) >= KEPT_AFTER:
            self.keep()


def stamp_of(path: Path) -> files.Stamp | None:
    """What changes when a file is written or replaced: its time, size and number, and the time at which the system
    last changed anything about it, which nobody can set; None where it is not there."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_mtime_ns, status.st_size, status.st_ino, status.st_ctime_ns


def _broken(path: Path, error: CoachError, stamp: files.Stamp | None) -> Found[Facts]:
    return Found(path, None, str(error), error.line if isinstance(error, FileError) else None, stamp)


def _can_be_opened(path: Path) -> bool:
    """Whether what is wrong with a file is its content: who may read it can change without its stamp showing it.

    Only a file is opened: a pipe would wait for whoever writes to it.
    """
    if not path.is_file():
        return False
    try:
        with path.open("rb") as stream:
            stream.read(1)
            return True
    except OSError:
        return False


def _made_by() -> str:
    """Which writing of the program gives the answers, and on which clock: a time without a zone is of the clock here.

    Answers of another are not used, whatever has changed in it.
    """
    code = [entry.stat() for entry in _files_of(Path(__file__).parent.parent)]
    newest = max((each.st_mtime_ns for each in code), default=0)
    return json.dumps(
        [len(code), sum(each.st_size for each in code), newest, *time.tzname, time.timezone, time.altzone]
    )


def _files_of(folder: Path) -> Iterator[os.DirEntry[str]]:
    """The program's own files below a folder; none where it is not kept in files."""
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir():
                yield from _files_of(Path(entry.path))
            elif entry.name.endswith(".py"):
                yield entry
