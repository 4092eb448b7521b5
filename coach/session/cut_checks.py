"""The cuts of a session as cut checks: which belong together, and what each is compared with.

A further check begins where a sheet is laid in, or somebody says so; where the machine was touched since (turned,
moved, cleaned, marked); and where a station comes again after a check with covers shut.  A station that comes again
without any of these was cut once more: the later one counts.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from coach.cutting.check import Cuts
from coach.cutting.limits import Limit
from coach.cutting.sheet import Sheet, checked_sheet, told_apart
from coach.errors import InputError
from coach.machine import Machine
from coach.session.events import (
    Best,
    Disturbed,
    Event,
    Lock,
    Mark,
    Mended,
    Miss,
    Pulse,
    Shift,
    Turn,
)
from coach.session.head_events import BedMark, NozzleMark
from coach.session.visit_events import Baseline, Care, Check, Cut, KeptCuts, SheetLaid
from coach.triage.bed import gaps_at

TOUCHED = (Turn, Shift, Lock, Care, Disturbed, Mended, Best, Mark, Miss, Pulse, BedMark, NozzleMark)
"""What is done between two cut checks, one before and one after."""


@dataclass
class CutRun:
    """One cut check under way."""

    sheet: Sheet
    power: float | None
    first: int
    """Id of its first cut …"""
    last: int
    """… and of its last."""
    entered: dict[str, Cut] = field(default_factory=dict)
    """Station to its newest cut."""
    warm: dict[str, Cut] = field(default_factory=dict)
    """The same of those that were cut once more, warm."""

    @property
    def limits(self) -> dict[str, Limit]:
        """Station to what its newest cut says."""
        return {station: cut.limit for station, cut in self.entered.items()}

    @property
    def cuts(self) -> Cuts:
        """As they are compared."""
        return Cuts(self.sheet, tuple(self.limits.values()), self.power)


def cut_runs(events: Iterable[Event]) -> list[CutRun]:
    """Every cut check, in order.  Events that count."""
    runs: list[CutRun] = []
    touched = checked = False
    for event in events:
        if isinstance(event, (*TOUCHED, SheetLaid)):
            touched = True
        elif isinstance(event, Check):
            checked = True
        elif isinstance(event, Cut) and event.warm:
            if runs and event.station in runs[-1].entered:
                runs[-1].warm[event.station], runs[-1].last = event, event.id
        elif isinstance(event, Cut):
            again = bool(runs) and checked and event.station in runs[-1].entered
            if not runs or event.anew or touched or again:
                runs.append(CutRun(checked_sheet(event.material), event.power, event.id, event.id))
            touched = checked = False
            runs[-1].entered[event.station] = event
            runs[-1].last = event.id
    return runs


def joins(runs: list[CutRun], begins: bool, sheet: Sheet, power: float | None) -> None:
    """That a further cut can be compared with those before it in its check.  Raises InputError."""
    if begins or not runs:
        return
    before = runs[-1]
    apart = told_apart(sheet, before.sheet)
    if apart:
        raise InputError(
            f"This is {apart}: cuts in two sheets cannot be compared",
            expected="the sheet of the stations before, or a further cut check",
            example=before.sheet.name,
        )
    if power != before.power:
        said = ["none said" if each is None else f"{each:g} %" for each in (power, before.power)]
        raise InputError(
            f"This is another power ({said[0]}, before {said[1]})",
            expected="the same setting at every station, or a further cut check",
        )


def begins_anew(events: Iterable[Event], station: str) -> bool:
    """Whether a cut at this station, entered now, begins a further check by itself."""
    counting = list(events)
    last = max((index for index, event in enumerate(counting) if isinstance(event, Cut)), default=None)
    if last is None:
        return True
    later = counting[last + 1 :]
    again = station in cut_runs(counting)[-1].entered and any(isinstance(event, Check) for event in later)
    return again or any(isinstance(event, (*TOUCHED, SheetLaid)) for event in later)


def laid(events: Sequence[Event]) -> SheetLaid | Cut | None:
    """The entry that last said which sheet is cut, and at which power."""
    return next((event for event in reversed(events) if isinstance(event, SheetLaid | Cut)), None)


def compared_with(events: Iterable[Event], cuts: Cuts) -> KeptCuts | None:
    """What these cuts are compared with: the newest baseline of the same sheet, else the newest of all."""
    known = [event.cuts for event in events if isinstance(event, Baseline) and event.cuts is not None]
    same = [each for each in known if not cuts.not_compared(each.cuts)]
    return (same or known)[-1] if known else None


def gaps_for(machine: Machine, events: Iterable[Event], run: CutRun) -> dict[str, float] | None:
    """Station to the bed's gap while these were cut: as measured last before, else first after."""
    beds = [(event.id, gaps) for event in events if isinstance(event, Check) and event.name == "bed"
            and (gaps := gaps_at(machine, event.figures)) is not None]  # fmt: skip
    before = [gaps for number, gaps in beds if number < run.last]
    after = [gaps for number, gaps in beds if number > run.last]
    return before[-1] if before else after[0] if after else None
