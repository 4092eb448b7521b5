"""The cuts of a session as cut checks: which belong together, and what each is compared with.

A further check begins where a sheet is laid in, or somebody says so; where the machine was touched since (turned,
moved, cleaned, marked); and where a station comes again after a check with covers shut.  A station that comes again
without any of these was cut once more: the later one counts.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from coach.cutting.cuts import Cuts
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


@dataclass(frozen=True)
class CutRun:
    """One cut check, as far as it is."""

    sheet: Sheet
    power: float | None
    first: int
    """Id of its first cut …"""
    last: int
    """… and of its last."""
    entered: Mapping[str, Cut] = field(default_factory=dict)
    """Station to its newest cut."""
    warm: Mapping[str, Cut] = field(default_factory=dict)
    """The same of those that were cut once more, warm."""

    @property
    def limits(self) -> dict[str, Limit]:
        """Station to what its newest cut says."""
        return {station: cut.limit for station, cut in self.entered.items()}

    @property
    def cuts(self) -> Cuts:
        """As they are compared."""
        return Cuts(self.sheet, tuple(self.limits.values()), self.power)


@dataclass(frozen=True)
class CutReplay:
    """The cut checks after so many events, to go on from: a further cut costs no look at those before it."""

    events: tuple[Event, ...] = ()
    runs: tuple[CutRun, ...] = ()
    touched: bool = False
    """Whether anything was since the last cut that parts what comes from what was."""
    checked: bool = False
    """Whether a check with covers shut was made since."""

    def of(self, events: tuple[Event, ...]) -> "CutReplay":
        """After these events, all of which count."""
        known = len(self.events)
        so_far = self if events[:known] == self.events else CutReplay()
        for event in events[len(so_far.events) :]:
            so_far = so_far._after(event)
        return replace(so_far, events=events)

    def begins_with(self, station: str) -> bool:
        """Whether a cut at this station, entered now, begins a further check by itself."""
        return not self.runs or self.touched or (self.checked and station in self.runs[-1].entered)

    def _after(self, event: Event) -> "CutReplay":
        match event:
            case Cut(warm=True):
                return self._once_more(event)
            case Cut():
                return self._cut(event)
            case Check():
                return replace(self, checked=True)
            case _ if isinstance(event, (*TOUCHED, SheetLaid)):
                return replace(self, touched=True)
            case _:
                return self

    def _once_more(self, cut: Cut) -> "CutReplay":
        if not self.runs or cut.station not in self.runs[-1].entered:
            return self
        *before, run = self.runs
        warm = replace(run, warm={**run.warm, cut.station: cut}, last=cut.id)
        return replace(self, runs=(*before, warm))

    def _cut(self, cut: Cut) -> "CutReplay":
        runs = self.runs
        if cut.anew or self.begins_with(cut.station):
            runs = (*runs, CutRun(checked_sheet(cut.material), cut.power, cut.id, cut.id))
        *before, run = runs
        further = replace(run, entered={**run.entered, cut.station: cut}, last=cut.id)
        return replace(self, runs=(*before, further), touched=False, checked=False)


def cut_runs(events: Iterable[Event]) -> tuple[CutRun, ...]:
    """Every cut check, in order.  Events that count."""
    return CutReplay().of(tuple(events)).runs


def joins(runs: Sequence[CutRun], begins: bool, sheet: Sheet, power: float | None) -> None:
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
