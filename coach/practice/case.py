"""What a row of the zoo is, and what it asks of whoever plays it."""

from collections.abc import Callable
from dataclasses import dataclass

from coach.machine import Machine
from coach.practice.bench import Travel
from coach.practice.owner import Onward


@dataclass(frozen=True)
class Aims:
    """What a case should reach: share that ends well, and median and 95 % of what it takes."""

    within: float
    rounds: tuple[float, float] | None
    pulses: tuple[float, float] | None
    off_tape: float | None
    """Pulses that leave the tape, per session."""
    cause: str = ""
    """The cause that must be named, for machines that no screw cures."""
    or_stop: bool = False
    """An honest stop counts as well."""
    or_leave: bool = False
    """So does a stop that leaves an offset that is truly harmless."""
    untouched: bool = False
    """Nothing may be turned or moved."""
    minutes: tuple[float, float] | None = None
    tube: float | None = None
    """Times that the tube is moved, per session."""
    false_loose: float | None = None
    """Share of sessions that name a loose part, and an odd station, where there is none."""


@dataclass(frozen=True)
class Case:
    """One row of the benchmark."""

    name: str
    kind: str
    machine: Callable[[int], Machine]
    aims: Aims
    sd: float | None = None
    """The doubt a careful reader states with every mark, mm."""
    second: bool = False
    """Judge the second session on a machine whose mounts were learned in a first one."""
    travel: Travel | None = None
    """What can really be moved, and how far; None: everything, as far as one likes."""
    slack: float = 0.0
    """mm beyond the tolerance that still count as within it."""
    onward: Onward = ""
    """What the owner answers to a stop."""
    scorch: float | None = None
    """Probability that an owner who looks finds what a stray pulse scorched; else they enter "nothing", and they
    repeat nothing unasked.  None: they always know, and repeat a first pulse that was too weak."""
