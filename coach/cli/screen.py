"""Opening the full-screen program; the only place on the shell side that imports it, and only when asked."""

import secrets
import sys
from argparse import Namespace

from coach.errors import InputError
from coach.paths import data_folder

SEEDS = 10_000


def start(arguments: Namespace) -> int:
    """`coach`: the full-screen program from its beginning."""
    _need_terminal()
    from coach.tui.app import run

    return run(data_folder(arguments.data), practice=None)


def practice(arguments: Namespace) -> int:
    """`coach practice`: the full-screen program on the demo machine with a practice bench."""
    _need_terminal()
    from coach.session.document import Practice
    from coach.tui.app import run

    seed = secrets.randbelow(SEEDS) if arguments.seed is None else arguments.seed
    return run(data_folder(arguments.data), practice=Practice(kind=arguments.kind, seed=seed))


def open_session(arguments: Namespace) -> int:
    """`coach open`: the full-screen program on a stored session, once its file proved readable."""
    from coach.session.document import read
    from coach.session.store import Store

    folder = data_folder(arguments.data)
    path = Store(folder).find_session(arguments.session)
    read(path)
    _need_terminal()
    from coach.tui.app import run

    return run(folder, session=path)


def _need_terminal() -> None:
    """Raises InputError where there is no screen to draw on."""
    if not (sys.__stdin__ and sys.__stdin__.isatty() and sys.__stdout__ and sys.__stdout__.isatty()):
        raise InputError(
            "The full-screen program needs a terminal, and input or output is not one",
            expected="one of the actions for scripts; coach --help lists them",
            example="coach advise last",
        )
