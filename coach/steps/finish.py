"""At the end of a job: what it taught of screws, and which parts cannot be moved, is kept with the machine."""

from pathlib import Path

from coach.errors import CoachError
from coach.machine import Machine
from coach.session.session import Session
from coach.session.store import Store
from coach.steps.reach import cannot, cannot_words, with_refusals


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
    taught = with_refusals(stored.model_copy(update={"mounts": session.learned().mounts}), session)
    if taught == stored:
        return f"{where} It taught nothing new about the screws."
    try:
        path = store.save_machine(taught, replace=True)
    except CoachError as error:
        return f"{where} What was learned about the machine could not be kept: {error}"
    return f"{where} {_kept_words(taught, stored, session, path)}"


def _kept_words(taught: Machine, stored: Machine, session: Session, path: Path) -> str:
    """What was kept that the stored profile did not say before."""
    said = []
    if taught.mounts != stored.mounts:
        said.append(f"What it taught about the screws is kept in {path} for the next session.")
    news = tuple((part, way) for part, way in cannot(session) if stored.reach(part, way) != 0)
    if news:
        there = "there too" if said else f"in {path}"
        said.append(f"That {cannot_words(news)} is kept {there}; change the machine if that was only for today.")
    return " ".join(said)


def _as_drawn(machine: Machine) -> Machine:
    """The profile without what sessions taught: of its mounts, and of the parts that can be moved."""
    mounts = tuple(mount.model_copy(update={"learned": None}) for mount in machine.mounts)
    return machine.model_copy(update={"mounts": mounts, "moves": ()})
