"""A stored machine's history, read from the data folder: every session's file, and the machine's log."""

from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from coach.errors import InputError, Unreadable
from coach.history.forecast import Forecast
from coach.history.kept import VISIT, visit_from
from coach.history.of_machine import History, of_visits
from coach.history.visits import Visit
from coach.session.index import asked
from coach.session.store import Store, visits_among
from coach.tuning import TUNING
from coach.upkeep.log import MachineLog

MOST_READ = 60
"""So many of the newest visits are replayed; those before are counted."""


@dataclass(frozen=True)
class Told:
    """The newest visits of a machine, files that tell of none with their problem, and how many visits are older."""

    visits: tuple[Visit, ...]
    problems: tuple[str, ...]
    older: int


def visits_of(store: Store, machine: str, most: int | None = None) -> Told:
    """The newest visits to that machine; one is replayed only if its file was written since it was asked last.

    `most`: so many of them, as many as a history has if it is not said.
    """
    most = MOST_READ if most is None else most
    found = store.summaries()
    paths = visits_among(found, machine).paths
    visits, problems = [], [each.problem for each in found if each.content is None]
    for each in asked(store.folder, paths[:most], (VISIT,)):
        read = visit_from(each.path.stem, each.content["visit"]) if each.content is not None else each.problem
        if isinstance(read, Visit):
            visits.append(read)
        else:
            problems.append(read)
    return Told(tuple(visits), tuple(problems), max(len(paths) - most, 0))


def stored_history(folder: Path, name: str, now: datetime) -> History:
    """The history of the machine of that name; a log that cannot be read is said, and counts for nothing.

    Raises InputError where there is neither such a machine nor a visit to one.
    """
    store = Store(folder)
    known = machine_called(store, name)
    told, problems = visits_of(store, known), []
    log: MachineLog | None = None
    try:
        log = MachineLog.open(known, folder, ())
    except Unreadable as error:
        problems.append(str(error))
    history = of_visits(known, told.visits, log, now, (*told.problems, *problems))
    return replace(history, older=told.older)


def machine_called(store: Store, name: str) -> str:
    """The name as the machine has it: a stored one, else one that only sessions know of.  Raises InputError."""
    try:
        return store.find_machine(name).name
    except (InputError, Unreadable):
        if any(each.content is not None and each.content.machine.name == name for each in store.summaries()):
            return name
        raise


def next_check(name: str, store: Store, now: datetime) -> Forecast | None:
    """When the drift of that machine asks for the next check-up, by its newest visits alone; None where nobody can
    tell."""
    return newest(name, store, now).forecast


def newest(name: str, store: Store, now: datetime) -> History:
    """What the newest visits to that machine say together: as many as a forecast goes by."""
    told = visits_of(store, name, TUNING.drifting.most)
    return of_visits(name, told.visits, None, now)  # a problem is told where the whole history is
