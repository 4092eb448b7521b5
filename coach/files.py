"""TOML in, TOML out: the only place that reads or writes the person's files.

Writing is atomic: a temporary file in the same folder is written, flushed to disk and renamed over
the old one, so that a crash or a power cut leaves either the old content or the new, never half.
Whoever writes what depends on what stands there holds the folder's lock from looking to writing (`locked`).
"""

import contextlib
import errno
import os
import tempfile
import time
from collections.abc import Callable, Iterator
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import tomli_w

from coach.errors import Changed, InputError, Taken, Unreadable, Unwritable
from coach.toml_lines import Location, lines_of
from coach.toml_text import LARGEST, brief, read_toml, text_of

if TYPE_CHECKING:  # what is read and written without a model needs none
    from pydantic import BaseModel, ValidationError
    from pydantic_core import ErrorDetails

__all__ = [
    "Stamp", "as_toml", "create_toml", "dotted", "explain", "load_model", "locked", "read_toml", "reason", "stamp",
    "sweep", "validate", "write_if_unchanged", "write_new", "write_text", "write_toml",
]  # fmt: skip

ModelT = TypeVar("ModelT", bound="BaseModel")

Stamp = tuple[int, ...]
"""What tells one writing of a file from another."""

MOST_TOLD = 20
"""So many things that are wrong with one file are told."""
LOCK = ".lock"
"""Every folder that is written to has one, empty: it says nothing, it is only held."""
LONGEST_WAIT = 5.0
"""s; others hold the lock for as long as one small file takes to write."""
NO_LOCKS = (errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOLCK)
"""What a file system says that knows no locks."""
LEFT_AFTER = 3600.0
"""s; no writing takes so long."""
RENAME_TRIES = 6
"""On Windows a virus scanner may hold the old file for a moment; elsewhere the first try succeeds."""


def load_model(model: type[ModelT], path: Path) -> ModelT:
    """The file as a checked model.  Raises Unreadable, with the line where the trouble stands if known."""
    table = read_toml(path)
    return validate(model, table, path)


def validate(model: type[ModelT], table: dict[str, Any], path: Path) -> ModelT:
    """A table read from `path` as a checked model.  Raises Unreadable."""
    from pydantic import ValidationError

    try:
        return model.model_validate(table)
    except ValidationError as error:
        lines = _lines_of([item["loc"] for item in error.errors()[:MOST_TOLD]], path)
        problems = tuple(zip_longest(lines, _sentences(error)))  # the last may say how many more there are
        raise Unreadable(path, explain(error), lines[0], problems) from None


def dotted(where: Location) -> str:
    """A place in a file as a person reads it: "bed.width"."""
    return brief(".".join(str(part) for part in where)) or "the file"


def explain(error: "ValidationError", called: Callable[[Location], str] = dotted) -> str:
    """The complaints of a validation in one line: where, as it is called, what was given, what was expected."""
    return "; ".join(_sentences(error, called))


def reason(item: "ErrorDetails") -> str:
    """One complaint of a validation, without where."""
    raised = item.get("ctx", {}).get("error")  # our own words, without what pydantic puts before them
    return str(raised) if item["type"] == "value_error" and raised else item["msg"]


def _sentences(error: "ValidationError", called: Callable[[Location], str] = dotted) -> list[str]:
    sentences = []
    for item in error.errors()[:MOST_TOLD]:
        where = called(item["loc"])
        if item["type"] == "extra_forbidden":
            sentences.append(f"{where}: this key is not known here (a spelling slip?)")
        elif item["type"] == "missing":
            sentences.append(f"{where}: this is missing")
        else:
            given = item.get("input")
            shown = f" (given: {brief(repr(given))})" if isinstance(given, str | int | float | bool) else ""
            sentences.append(f"{where}: {brief(reason(item), 300)}{shown}")
    more = error.error_count() - MOST_TOLD
    return [*sentences, f"and {more} more"] if more > 0 else sentences


def _lines_of(locations: list[Location], path: Path) -> list[int | None]:
    """The line on which each location stands, where it can be told."""
    with contextlib.suppress(Unreadable):  # it was readable a moment ago
        return lines_of(text_of(path), locations)
    return [None] * len(locations)


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold what all our programs hold while they change a file of that folder; it may be held already.

    Raises Unwritable where another holds it for too long, or where the folder cannot be written to.
    """
    from filelock import FileLock, Timeout  # only for writing, and not free to import

    folder = Path(os.path.realpath(path)).parent
    try:
        folder.mkdir(parents=True, exist_ok=True)
        lock = FileLock(folder / LOCK, is_singleton=True)
        lock.acquire(timeout=LONGEST_WAIT)
    except Timeout:
        raise Unwritable(path, "another program is writing here and does not end; try again in a moment") from None
    except (OSError, NotImplementedError) as error:
        if isinstance(error, OSError) and error.errno not in NO_LOCKS:
            raise _unwritable(path, error.strerror or str(error)) from None
        yield  # better written without a lock than not at all
        return
    try:
        yield
    finally:
        with contextlib.suppress(OSError):
            lock.release()


def write_if_unchanged(path: Path, table: dict[str, Any], known: Stamp | None) -> Stamp | None:
    """Write atomically unless somebody else changed the file since it was `known`; returns the new stamp.

    A file that is gone is written anew; with None whatever stands there is replaced.
    Raises Changed, or another Unwritable.
    """
    text = as_toml(path, table)
    with locked(path):
        if known is not None and stamp(path) not in (known, None):
            raise Changed(path)
        if known is None:
            sweep(path.parent)
        write_text(path, text)
        return stamp(path)


def create_toml(path: Path, table: dict[str, Any]) -> Stamp | None:
    """Write a file that is not there yet; returns its stamp.  Raises Taken where one is, or another Unwritable."""
    text = as_toml(path, table)
    with locked(path):
        if os.path.lexists(path):
            raise Taken(path)
        sweep(path.parent)
        write_text(path, text)
        return stamp(path)


def write_toml(path: Path, table: dict[str, Any]) -> None:
    """Write a table of plain values atomically.  Raises Unwritable; the old file then still stands."""
    write_text(path, as_toml(path, table))


def as_toml(path: Path, table: dict[str, Any]) -> str:
    """The table as TOML that can be read again.  Raises Unwritable for more than a file may hold."""
    text = tomli_w.dumps(table)
    if len(text.encode("utf-8", "replace")) > LARGEST:
        raise _unwritable(path, f"it would grow beyond {LARGEST / 1e6:g} MB; begin a new one")
    return text


def write_text(path: Path, text: str) -> None:
    """Write text atomically, keeping the old file's mode.  Raises Unwritable."""
    target = Path(os.path.realpath(path))
    temporary: str | None = None
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".new")
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        _keep_mode(target, temporary)
        _rename(temporary, target)
        temporary = None
        _sync_folder(target.parent)
    except OSError as error:
        raise _unwritable(path, error.strerror or str(error)) from None
    except UnicodeEncodeError as error:
        broken = error.object[error.start : error.end]
        raise _unwritable(path, f"{broken!r} in it is no character; type it anew") from None
    finally:
        if temporary is not None:
            with contextlib.suppress(OSError):
                os.unlink(temporary)


def write_new(path: Path, text: str, *, replace: bool = False) -> None:
    """Write a text where somebody asked for it, over no file that is there unless `replace`.

    Raises InputError where its folder is not there, Taken where a file is, or another Unwritable.
    """
    if not path.parent.is_dir():
        raise InputError(f"There is no folder {str(path.parent)!r}", expected="a folder that is there")
    if os.path.lexists(path) and not replace:
        raise Taken(path)
    if path.is_dir():
        raise Unwritable(path, "this is a folder")
    write_text(path, text)


def sweep(folder: Path) -> None:
    """Take away what writers left half written that were killed long ago: it was never said to be kept."""
    for left in folder.glob(".*.toml.*.new"):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > LEFT_AFTER:
                left.unlink()


def _unwritable(path: Path, reason: str) -> Unwritable:
    left = "what was there before is unchanged" if os.path.lexists(path) else "nothing was made there"
    return Unwritable(path, f"could not be written ({reason}); {left}")


def _keep_mode(target: Path, temporary: str) -> None:
    """The old file's; a new one is its owner's alone, whatever the system would allow others."""
    mode = target.stat().st_mode & 0o777 if target.exists() else 0o600
    os.chmod(temporary, mode)


def _rename(temporary: str, target: Path) -> None:
    for attempt in range(RENAME_TRIES):
        try:
            os.replace(temporary, target)
            return
        except PermissionError:
            if os.name != "nt" or attempt == RENAME_TRIES - 1:
                raise
            time.sleep(0.02 * 2**attempt)


def _sync_folder(folder: Path) -> None:
    """Make the rename itself durable, where the system and the file system allow that.

    The file was changed by then: where this is refused (some network and user-space file systems do), the system
    writes the folder in its own time, and nothing is said to have failed.
    """
    if os.name == "nt":
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def stamp(path: Path) -> Stamp | None:
    """What changes when somebody else writes a file; None when it is not there.

    Its time, its size, and which file it is: every writing makes another one, also within one tick of the clock.
    """
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_mtime_ns, status.st_size, status.st_ino
