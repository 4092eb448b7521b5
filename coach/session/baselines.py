"""What a machine once cut, and its tube's usual current: kept with the machine, what later visits are compared with.

    DATA/baselines/shed-laser.toml
        schema = 2
        machine = "Shed laser"
        [[cuts]]            one for each sheet (material, thickness, batch) and power
        [[replaced]]        those that were one, until something was changed on purpose, with the reason
        [[currents]]        the tube's current at the usual setting, each time it was read

docs/session-format.md describes every key.
"""

import math
from pathlib import Path
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from coach import files
from coach.cutting.cuts import Cuts
from coach.errors import InputError
from coach.lifting import Migrations, read_lifted
from coach.machine import Name
from coach.session import belongings
from coach.session.moments import Day
from coach.session.session import Session
from coach.session.visit_events import Check, KeptCuts, Milliampere

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
    if not path.exists():
        return Baselines(machine=machine)
    table = read_lifted(path, "a file of baselines", SCHEMA, MIGRATIONS)
    return files.validate(Baselines, table, path)


def keep(folder: Path, baselines: Baselines, stamp: files.Stamp | None = None) -> Path:
    """Write them; with a `stamp` only while nobody else did since.  Raises Unwritable."""
    path = path_of(folder, baselines.machine)
    files.write_if_unchanged(path, _table(baselines), stamp)
    return path


def compare(session: Session, folder: Path) -> bool:
    """Take the machine's baselines into the session, where it has none yet; whether there were any.

    Raises Unreadable.
    """
    if session.practice is not None or any(
        event.kind == "baseline" and not event.marks for event in session.effective
    ):
        return False
    kept = load(folder, session.machine.name)
    for cuts in kept.cuts:
        session.baseline(cuts)
    if kept.usual_current is not None:
        session.usual_current(kept.usual_current)
    return bool(kept.cuts or kept.currents)


def not_good(session: Session) -> str:
    """Why the newest cut check is no baseline of a machine that is well; "" where it may be one."""
    if session.practice is not None:
        return "practice is no machine's"
    if session.advice().kind != "done":
        return "the beam's path is not done"
    if not session.cut_since_done():
        return "no whole check was cut since the machine was last touched"
    check = session.cuts()
    if half := _half_known(session):
        return half
    if check.beyond != "alike":
        return "it does not cut alike everywhere"
    found = [suspect.name for suspect in session.suspects() if suspect.state == "found"]
    return f"{found[0]} was found wrong, and not yet seen to be right" if found else ""


def _half_known(session: Session) -> str:
    """Where the newest check ended open; "" where it did nowhere."""
    limits = session.cuts().stations.items()
    half = [name for name, (low, high) in limits if low == 0 or math.isinf(high)]
    return f"between which speeds {half[0]} cuts through is not known" if half else ""


def replace_baseline(session: Session, folder: Path, why: str) -> Replaced:
    """The newest cut check takes the place of the baseline of its sheet, for a reason; the one that it replaces.

    Whether it is a good one is its owner's to say: a new tube or lens has its own.  The session is compared with it
    from then on.  Raises InputError where there is none to replace, Unreadable or Unwritable.
    """
    if session.practice is not None:
        raise InputError("Practice is no machine's", expected="a visit to a machine of your own")
    stamp = files.stamp(path_of(folder, session.machine.name))
    baselines, cuts = load(folder, session.machine.name), session.kept_cuts()
    if half := _half_known(session):
        raise InputError(f"This check is no baseline: {half}", expected="a fastest line and a next one everywhere")
    if baselines.cuts_like(cuts.cuts) is None:
        raise InputError("There is no baseline of this sheet to replace", expected="a first good one, kept by itself")
    if not why.strip() or len(why.strip()) > LONGEST_WHY:
        raise InputError("No reason was given", expected=f"at most {LONGEST_WHY} letters", example="new tube")
    baselines = baselines.replacing(cuts, why.strip())
    keep(folder, baselines, stamp)
    session.baseline(cuts)
    return baselines.replaced[-1]


def keep_first_good(session: Session, folder: Path) -> KeptCuts | None:
    """The newest cut check becomes the baseline of its sheet where it is good and none is kept yet; else None.

    The tube's current, where it was read in the same visit, is kept beside it.  Raises Unreadable or Unwritable.
    """
    if not_good(session):
        return None
    stamp = files.stamp(path_of(folder, session.machine.name))
    baselines, cuts = load(folder, session.machine.name), session.kept_cuts()
    if baselines.cuts_like(cuts.cuts) is not None:
        return None
    baselines = baselines.with_cuts(cuts)
    read = [e for e in session.effective if isinstance(e, Check) and e.name == "tube" and "current" in e.figures]
    if read:
        baselines = baselines.with_current(KeptCurrent(on=read[-1].at.date(), current=read[-1].figures["current"]))
    keep(folder, baselines, stamp)
    return cuts


def _table(baselines: Baselines) -> dict[str, Any]:
    full = baselines.model_dump(by_alias=True, exclude_none=True)
    lists = {key: list(full.pop(key)) for key in ("cuts", "replaced", "currents")}
    for cuts in (*lists["cuts"], *lists["replaced"]):
        cuts["stations"] = list(cuts["stations"])
    return full | {key: value for key, value in lists.items() if value}
