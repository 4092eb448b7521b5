"""What a machine once cut, and its tube's usual current: kept with the machine, what later visits are compared with.

    DATA/baselines/shed-laser.toml
        schema = 2
        machine = "Shed laser"
        [[cuts]]            one for each sheet (material, thickness, batch) and power
        [[replaced]]        those that were one, until something was changed on purpose, with the reason
        [[currents]]        the tube's current at the usual setting, each time it was read

docs/session-format.md describes every key.
"""

from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from coach import files
from coach.cutting.cuts import Cuts
from coach.lifting import Migrations, read_lifted
from coach.machine import Name
from coach.session import belongings
from coach.session.belongings import BELONGINGS
from coach.session.moments import Day
from coach.session.visit_events import KeptCuts, Milliampere

SCHEMA = 2
MIGRATIONS: Migrations = {1: lambda table: {**table, "schema": 2}}
LONGEST_WHY = 300
"""Characters of a reason."""


class KeptCurrent(BaseModel):
    """One reading of the panel at the usual setting."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    on: Day
    current: Milliampere
    """mA."""


class Replaced(KeptCuts):
    """Cuts that were a baseline until another took their place on purpose."""

    until: Day
    why: Annotated[str, Field(min_length=1, max_length=LONGEST_WHY)]
    """What was changed, in its owner's words."""


class Baselines(BaseModel):
    """Everything that one machine is compared with."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    schema_: Annotated[int, Field(alias="schema")] = SCHEMA
    machine: Name
    cuts: tuple[KeptCuts, ...] = ()
    replaced: tuple[Replaced, ...] = ()
    """In the order in which they were replaced."""
    currents: tuple[KeptCurrent, ...] = ()

    def cuts_like(self, now: Cuts) -> KeptCuts | None:
        """The baseline of the same sheet and power; None where there is none."""
        return next((kept for kept in self.cuts if not now.not_compared(kept.cuts)), None)

    @property
    def usual_current(self) -> float | None:
        """mA, as it was read first: what it is compared with; None where nobody read it."""
        return min(self.currents, key=lambda kept: kept.on).current if self.currents else None

    def with_cuts(self, cuts: KeptCuts) -> "Baselines":
        """With these as the baseline of their sheet and power, in place of an older one."""
        others = tuple(kept for kept in self.cuts if cuts.cuts.not_compared(kept.cuts))
        return self.model_copy(update={"cuts": (*others, cuts)})

    def replacing(self, cuts: KeptCuts, why: str) -> "Baselines":
        """With these in place of the one of their sheet and power, which stays in the record with the reason."""
        old = tuple(kept for kept in self.cuts if not cuts.cuts.not_compared(kept.cuts))
        kept = tuple(Replaced(**each.model_dump(), until=cuts.on, why=why) for each in old)
        return self.with_cuts(cuts).model_copy(update={"replaced": (*self.replaced, *kept)})

    def with_current(self, current: KeptCurrent) -> "Baselines":
        """With one more reading of the panel."""
        return self.model_copy(update={"currents": (*self.currents, current)})


def path_of(folder: Path, machine: str) -> Path:
    """Where that machine's baselines are, or would be, kept."""
    return belongings.path_of(folder, "baselines", machine)


def load(folder: Path, machine: str) -> Baselines:
    """That machine's baselines; none where nothing was kept yet.  Raises Unreadable; never changes the file."""
    path = path_of(folder, machine)
    return read(path) if path.exists() else Baselines(machine=machine)


def read(path: Path) -> Baselines:
    """The baselines in a file, lifted to today's schema.  Raises Unreadable; never changes the file."""
    return files.validate(Baselines, read_lifted(path, BELONGINGS["baselines"], SCHEMA, MIGRATIONS), path)


def keep(folder: Path, baselines: Baselines, stamp: files.Stamp | None = None) -> Path:
    """Write them; with a `stamp` only while nobody else did since.  Raises Unwritable."""
    path = path_of(folder, baselines.machine)
    files.write_if_unchanged(path, _table(baselines), stamp)
    return path


def _table(baselines: Baselines) -> dict[str, Any]:
    full = baselines.model_dump(by_alias=True, exclude_none=True)
    lists = {key: list(full.pop(key)) for key in ("cuts", "replaced", "currents")}
    for cuts in (*lists["cuts"], *lists["replaced"]):
        cuts["stations"] = list(cuts["stations"])
    return full | {key: value for key, value in lists.items() if value}
