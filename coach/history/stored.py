"""A stored machine's history, read from the data folder: every session's file, and the machine's log."""

from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from coach.errors import CoachError, InputError, Unreadable
from coach.history.forecast import Forecast
from coach.history.of_machine import History, Stored, history_of, of_visits
from coach.history.visits import visit_of
from coach.session.document import Document
from coach.session.store import Store
from coach.tuning import TUNING, Tuning
from coach.upkeep.log import MachineLog


def visits_of(store: Store) -> tuple[Stored, ...]:
    """Every session file, of whatever machine; those that cannot be read with their problem."""
    return tuple(Stored(found.path.stem, found.content, found.problem) for found in store.sessions())


def stored_history(folder: Path, name: str, now: datetime) -> History:
    """The history of the machine of that name; a log that cannot be read is said, and counts for nothing.

    Raises InputError where there is neither such a machine nor a visit to one.
    """
    store = Store(folder)
    stored = visits_of(store)
    known = machine_called(store, name, stored)
    problems: list[str] = []
    log: MachineLog | None = None
    try:
        log = MachineLog.open(known, folder, ())
    except Unreadable as error:
        problems.append(str(error))
    told = (*stored, *(Stored("", None, problem) for problem in problems))
    return history_of(known, told, log, now)


def machine_called(store: Store, name: str, stored: Iterable[Stored] | None = None) -> str:
    """The name as the machine has it: a stored one, else one that only sessions know of.  Raises InputError."""
    try:
        return store.find_machine(name).name
    except (InputError, Unreadable):
        sessions = visits_of(store) if stored is None else stored
        if any(each.document is not None and each.document.machine.name == name for each in sessions):
            return name
        raise


def next_check(name: str, documents: Iterable[Document], now: datetime, tuning: Tuning = TUNING) -> Forecast | None:
    """When the drift of that machine asks for the next check-up, by its newest visits alone; None where nobody can
    tell."""
    mine = [each for each in documents if each.machine.name == name and each.practice is None]
    newest = sorted(mine, key=lambda each: each.created)[-tuning.drifting.most :]
    visits = []
    for document in newest:
        with suppress(CoachError):  # it is told where the whole history is
            visits.append(visit_of(document.title, document, tuning, cuts=False))
    return of_visits(name, visits, None, now).forecast
