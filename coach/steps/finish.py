"""At the end of a job: what the session taught is kept with the machine."""

from pathlib import Path

from coach.errors import CoachError
from coach.machine import Machine
from coach.session.session import Session
from coach.session.store import Store


def keep_learned(folder: Path, session: Session) -> str:
    """Keep what was learned about the mounts with the stored machine; returns the sentence to say.

    A profile that was changed since the session began is left alone: its owner knows better.
    """
    where = f"The session is in {session.path}."
    if session.practice is not None:
        return f"Practice finished; nothing was kept about any machine. {where}"
    store = Store(folder)
    try:
        stored = store.find_machine(session.machine.name)
    except CoachError:
        return f"{where} The machine's profile is not in the data folder, so nothing was added to it."
    if _as_drawn(stored) != _as_drawn(session.machine):
        return f"{where} The machine's profile was changed since this session began, so nothing was added to it."
    learned = session.learned()
    if learned == stored:
        return f"{where} It taught nothing new about the screws."
    try:
        path = store.save_machine(learned, replace=True)
    except CoachError as error:
        return f"{where} What was learned about the mounts could not be kept: {error}"
    return f"{where} What it taught about the screws is kept in {path} for the next session."


def _as_drawn(machine: Machine) -> Machine:
    """The profile without what sessions taught."""
    return machine.model_copy(
        update={"mounts": tuple(m.model_copy(update={"learned": None}) for m in machine.mounts)}
    )
