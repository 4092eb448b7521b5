"""The head described in the middle of a session, when its part comes: only its questions, and a draft of its own.

    DATA/drafts/head/shed-laser-2026-03-01.toml        of the session in sessions/shed-laser-2026-03-01.toml

What comes of it is told to the session (`Session.described`) and to the stored machine (`keep_described`).
"""

from dataclasses import replace
from pathlib import Path

from coach.describing.description import Description
from coach.describing.drafts import Draft, folder_of, read
from coach.describing.from_machine import describe
from coach.describing.head_answers import NOW, TURNS
from coach.describing.moving import YES
from coach.describing.questions import questions
from coach.errors import CoachError
from coach.machine import Machine
from coach.session.described import Described, of_head, with_head
from coach.session.session import Session
from coach.session.store import Store


def head_known(machine: Machine) -> bool:
    """Whether the profile says what mirror 3 can do: its screws, or that it is fixed."""
    return machine.mirror3 is not None or any(mount.mirror == 3 for mount in machine.mounts)


def begin_head(data: Path, session: Session) -> Draft:
    """The draft about this session's head: as it was left, or what its machine says; one that is broken is let be."""
    stem = session.path.stem if session.path is not None else "session"
    start = describe(session.machine).answered(NOW, YES)
    number = 1
    while True:
        path = folder_of(data) / "head" / f"{stem}{'' if number == 1 else f'-{number}'}.toml"
        if not path.exists():
            return Draft(path, _about_head(start), at=TURNS)
        try:
            return _gone_on_with(read(path), session.machine)
        except CoachError:
            number += 1


def _gone_on_with(left: Draft, before: Machine) -> Draft:
    """As it was left; where the question is none any more, from the first."""
    description = _about_head(Description(left.description.answers, before))
    known = any(question.key == left.at for question in questions(description))
    return replace(left, description=description, at=left.at if known else TURNS, entry=left.entry if known else "")


def _about_head(description: Description) -> Description:
    return replace(description, head_alone=True)


def keep_described(folder: Path, session: Session) -> str:
    """What this session was told of the head, written into the stored machine too; returns the sentence to say.

    A stored machine whose head was described otherwise since the session began is left alone: its owner knows better.
    """
    said = [event for event in session.effective if isinstance(event, Described)]
    began, name = session.began_with, session.machine.name
    before = [began, *(with_head(began, event) for event in said[:-1])]

    def with_it(stored: Machine) -> Machine:
        if not any(_drawn(stored) == _drawn(known) for known in before):
            raise _Otherwise
        return with_head(stored, said[-1])

    if not said:
        return ""
    try:
        change = Store(folder).change_machine(name, with_it)
    except _Otherwise:
        return "Described for this session; the machine's profile says otherwise of the head and was left as it is."
    except CoachError as error:
        return f"Described for this session; the machine's profile was left as it is: {error}"
    return f"Described for this session, and kept with the machine in {change.path}."


def _drawn(machine: Machine) -> dict[str, object]:
    """What the profile says of the head, without what sessions taught."""
    said = of_head(machine)
    mount = next((mount for mount in machine.mounts if mount.mirror == 3), None)
    return said | {"mount": mount.model_copy(update={"learned": None}) if mount is not None else None}


class _Otherwise(Exception):
    """The stored machine's head is not the one that the session began with."""
