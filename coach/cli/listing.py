"""`list`: all machines and sessions, newest sessions first, broken files with line and reason.

With words, only the sessions of which all are true (`coach.session.search`), and no machines.

With --json, one object: `folder`; `machines`, each {name, path, width, depth, side, zero,
moves: [{part, and up, right, back in mm where known}], mirror3: "fixed" or how many screws, null where nobody knows,
lens: as in its profile, null likewise}; `sessions`, each {name,
path, title, created, machine, entries, marks, practice}; both also with `problem` and `line`, null where the
file is good; `broken_beside`, a sentence for each file of baselines and each log of upkeep that cannot be read.
`name` of a session is what other actions take for SESSION; of a broken file it is the file's.
"""

from argparse import Namespace
from typing import Any

from coach.cli.folder import store_of
from coach.cli.out import say, say_json
from coach.describing.words import head_words, moves_words
from coach.machine import Machine
from coach.session.found import Found
from coach.session.search import found_by
from coach.session.summary import Summary
from coach.shown import IN_MM
from coach.steps.stored import practice_words
from coach.upkeep.beside import broken


def list_all(arguments: Namespace) -> int:
    """List the data folder; broken files are listed too and are no failure."""
    store = store_of(arguments)
    words = " ".join(arguments.words)
    machines, sessions = [] if words.strip() else store.machines(), found_by(words, store.summaries())
    beside = () if words.strip() else broken(store.folder)
    if arguments.json:
        say_json(
            {
                "folder": str(store.folder),
                "machines": [_machine_json(found) for found in machines],
                "sessions": [_session_json(found) for found in sessions],
                "broken_beside": list(beside),
            }
        )
        return 0
    say(f"Data folder: {store.folder}")
    if words.strip():
        return _say_found(sessions)
    say("Machines:" if machines else "Machines: none yet; coach new-machine describes one")
    for machine in machines:
        say(f"  {_machine_line(machine)}")
    say("Sessions, newest first:" if sessions else "Sessions: none yet; coach new-session begins one")
    for session in sessions:
        say(f"  {_session_line(session)}")
    if beside:
        say("Beside the machines:")
    for problem in beside:
        say(f"  BROKEN {problem}")
    return 0


def _say_found(sessions: list[Found[Summary]]) -> int:
    say(f"Sessions like that: {len(sessions)}{', newest first:' if sessions else ''}")
    for session in sessions:
        say(f"  {_session_line(session)}")
    return 0


def _machine_line(found: Found[Machine]) -> str:
    machine = found.content
    if machine is None:
        return f"BROKEN {found.problem}"
    size = f"{IN_MM.length(machine.bed.width)} × {IN_MM.length(machine.bed.depth)}"
    about = (moves_words(machine.moves, IN_MM) if machine.moves else "", head_words(machine, IN_MM))
    known = "".join(f"; {words}" for words in about if words)
    return f"{machine.name}: {size}, mirrors 1 and 2 on the {machine.path.side}{known} ({found.path.name})"


def _session_line(found: Found[Summary]) -> str:
    session = found.content
    if session is None:
        return f"BROKEN {found.problem}"
    practice = f", {practice_words(session)}" if session.practice else ""
    marks = f"{session.marks} mark{'' if session.marks == 1 else 's'}"
    return (
        f"{found.path.stem}: {session.title}, begun {session.created:%Y-%m-%d %H:%M}, "
        f"machine {session.machine.name}, {marks}{practice}"
    )


def _machine_json(found: Found[Machine]) -> dict[str, Any]:
    machine = found.content
    return {
        "name": machine.name if machine else found.path.stem,
        "path": str(found.path),
        "width": machine.bed.width if machine else None,
        "depth": machine.bed.depth if machine else None,
        "side": machine.path.side if machine else None,
        "zero": machine.zero if machine else None,
        "moves": [move.model_dump(exclude_none=True) for move in machine.moves] if machine else None,
        "mirror3": _mirror3(machine) if machine else None,
        "lens": machine.lens.model_dump(exclude_none=True) if machine and machine.lens else None,
        "problem": found.problem or None,
        "line": found.line,
    }


def _mirror3(machine: Machine) -> str | int | None:
    return machine.mirror3 or next((len(mount.screws) for mount in machine.mounts if mount.mirror == 3), None)


def _session_json(found: Found[Summary]) -> dict[str, Any]:
    session = found.content
    return {
        "name": found.path.stem,
        "path": str(found.path),
        "title": session.title if session else None,
        "created": session.created.isoformat() if session else None,
        "machine": session.machine.name if session else None,
        "entries": session.entries if session else None,
        "marks": session.marks if session else None,
        "practice": session.practice.model_dump() if session and session.practice else None,
        "problem": found.problem or None,
        "line": found.line,
    }
