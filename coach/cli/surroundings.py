"""`surroundings`: terminal, folders, versions and files that the coach finds around it, and what is wrong with them.

With --json, one object: `good`; `versions` {coach, python, system, and each library}; `terminal` {input, output,
kind, columns, rows, colours, encoding}; `folder` {path, there, writable, locks, problem}, `locks` null where nothing
is; `counts` {machines, sessions, logs, baselines, drafts}; `index` {state, read}: how the index of sessions was
found, and how many files had to be read; `broken`: a sentence for each file that cannot be used.  Exit status 2 where
something is wrong.  Where there can be no folder, its `path` is null, and `counts` and `state` are empty.
"""

import os
import platform
import shutil
import sys
import tempfile
from argparse import Namespace
from collections.abc import Iterator
from contextlib import suppress
from difflib import get_close_matches
from importlib import metadata
from pathlib import Path
from typing import Any

from coach import __version__
from coach.cli.folder import store_of
from coach.cli.out import say, say_json
from coach.errors import CoachError
from coach.paths import not_to_be_made

WRONG = 2
LIBRARIES = ("textual", "rich", "numpy", "pydantic", "filelock", "jinja2", "tomli-w", "platformdirs")
NOWHERE = {"path": None, "there": False, "writable": False, "locks": None}
NOTHING: dict[str, Any] = {"counts": {}, "index": {"state": "", "read": 0}, "broken": []}
"""The folder, and what is found in it, where there can be none."""
SMALL = (80, 24)
"""Columns and rows below which screens show less at once."""


def surroundings(arguments: Namespace) -> int:
    """Look at everything, change nothing that a person would miss; 2 where something is wrong."""
    try:
        folder = store_of(arguments).folder
    except CoachError as error:
        place, found = NOWHERE | {"problem": str(error)}, NOTHING
    else:
        place, found = _place(folder, named=arguments.data is not None), _files(folder)
    told = {
        "good": not (place["problem"] or found["broken"]),
        "versions": _versions(),
        "terminal": _terminal(),
        "folder": place,
        **found,
    }
    if arguments.json:
        say_json(told)
    else:
        say("\n".join(_lines(told)))
    return 0 if told["good"] else WRONG


def _versions() -> dict[str, str]:
    versions = {"coach": __version__, "python": platform.python_version(), "system": platform.platform(terse=True)}
    for name in LIBRARIES:
        with suppress(metadata.PackageNotFoundError):
            versions[name] = metadata.version(name)
    return versions


def _terminal() -> dict[str, Any]:
    size = shutil.get_terminal_size()
    return {
        "input": bool(sys.__stdin__ and sys.__stdin__.isatty()),
        "output": bool(sys.__stdout__ and sys.__stdout__.isatty()),
        "kind": os.environ.get("TERM") or None,
        "columns": size.columns,
        "rows": size.lines,
        "colours": _colours(),
        "encoding": getattr(sys.stdout, "encoding", None),
    }


def _colours() -> str:
    """As the terminal says of itself; NO_COLOR (no-color.org) asks for none."""
    kind = os.environ.get("TERM", "")
    if os.environ.get("NO_COLOR"):
        return "none, as NO_COLOR asks"
    if os.environ.get("COLORTERM", "").lower() in ("truecolor", "24bit"):
        return "all"
    if "256" in kind:
        return "256"
    return "none" if kind in ("", "dumb") else "16"


def _place(folder: Path, *, named: bool) -> dict[str, Any]:
    """The data folder: whether it can be written to, and whether its file system keeps two programs apart.

    `named`: somebody asked for this one, so that one which does not exist is likelier misspelt than new.
    """
    there, problem, locks = folder.is_dir(), "", None
    try:
        if there:
            with tempfile.TemporaryFile(dir=folder):
                pass
            locks = _locks(folder)
        else:
            missing = not_to_be_made(folder)
            problem = f"{missing}, and the folder is not there yet" if missing else _misspelt(folder) if named else ""
    except OSError as error:
        problem = f"it cannot be written to ({error.strerror or error})"
    return {"path": str(folder), "there": there, "writable": not problem, "locks": locks, "problem": problem or None}


def _misspelt(folder: Path) -> str:
    """That a folder which was asked for does not exist while others are called nearly so; "" where none is."""
    beside: list[str] = []
    with suppress(OSError):
        beside = [each.name for each in folder.absolute().parent.iterdir() if each.is_dir()]
    near = [str(folder.parent / name) for name in get_close_matches(folder.name, beside)]
    if not near:
        return ""
    meant = " or ".join(near)
    return f"it does not exist: is {meant} meant? Nothing is read from it; the first thing that is kept would make it"


def _locks(folder: Path) -> bool:
    """Whether a file can be locked there; where another program holds it just now it can."""
    from filelock import FileLock, Timeout

    from coach.files import LOCK

    try:
        with FileLock(folder / LOCK, timeout=0.2):
            return True
    except Timeout:
        return True
    except (OSError, NotImplementedError):
        return False


def _files(folder: Path) -> dict[str, Any]:
    from coach import settings
    from coach.describing.drafts import drafts
    from coach.steps.stored import stored
    from coach.upkeep.beside import looked_at
    from coach.upkeep.visited import VISITED

    found, (begun, half) = stored(folder, (VISITED,)), drafts(folder)
    logs, kept = list(looked_at(folder, "upkeep")), list(looked_at(folder, "baselines"))
    broken = [*found.problems, *half, *(words for words in (*logs, *kept) if words), *settings.load(folder).problems]
    counts = {
        "machines": len(found.machines),
        "sessions": len(found.sessions),
        "logs": logs.count(""),
        "baselines": kept.count(""),
        "drafts": len(begun),
    }
    return {"counts": counts, "index": {"state": found.index, "read": found.read}, "broken": broken}


def _lines(told: dict[str, Any]) -> Iterator[str]:
    versions, terminal, place, counts = told["versions"], told["terminal"], told["folder"], told["counts"]
    libraries = ", ".join(f"{name} {versions[name]}" for name in LIBRARIES if name in versions)
    yield f"Coach {versions['coach']}, Python {versions['python']}, {versions['system']}"
    yield f"Libraries: {libraries}"
    yield f"Terminal: {_terminal_words(terminal)}"
    yield f"Data folder: {place['path'] + ', ' if place['path'] else ''}{_place_words(place)}"
    if counts:
        yield "Files: " + ", ".join(f"{name} {count}" for name, count in counts.items())
        yield f"Index of sessions: {told['index']['state']}; files read for this: {told['index']['read']}"
    for problem in told["broken"]:
        yield f"BROKEN {problem}"
    well = "All is well." if place["there"] else "All is well, but the data folder does not exist yet."
    yield well if told["good"] else "Something is wrong: see above. Nothing was changed."


def _terminal_words(terminal: dict[str, Any]) -> str:
    if not (terminal["input"] and terminal["output"]):
        return f"none here, so plain lines (--plain) and actions alone; encoding {terminal['encoding']}"
    columns, rows = terminal["columns"], terminal["rows"]
    small = f" (from {SMALL[0]}x{SMALL[1]} on screens show all)" if columns < SMALL[0] or rows < SMALL[1] else ""
    size = f"{columns}x{rows}{small}"
    return f"{terminal['kind'] or 'unknown'}, {size}, colours {terminal['colours']}, encoding {terminal['encoding']}"


def _place_words(place: dict[str, Any]) -> str:
    if place["problem"]:
        if not place["there"] and place["path"]:
            return str(place["problem"])
        return f"BROKEN {place['problem']}"
    if not place["there"]:
        return "it is not there yet: nothing is read from it; the first thing that is kept makes it"
    if place["locks"]:
        return "can be written to, and keeps two programs apart"
    return "can be written to; its file system knows no locks: one program at a time"
