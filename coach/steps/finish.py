"""At the end of a job: what it taught of screws, and which parts cannot be moved, is kept with the machine."""

from pathlib import Path

from coach.errors import CoachError, InputError
from coach.machine import Machine
from coach.session.session import Session
from coach.session.store import Change, Store
from coach.steps.reach import cannot, cannot_words, with_refusals


def keep_learned(folder: Path, session: Session) -> str:
    """Keep what was learned about the mounts with the stored machine; returns the sentence to say.

    A profile that was changed since the session began is left alone: its owner knows better.
    """
    where = f"The session is in {session.path}."
    if session.practice is not None:
        return f"Practice finished; nothing was kept about any machine. {where}"
    taught = session.learned().mounts

    def with_lessons(stored: Machine) -> Machine:
        if _as_drawn(stored) != _as_drawn(session.machine):
            raise _Redrawn
        return with_refusals(stored.model_copy(update={"mounts": taught}), session)

    try:
        change = Store(folder).change_machine(session.machine.name, with_lessons)
    except InputError:
        return f"{where} The machine's profile is not in the data folder, so nothing was added to it."
    except _Redrawn:
        return f"{where} The machine's profile was changed since this session began, so nothing was added to it."
    except CoachError as error:
        return f"{where} What was learned about the machine could not be kept: {error}"
    return f"{where} {_kept_words(change, session)}"


class _Redrawn(Exception):
    """The profile is not the one that the session began with."""


def _kept_words(change: Change, session: Session) -> str:
    """What was kept that the stored profile did not say before."""
    if change.after == change.before:
        return "It taught nothing new about the screws."
    said = []
    if change.after.mounts != change.before.mounts:
        said.append(f"What it taught about the screws is kept in {change.path} for the next session.")
    news = tuple((part, way) for part, way in cannot(session) if change.before.reach(part, way) != 0)
    lens = change.after.lens != change.before.lens
    if news or lens:
        there = "there too" if said else f"in {change.path}"
        said.append(
            f"That {cannot_words(news, lens=lens)} is kept {there}; change the machine if that was only for today."
        )
    return " ".join(said)


def _as_drawn(machine: Machine) -> Machine:
    """The profile without what sessions taught: of its mounts, and of the parts that can be moved."""
    lens = machine.lens.model_copy(update={"reach": None}) if machine.lens is not None else None
    mounts = tuple(mount.model_copy(update={"learned": None}) for mount in machine.mounts)
    return machine.model_copy(update={"mounts": mounts, "moves": (), "lens": lens})
