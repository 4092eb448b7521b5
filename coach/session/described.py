"""What is described of mirror 3, lens and nozzle during a session: it then holds for all of that session.

Nothing of it touches the beam before the head, so that whatever was marked and turned there counts as it did.
"""

from collections.abc import Iterable
from typing import Literal

from pydantic import Field

from coach.machine import Lens, Machine, Mount
from coach.session.happened import Happened

OF_THE_HEAD = ("mounts.3.", "lens.")
"""How names of guessed values begin that belong to it."""


class Described(Happened):
    """Mirror 3's mount, or that it is fixed, and the lens, as they stand from now on."""

    kind: Literal["described"] = "described"
    mount: Mount | None = None
    """None: not known, or mirror 3 is fixed."""
    mirror3: Literal["fixed"] | None = None
    lens: Lens | None = None
    guessed: tuple[str, ...] = Field(default=())
    """Which of these values nobody measured."""


def of_head(machine: Machine) -> dict[str, object]:
    """What a profile says of the head, as the fields of an entry."""
    return {
        "mount": next((mount for mount in machine.mounts if mount.mirror == 3), None),
        "mirror3": machine.mirror3,
        "lens": machine.lens,
        "guessed": tuple(name for name in machine.guessed if name.startswith(OF_THE_HEAD)),
    }


def with_head(machine: Machine, said: Described) -> Machine:
    """The profile with the head as it was described; all else as it is."""
    mounts = tuple(mount for mount in machine.mounts if mount.mirror != 3)
    others = tuple(name for name in machine.guessed if not name.startswith(OF_THE_HEAD))
    return machine.model_copy(
        update={
            "mounts": (*mounts, said.mount) if said.mount is not None else mounts,
            "mirror3": said.mirror3,
            "lens": said.lens,
            "guessed": (*others, *said.guessed),
        }
    )


def as_described(machine: Machine, events: Iterable[Happened]) -> Machine:
    """The profile that a session began with, with what was described last."""
    said = [event for event in events if isinstance(event, Described)]
    return with_head(machine, said[-1]) if said else machine
