"""The person's folder, and a machine in it: no session is read for these, and nothing that reckons is loaded."""

from argparse import Namespace
from pathlib import Path

from coach.errors import Unreadable
from coach.machine import Machine
from coach.paths import data_folder
from coach.session.index import Facet
from coach.session.store import Store


def store_of(arguments: Namespace) -> Store:
    """The person's folder, which need not exist yet.  Raises Unreadable where something else stands there."""
    folder = data_folder(arguments.data)
    if folder.exists() and not folder.is_dir():
        raise Unreadable(folder, "this is not a folder")
    return Store(folder, _also_asked)


def _also_asked() -> tuple[Facet, ...]:
    """What the first screen wants to know of each session too."""
    from coach.upkeep.visited import VISITED  # only where a session's file has to be read for a list

    return (VISITED,)


def machine_of(store: Store, named: str) -> Machine:
    """The machine of that name in the store, or in the file of that path.  Raises InputError, Unreadable."""
    given = Path(named)
    return Machine.load(given) if given.is_file() else store.find_machine(named)
