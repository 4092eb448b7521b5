"""Keeping a described machine: a new file for a new machine, the same file for a changed one."""

import contextlib
from pathlib import Path

from coach.describing.drafts import Draft, discard
from coach.describing.profile import machine_of
from coach.errors import Unwritable
from coach.session.store import Store


def save(store: Store, draft: Draft) -> Path:
    """Write the machine and remove its draft; returns the machine's file.

    A new name moves a changed machine to a file of that name.  Sessions carry the machine as it was when they began
    and are not touched.  Raises InputError where the name is taken or the answers make no machine, Unwritable.
    """
    machine = machine_of(draft.description)
    old = draft.machine
    before = draft.description.before
    renamed = before is not None and machine.name != before.name
    if old is None:
        path = store.save_machine(machine)
    elif not renamed or store.machine_path(machine.name).resolve() == old.resolve():
        machine.save(old)
        path = old
    else:
        path = store.save_machine(machine)
        with contextlib.suppress(OSError):  # what matters is on disk; at worst the old profile stays beside it
            old.unlink()
    with contextlib.suppress(Unwritable):
        discard(draft)
    return path
