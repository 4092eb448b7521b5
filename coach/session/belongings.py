"""What belongs to a machine beside its profile: a file each, by its name, taken along when that changes.

    DATA/baselines/shed-laser.toml      what it once cut (`coach.session.baselines`)
    DATA/upkeep/shed-laser.toml         its log (`coach.upkeep.document`)

Each says in its key "machine" whose it is.
"""

import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

from coach import files
from coach.errors import InputError, Taken
from coach.session.store import slug

Belonging = Literal["baselines", "upkeep"]
BELONGINGS: dict[Belonging, str] = {"baselines": "a file of baselines", "upkeep": "a log of upkeep"}
"""Folder to what lies there."""


def path_of(folder: Path, what: Belonging, machine: str) -> Path:
    """Where that of a machine is, or would be, kept."""
    return folder / what / f"{slug(machine)}.toml"


@contextlib.contextmanager
def taken_along(folder: Path, old: str, new: str) -> Iterator[None]:
    """What belongs to the machine of the old name is there under the new one, while and after the profile is renamed.

    First all of it is written under the new name, then the profile is saved (what is done within), and only then the
    old files go: whatever stops that, what belongs to each profile that is there is whole.  Where the profile is not
    saved, nothing has changed.  Others wait meanwhile.
    Raises InputError where another machine's lies there, Unreadable or Unwritable.
    """
    with contextlib.ExitStack() as held:
        there = [what for what in BELONGINGS if path_of(folder, what, old).exists()]
        for what in there:
            held.enter_context(files.locked(path_of(folder, what, old)))
        written: list[Path] = []
        try:
            for what in there:
                written += _copied(folder, what, old, new)
            yield
        except Exception:  # the profile keeps its name: so does all that belongs to it
            for path in written:
                path.unlink(missing_ok=True)
            raise
        for what in there:
            _left(path_of(folder, what, old), path_of(folder, what, new))


def _copied(folder: Path, what: Belonging, old: str, new: str) -> list[Path]:
    """Write it under the new name; which file was made."""
    here, there = path_of(folder, what, old), path_of(folder, what, new)
    table = files.read_toml(here) | {"machine": new}
    if there == here:  # a name that is spelled otherwise and has the same file
        files.write_toml(here, table)
        return []
    try:
        files.create_toml(there, table)
    except Taken:
        if files.read_toml(there) == table:  # by an earlier try that was stopped
            return []
        raise InputError(
            f"There is already {BELONGINGS[what]} in {there}", expected="another name, or that file put elsewhere"
        ) from None
    return [there]


def _left(here: Path, there: Path) -> None:
    if here != there:
        with contextlib.suppress(OSError):  # nobody's any more; what matters is on disk under the new name
            here.unlink()
