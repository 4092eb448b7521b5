"""A stored machine's history, read from the data folder: every session's file, and the machine's log."""

from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from itertools import islice
from pathlib import Path

from coach.errors import CoachError, InputError, Unreadable
from coach.history.forecast import Forecast
from coach.history.of_machine import MOST_READ, History, Stored, history_of, of_visits
from coach.history.visits import visit_of
from coach.session.store import Store, visits_among
from coach.tuning import TUNING, Tuning
from coach.upkeep.log import MachineLog


def visits_of(store: Store, machine: str) -> tuple[tuple[Stored, ...], int]:
    """The newest sessions on that machine, files that cannot be read with their problem; and how many are older."""
    found = store.summaries()
    broken = tuple(Stored(each.path.stem, None, each.problem) for each in found if each.content is None)
    visits = visits_among(found, machine)
    newest = tuple(Stored(path.stem, document) for path, document in islice(visits.read(), MOST_READ))
    return (*newest, *broken), max(len(visits.paths) - MOST_READ, 0)


def stored_history(folder: Path, name: str, now: datetime) -> History:
    """The history of the machine of that name; a log that cannot be read is said, and counts for nothing.

    Raises InputError where there is neither such a machine nor a visit to one.
    """
    store = Store(folder)
    known = machine_called(store, name)
    stored, older = visits_of(store, known)
    problems: list[str] = []
    log: MachineLog | None = None
    try:
        log = MachineLog.open(known, folder, ())
    except Unreadable as error:
        problems.append(str(error))
    told = (*stored, *(Stored("", None, problem) for problem in problems))
    return replace(history_of(known, told, log, now), older=older)


def machine_called(store: Store, name: str) -> str:
    """The name as the machine has it: a stored one, else one that only sessions know of.  Raises InputError."""
    try:
        return store.find_machine(name).name
    except (InputError, Unreadable):
        if any(each.content is not None and each.content.machine.name == name for each in store.summaries()):
            return name
        raise


def next_check(name: str, store: Store, now: datetime, tuning: Tuning = TUNING) -> Forecast | None:
    """When the drift of that machine asks for the next check-up, by its newest visits alone; None where nobody can
    tell."""
    newest = islice(store.visits(name), tuning.drifting.most)
    visits = []
    for document in newest:
        with suppress(CoachError):  # it is told where the whole history is
            visits.append(visit_of(document.title, document, tuning, cuts=False))
    return of_visits(name, visits, None, now).forecast
