"""The index's file: a small database (SQLite) of rows, one for each session's file, that may be lost at any time.

    DATA/.sessions.index

What stands in it is a copy: whatever cannot be trusted is dropped, and read from the sessions' files again.  A file
that is broken, of another program or of another version of this one is put aside (`.old`) and begun anew.  Where no
index can be kept at all (a folder that may only be read, a Python without SQLite) listings take longer, and that is
all.  Two programs may use it at once: SQLite keeps their changes apart, and the folder's lock the beginning anew.
"""

import contextlib
import os
import stat
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from coach import files
from coach.errors import Unwritable

if TYPE_CHECKING:
    import sqlite3

NAME = ".sessions.index"
OURS, SHAPE = 0x41434958, 1
"""SQLite's application_id and user_version: whose file it is, and what its tables look like."""
PATIENCE = 0.25
"""s to wait for another program that writes the index just now; then it is done without."""
BUSY = ("SQLITE_BUSY", "SQLITE_LOCKED")
OUT_OF_REACH = ("SQLITE_CANTOPEN", "SQLITE_READONLY", "SQLITE_PERM", "SQLITE_IOERR", "SQLITE_FULL", "SQLITE_AUTH")
"""SQLite's names for what is wrong with the disk or the folder and not with the index."""
TABLES = """
    CREATE TABLE made (by TEXT NOT NULL);
    CREATE TABLE sessions (
        name TEXT PRIMARY KEY, stamp TEXT NOT NULL, told TEXT NOT NULL, sum INTEGER NOT NULL
    ) WITHOUT ROWID;
"""


@dataclass(frozen=True)
class Row:
    """What the index says of one file."""

    stamp: files.Stamp
    """Of the writing that it was read from."""
    told: str
    """JSON."""


class Shelf:
    """The index of one data folder.  No method raises for anything that is wrong with it."""

    def __init__(self, folder: Path, made_by: str) -> None:
        """`made_by`: rows that another maker left are not used."""
        self._path, self._made_by = folder / NAME, made_by
        self.state = "not there yet"
        """How it was found: "good", "not there yet", "in use", or why it was not used."""
        self._replace = True
        """Whether the file has to be begun anew before anything is kept in it."""

    def rows(self) -> dict[str, Row]:
        """The row of each file by its name; none of an index that cannot be used."""
        try:
            import sqlite3
        except ImportError:
            self.state = "this Python has no SQLite"
            return {}
        try:
            if not self._is_there():
                return {}
            with contextlib.closing(self._opened("ro")) as database:
                rows = self._read(database)
        except (sqlite3.Error, ValueError) as error:  # ValueError: what stands in a row is not what was put there
            self._found_wrong(error)
            return {}
        except OSError as error:
            self.state, self._replace = f"cannot be read ({error.strerror or error})", False
            return {}
        self._replace = self.state != "good"
        return rows

    def keep(self, rows: Mapping[str, Row], gone: Iterable[str] = ()) -> None:
        """Put these rows in the place of older ones, and take away those of files that are gone."""
        try:
            import sqlite3
        except ImportError:
            return
        with contextlib.suppress(sqlite3.Error, OSError, Unwritable):
            if self._replace:
                self._begin_anew()
            with contextlib.closing(self._opened("rw")) as database, database:
                database.execute("BEGIN IMMEDIATE")
                if self._state_of(database) != "good":  # another program began it anew meanwhile
                    return
                database.executemany("DELETE FROM sessions WHERE name = ?", [(name,) for name in gone])
                database.executemany(
                    "INSERT OR REPLACE INTO sessions VALUES (?, ?, ?, ?)",
                    [(name, *_written(name, row)) for name, row in rows.items()],
                )

    # -- inside -----------------------------------------------------------------------------------

    def _is_there(self) -> bool:
        """Whether there is a file to be opened.  Raises OSError where something else stands there."""
        try:
            found = self._path.lstat()
        except FileNotFoundError:
            return False
        if not stat.S_ISREG(found.st_mode):
            raise OSError(0, "no regular file")
        return True

    def _opened(self, how: str) -> "sqlite3.Connection":
        import sqlite3

        address = f"{self._path.absolute().as_uri()}?mode={how}"
        return sqlite3.connect(address, uri=True, timeout=PATIENCE, isolation_level=None)

    def _state_of(self, database: "sqlite3.Connection") -> str:
        """Whether these rows are ours to use: "good", or why not."""
        whose, shape = (
            database.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version")
        )
        if whose != OURS:
            return "not an index of ours"
        if shape != SHAPE:
            return f"of {'a newer' if shape > SHAPE else 'an older'} coach"
        if database.execute("SELECT by FROM made").fetchall() != [(self._made_by,)]:
            return "made by another version, or on a clock of another zone"
        return "good"

    def _read(self, database: "sqlite3.Connection") -> dict[str, Row]:
        self.state = self._state_of(database)
        if self.state != "good":
            return {}
        return dict(_checked(*row) for row in database.execute("SELECT name, stamp, told, sum FROM sessions"))

    def _found_wrong(self, error: Exception) -> None:
        name = getattr(error, "sqlite_errorname", "") or ""
        if name.startswith(BUSY):
            self.state, self._replace = "in use", False
        elif name.startswith(OUT_OF_REACH):
            self.state, self._replace = f"cannot be read ({error})", False
        else:
            self.state, self._replace = f"broken ({error})", True

    def _begin_anew(self) -> None:
        """An empty index in the place of one that cannot be used, unless another program has just done so.

        Raises OSError, Unwritable, sqlite3.Error.
        """
        with files.locked(self._path):
            other = Shelf(self._path.parent, self._made_by)
            other.rows()
            if not other._replace:
                self._replace = False
                return
            if self._is_there():
                os.replace(self._path, self._path.with_name(f"{NAME}.old"))
            with contextlib.suppress(FileNotFoundError):
                os.unlink(f"{self._path}-journal")  # of the one that was put aside: it would spoil the next
            self._make()
        self._replace = False

    def _make(self) -> None:
        """Beside its place, then all at once in it: nobody finds half an index."""
        new = Shelf(self._path.parent, self._made_by)
        new._path = self._path.with_name(f"{NAME}.new")
        with contextlib.suppress(FileNotFoundError):
            os.unlink(new._path)
        os.close(os.open(new._path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))  # its owner's alone
        with contextlib.closing(new._opened("rw")) as database:
            database.executescript(
                f"BEGIN; {TABLES} PRAGMA application_id = {OURS}; PRAGMA user_version = {SHAPE}; COMMIT;"
            )
            database.execute("INSERT INTO made VALUES (?)", (self._made_by,))
        os.replace(new._path, self._path)


def _written(name: str, row: Row) -> tuple[str, str, int]:
    stamp = " ".join(map(str, row.stamp))
    return stamp, row.told, _sum(name, stamp, row.told)


def _checked(name: str, stamp: str, told: str, checksum: int) -> tuple[str, Row]:
    """A row as it was put in.  Raises ValueError where it is not."""
    if checksum != _sum(name, stamp, told):
        raise ValueError(f"the row of {name!r} is damaged")
    return name, Row(tuple(int(part) for part in stamp.split()), told)


def _sum(*parts: object) -> int:
    return zlib.crc32("\0".join(map(str, parts)).encode("utf-8", "replace"))
