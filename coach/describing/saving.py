"""Keeping a described machine: a new file for a new machine, the same file for a changed one."""

import contextlib
import os
from pathlib import Path

from coach import files
from coach.describing.description import Description
from coach.describing.drafts import Draft, discard
from coach.describing.from_machine import describe
from coach.describing.profile import machine_of
from coach.errors import Unwritable
from coach.machine import Machine
from coach.session.belongings import taken_along
from coach.session.store import Store


def save(store: Store, draft: Draft) -> Path:
    """Write the machine and remove its draft; returns the machine's file.

    A new name moves a changed machine to a file of that name, and takes its log of upkeep and its baselines along.
    What others changed in the file since (lessons of a session, parts that cannot be moved) stays where the person
    said nothing else.  Sessions carry the machine as it was when they began and are not touched. Raises InputError
    where the name is taken or the answers make none, Unreadable and Unwritable.
    """
    old = draft.machine
    path = (
        store.save_machine(machine_of(draft.description)) if old is None else _changed(store, old, draft.description)
    )
    with contextlib.suppress(Unwritable):
        discard(draft)
    return path


def _changed(store: Store, old: Path, description: Description) -> Path:
    with files.locked(old):
        if old.exists():
            description = as_changed(description, Machine.load(old))
        machine, before = machine_of(description), description.before
        renamed = before is not None and machine.name != before.name
        if before is None or not renamed:
            machine.save(old)
            return old
        with taken_along(store.folder, before.name, machine.name):
            return _renamed(store, machine, old)


def _renamed(store: Store, machine: Machine, old: Path) -> Path:
    """Keep the profile under its new name, and only there."""
    if _same(store.machine_path(machine.name), old):
        machine.save(old)
        return old
    path = store.save_machine(machine)
    with contextlib.suppress(OSError):  # what matters is on disk; at worst the old profile stays beside it
        old.unlink()
    return path


def _same(one: Path, other: Path) -> bool:
    return os.path.realpath(one) == os.path.realpath(other)


def as_changed(description: Description, now: Machine) -> Description:
    """The person's answers where they changed something, and else what the profile says now."""
    before = description.before
    if before is None or before == now:
        return description
    was, stands, mine = describe(before).answers, describe(now).answers, description.answers
    answers = {key: (stands if mine.get(key) == was.get(key) else mine).get(key) for key in {**stands, **mine}}
    return Description({key: text for key, text in answers.items() if text is not None}, now)
