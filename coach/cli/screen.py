"""Opening the program, full screen or in plain lines.

The only place on the shell side that imports the full screen, and only when asked.
"""

import gc
import os
import sys
from argparse import Namespace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coach.errors import InputError
from coach.paths import data_folder, folder_to_begin_in

if TYPE_CHECKING:
    from coach.session.document import Practice

SEEDS = 10_000
NO_SCREENS = ("", "dumb", "unknown")
"""Kinds of terminal that know no cursor (terminfo, ncurses' terminfo.src: "dumb", "unknown"), or no kind at all."""


def start(arguments: Namespace) -> int:
    """`coach`: the full-screen program from its beginning."""
    folder, plain = folder_to_begin_in(arguments.data), _in_lines(arguments)
    if plain:
        from coach.cli.plain import open_plain

        return open_plain(arguments)
    _need_terminal()
    return _run(folder)


def practice(arguments: Namespace) -> int:
    """`coach practice`: the full-screen program, or lines, on the demo machine with a practice bench."""
    folder, plain = folder_to_begin_in(arguments.data), _in_lines(arguments)
    if plain:
        from coach.cli.plain import open_plain

        return open_plain(arguments, practice=_bench(arguments))
    _need_terminal()
    return _run(folder, practice=partial(_bench, arguments))


def _bench(arguments: Namespace) -> "Practice":
    """The practice bench that is meant; it needs models, so it is made when those are loaded."""
    import secrets

    from coach.practice.visit_kinds import visit_kind
    from coach.session.document import Practice

    seed = secrets.randbelow(SEEDS) if arguments.seed is None else arguments.seed
    return Practice(kind=arguments.kind if arguments.visit is None else visit_kind(arguments.visit), seed=seed)


def open_session(arguments: Namespace) -> int:
    """`coach open`: the full-screen program on a stored session."""
    from coach.session.store import Store

    folder = data_folder(arguments.data)
    path = Store(folder).find_session(arguments.session)
    if _in_lines(arguments):
        from coach.cli.plain import open_plain

        return open_plain(arguments, session=path)
    _need_terminal()
    return _run(folder, session=path)


def _run(folder: Path, **first: Any) -> int:
    """Open the screens on that folder; `first` is what `coach.tui.app.run` takes beside it."""
    gc.disable()  # nothing of what is loaded now is garbage; it is looked for again once the first picture stands
    try:
        from coach.tui.app import run

        return run(folder, **first)
    except OSError as error:  # it is no answer that could not be written, whatever it is
        if error.filename is not None:
            raise
        from coach.cli.crash import OwnMistake

        raise OwnMistake(error) from error
    finally:
        gc.enable()


def _in_lines(arguments: Namespace) -> bool:
    """Whether the plain mode is asked for.  Raises InputError for answers without it."""
    if arguments.answers is not None and not arguments.plain:
        raise InputError("--answers gives the answers of the plain mode", expected="--plain beside it")
    return bool(arguments.plain)


def _need_terminal() -> None:
    """Raises InputError where there is no screen to draw on."""
    if not (sys.__stdin__ and sys.__stdin__.isatty() and sys.__stdout__ and sys.__stdout__.isatty()):
        raise InputError(
            "The full-screen program needs a terminal, and input or output is not one",
            expected="--plain for the same job in lines, or an action for scripts; coach --help lists them",
            example="coach --plain",
        )
    kind = os.environ.get("TERM", "")
    if kind in NO_SCREENS and (kind or os.name != "nt"):  # Windows names no kinds
        raise InputError(
            f"This terminal calls itself {kind}: it shows lines and no screens"
            if kind
            else "This terminal does not say what it can show (TERM is not set)",
            expected="--plain for the same job in lines, or another terminal",
            example="coach --plain",
        )
