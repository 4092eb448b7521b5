"""What upkeep is due on the machines of a data folder, for the first screen and the first lines."""

import contextlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from coach.errors import Unreadable

if TYPE_CHECKING:
    from coach.session.index import Told
    from coach.steps.stored import Stored


@dataclass(frozen=True)
class DueAt:
    """What is due on one machine."""

    machine: str
    """Its name."""
    words: str
    """What is due, in one line."""
    count: int
    """How many items are."""


@dataclass(frozen=True)
class AtHome:
    """What a front end begins with."""

    found: "Stored"
    due: tuple[DueAt, ...]
    """What is due on each machine where something is."""
    problems: tuple[str, ...]
    """A sentence for each log and each file of baselines that cannot be read."""


def at_home(folder: Path, today: date, *, told: "Told | None" = None) -> AtHome:
    """Everything in the data folder and what is due; never raises for a broken file.  Raises OSError for a folder.

    `told`: as in `survey`.
    """
    from coach.steps.stored import stored
    from coach.upkeep.beside import broken
    from coach.upkeep.log import MachineLog
    from coach.upkeep.visited import VISITED
    from coach.upkeep.words import due_words

    found = stored(folder, (VISITED,), told=told)
    rows = []
    for name in [machine.content.name for machine in found.machines if machine.content]:
        with contextlib.suppress(Unreadable):  # it is told with all that cannot be read
            if due := MachineLog.among(name, folder, found).due(today):
                rows.append(DueAt(name, due_words(due), len(due)))
    return AtHome(found, tuple(rows), broken(folder))


def row_words(due: DueAt, of: Iterable[DueAt]) -> str:
    """The row that says so; which machine, where there are several."""
    where = f" on {due.machine}" if len(tuple(of)) > 1 else ""
    return f"Due{where}: {due.words}"
