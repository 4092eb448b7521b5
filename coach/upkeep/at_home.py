"""What upkeep is due on the machines of a data folder, for the first screen and the first lines."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from coach.errors import Unreadable

if TYPE_CHECKING:
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


def due_at_home(folder: Path, found: "Stored", today: date) -> tuple[tuple[DueAt, ...], tuple[str, ...]]:
    """What is due on each machine where something is, and a sentence for each log that cannot be read."""
    from coach.upkeep.log import MachineLog
    from coach.upkeep.words import due_words

    names = [machine.content.name for machine in found.machines if machine.content]
    sessions = [session.content for session in found.sessions if session.content]
    rows, problems = [], []
    for name in names:
        try:
            due = MachineLog.open(name, folder, sessions).due(today)
        except Unreadable as error:
            problems.append(str(error))
            continue
        if due:
            rows.append(DueAt(name, due_words(due), len(due)))
    return tuple(rows), tuple(problems)


def row_words(due: DueAt, of: Iterable[DueAt]) -> str:
    """The row that says so; which machine, where there are several."""
    where = f" on {due.machine}" if len(tuple(of)) > 1 else ""
    return f"Due{where}: {due.words}"
