"""What was learned about each mount: in words and figures, and how it is forgotten."""

from functools import partial

import numpy as np

from coach.advice.chance_words import percent
from coach.errors import InputError
from coach.machine import Machine, Mount
from coach.session.store import Change, Store

NOTHING = "Nothing is kept of this machine's mounts yet: what a session teaches is kept with it once it is closed."


def mount_lines(mount: Mount) -> tuple[str, ...]:
    """The likelier drive, and the beam's answer to one clockwise turn of each screw; nothing where none is known."""
    facts = mount.learned
    if facts is None:
        return ()
    way = "pushes" if facts.push >= 0.5 else "pulls"
    chance = percent(max(facts.push, 1 - facts.push))
    lines = [f"Mirror {mount.mirror}: a clockwise turn {way} the plate, with {chance} probability."]
    doubts = np.sqrt(np.diag(np.array(facts.cov)))
    per_screw = len(facts.mean) // len(mount.screws)
    beam, upwards = ("beam below it", "to the back") if mount.mirror == 3 else ("beam", "up")
    for index, screw in enumerate(mount.screws):
        right, other = facts.mean[per_screw * index : per_screw * index + 2]
        doubt = float(doubts[per_screw * index : per_screw * index + 2].max())
        answer = f"{beam} {right:+.1f} mrad to the right, {other:+.1f} mrad {upwards}, doubt {doubt:.1f} mrad"
        lines.append(f"  screw {screw.name}, one turn: {answer}")
    return tuple(lines)


def machine_lines(machine: Machine) -> tuple[str, ...]:
    """All that is kept of its mounts, and since when."""
    lines: list[str] = []
    for mount in machine.mounts:
        if mount.learned is not None:
            lines += [*mount_lines(mount), f"  Learned last on {mount.learned.on}."]
    return tuple(lines) or (NOTHING,)


def forget(store: Store, name: str, mirror: int) -> Change:
    """Drop what the stored machine keeps of that mirror's mount; it is guessed from the mount's drawing again.

    Raises UnknownName, InputError where nothing is kept of it, FileError.
    """
    return store.change_machine(name, partial(_without, mirror=mirror))


def _without(machine: Machine, mirror: int) -> Machine:
    if machine.mount(mirror).learned is None:
        raise InputError(f"Nothing is kept of mirror {mirror}'s mount", expected="a mirror of which something is")
    mounts = tuple(
        mount.model_copy(update={"learned": None}) if mount.mirror == mirror else mount for mount in machine.mounts
    )
    return machine.model_copy(update={"mounts": mounts})
