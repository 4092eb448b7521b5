"""Half-described machines: one file each in the data folder, so that leaving the program loses nothing.

    DATA/drafts/describe.toml              a new machine
    DATA/drafts/change-shed-laser.toml     the machine in machines/shed-laser.toml, being changed

A draft that cannot be read is reported and left untouched; another is then begun beside it.
"""

import os
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from coach import files
from coach.describing.description import Description
from coach.describing.from_machine import describe
from coach.errors import Changed, CoachError, Taken, Unreadable, Unwritable
from coach.machine import Machine

SCHEMA = 1
MOST = 1000
"""So many machines are not half described."""


class _File(BaseModel):
    """A draft as it stands in its file."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    schema_: Annotated[int, Field(alias="schema", ge=1, le=SCHEMA)]
    at: str = ""
    entry: str = ""
    machine: str = ""
    answers: dict[str, str] = {}


@dataclass(frozen=True)
class Draft:
    """A description on its way: which question it stands at, and what was half typed there."""

    path: Path
    description: Description = field(default_factory=Description)
    at: str = ""
    entry: str = ""
    machine: Path | None = None
    """The file of the machine that is being changed; None for a new one."""
    known: files.Stamp | None = field(default=None, compare=False)
    """The file as it was last read or written here; None while there is none."""

    @property
    def name(self) -> str:
        """What to call it."""
        before = self.description.before
        return self.description.answers.get("name") or (before.name if before else "a machine without a name yet")


def folder_of(data: Path) -> Path:
    """Where the drafts are."""
    return data / "drafts"


def begin(data: Path) -> Draft:
    """A new machine's draft, in memory until it is kept; no other draft is overwritten."""
    return Draft(next(path for path in _new_paths(folder_of(data)) if not path.exists()))


def _new_paths(folder: Path) -> Iterator[Path]:
    yield folder / "describe.toml"
    yield from (folder / f"describe-{number}.toml" for number in range(2, MOST))


def begin_change(data: Path, machine: Path) -> Draft:
    """The draft of a change: as it was left, or all the machine's answers.  Raises Unreadable."""
    path = folder_of(data) / f"change-{machine.stem}.toml"
    if path.exists():
        return read(path)
    return Draft(path, describe(Machine.load(machine)), machine=machine)


def keep(draft: Draft) -> Draft:
    """Write the draft; returns it as it is kept: a new one beside those that others began meanwhile.

    Raises Changed where another program wrote it too, or another Unwritable.
    """
    table: dict[str, Any] = {"schema": SCHEMA, "at": draft.at, "entry": draft.entry}
    if draft.machine is not None:
        table["machine"] = os.path.realpath(draft.machine)
    table["answers"] = dict(draft.description.answers)
    if draft.known is not None:
        return replace(draft, known=files.write_if_unchanged(draft.path, table, draft.known))
    others = () if draft.machine else _new_paths(draft.path.parent)
    for path in (draft.path, *others):
        try:
            return replace(draft, path=path, known=files.create_toml(path, table))
        except Taken:
            continue
    raise Changed(draft.path)


def read(path: Path) -> Draft:
    """The draft in a file, its answers checked one by one.  Raises Unreadable; never changes the file.

    A machine that is no longer there cannot be changed any more: its draft goes on as a new machine's.
    """
    known = files.stamp(path)  # before reading: what is written in between must not be lost
    held = files.load_model(_File, path)
    machine = Path(held.machine) if held.machine else None
    before = None
    if machine is not None and machine.exists():
        before = Machine.load(machine)
    description = Description(before=before)
    for key, text in held.answers.items():
        try:
            description = description.answered(key, text)
        except (CoachError, KeyError) as error:
            reason = str(error) if isinstance(error, CoachError) else "this question is not known here"
            raise Unreadable(path, f"answers.{key}: {reason}") from None
    return Draft(path, description, held.at, held.entry, machine if before else None, known)


def drafts(data: Path) -> tuple[tuple[Draft, ...], tuple[str, ...]]:
    """All drafts, and one sentence for each that cannot be read."""
    found, problems = [], []
    folder = folder_of(data)
    for path in sorted(folder.glob("*.toml")) if folder.is_dir() else ():
        try:
            found.append(read(path))
        except CoachError as error:
            problems.append(str(error))
    return tuple(found), tuple(problems)


def discard(draft: Draft) -> None:
    """Remove the draft: it became a machine, or the person threw it away.  Raises Unwritable."""
    try:
        draft.path.unlink(missing_ok=True)
    except OSError as error:
        raise Unwritable(draft.path, f"could not be removed ({error.strerror or error})") from None
