"""How far a cut check of the visit is: the sheet it is made on, what was cut, and at which station it goes on."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from coach.cutting.cuts import Cuts
from coach.cutting.limits import Limit
from coach.cutting.order import to_cut
from coach.cutting.series import ended, middle, series_about, series_after
from coach.cutting.sheet import checked_sheet
from coach.machine import Station
from coach.session.cut_checks import TOUCHED, cut_runs
from coach.session.events import Event
from coach.session.part_events import ANEW, Begin, End, Item, Skip
from coach.session.session import Session
from coach.session.visit_events import Cut, KeptCuts, SheetLaid
from coach.steps.visit_progress import since_begun, state_of
from coach.tuning.cutting import Cutting
from coach.visit import VisitPart

WARM = "warm"
"""Name of the entry that says that a station is cut once more while the tube is warm."""
CutPart = Literal["cut check", "cut again"]
"""The parts in which sheets are cut: before anything is done, and after."""
USUAL = 15.0
"""mm/s, where nothing was ever cut of this sheet and nobody said how fast: one series tells more."""


@dataclass(frozen=True)
class CutProgress:
    """One cut check of a visit, as far as it is."""

    stations: tuple[Station, ...]
    """Where it is cut, in order."""
    cutting: Cutting
    sheet: SheetLaid | Cut | None = None
    """The entry that says what is cut; None: nothing yet."""
    number: int | None = None
    """Which of the session's cut checks; None before the first cut."""
    limits: Mapping[str, Limit] = field(default_factory=dict)
    warm: str = ""
    """The station that is to be cut once more, warm; "" where none is."""
    closed: frozenset[str] = frozenset()
    """Stations of which no more is asked: left out, or left as they are."""

    @property
    def station(self) -> str | None:
        """Where it goes on; None once every station was cut or left out."""
        return next((place.name for place in self.stations if not self._answered(place.name)), None)

    @property
    def place(self) -> int:
        """Which of the stations that is, from 1."""
        return [place.name for place in self.stations].index(self.station or self.stations[-1].name) + 1

    def _answered(self, name: str) -> bool:
        """Whether no more is asked there: a limit was found, or nothing more can be."""
        if name in self.closed or name not in self.limits:
            return name in self.closed
        limit = self.limits[name]
        found = limit.low > 0 and not math.isinf(limit.high)
        return found or ended(limit, self.cutting)


def cut_progress(session: Session, part: CutPart) -> CutProgress:
    """The newest cut check of that part.

    What was touched since begins one anew: in the part after the work always, in the one before it unless it was
    whole, since before is before.
    """
    events, cutting = session.effective, session.belief.tuning.cutting
    empty = CutProgress(to_cut(session.machine), cutting)
    now: VisitPart | None = None
    sheet: SheetLaid | Cut | None = None
    closed: set[str] = set()
    whole = False  # so it stays until more is cut: what is done in between is not held against it one by one
    for place, event in enumerate(events):
        whole = whole and not isinstance(event, Item | SheetLaid | Cut)
        match event:
            case Begin():
                now = event.part
            case End() | Skip():
                now = None
            case Item() if event.part == part:
                sheet, closed = (None, set()) if event.name == ANEW else (sheet, closed | {event.name})
            case SheetLaid() if now == part:
                sheet, closed = event, set()
            case Cut() if now == part:
                sheet = sheet or event
                closed.discard(event.station)
            case _ if isinstance(event, TOUCHED) and sheet is not None and not whole:
                whole = part == "cut check" and _upto(empty, events[:place], sheet, closed).station is None
                sheet, closed = (sheet, closed) if whole else (None, set())
    return _upto(empty, events, sheet, closed)


def _upto(
    empty: CutProgress, events: tuple[Event, ...], sheet: SheetLaid | Cut | None, closed: set[str]
) -> CutProgress:
    """The check on that sheet, by these events."""
    if sheet is None:
        return empty
    runs = cut_runs(events)
    after = min((e.id for e in events if isinstance(e, SheetLaid) and e.id > sheet.id), default=math.inf)
    mine = [number for number, run in enumerate(runs) if sheet.id <= run.first < after]
    number = mine[-1] if mine else None
    limits = dict(runs[number].limits) if number is not None else {}
    done = number is not None and bool(runs[number].warm)
    first = next(iter(limits), "")
    warm = first if WARM in closed and first not in closed and not done else ""
    return CutProgress(empty.stations, empty.cutting, sheet, number, limits, warm, frozenset(closed))


def touched_since(session: Session) -> bool:
    """Whether something was mended or moved since it was cut again: that says nothing of the machine as it is now."""
    done = state_of("cut again", session.effective) == "done"
    cut = done and any(isinstance(event, Cut) for event in since_begun(session, "cut again"))
    return cut and cut_progress(session, "cut again").sheet is None


# -- the speeds to cut ----------------------------------------------------------------------------


def series(session: Session, progress: CutProgress, station: str) -> tuple[float, ...]:
    """The speeds to cut at a station, mm/s: where the last series ended open, on from there."""
    if station in progress.limits:
        return series_after(progress.limits[station], progress.cutting)
    return series_about(_expected(session, progress, station), progress.cutting)


def _expected(session: Session, progress: CutProgress, station: str) -> float:
    """About where the limit is to be expected: from the station before, as the baseline has the two; else from the
    baseline, from the check before, or from what the person said."""
    kept = kept_of(session, progress)
    then = (
        {each.name: middle(limit) for each, limit in zip(kept.stations, kept.cuts.limits, strict=True)}
        if kept
        else {}
    )
    last = next(reversed(list(progress.limits)), None)
    if last is not None:
        share = then[station] / then[last] if {station, last} <= set(then) else 1.0
        return middle(progress.limits[last]) * share
    if station in then:
        return then[station]
    before = cut_progress(session, "cut check")
    if before.sheet is not progress.sheet and station in before.limits:
        return middle(before.limits[station])
    assert progress.sheet is not None
    said = progress.sheet.speed if isinstance(progress.sheet, SheetLaid) else None
    return said or USUAL


def kept_of(session: Session, progress: CutProgress) -> KeptCuts | None:
    """The baseline of the sheet that is cut, at its power; None where there is none."""
    if progress.sheet is None:
        return None
    laid = Cuts(checked_sheet(progress.sheet.material), (), progress.sheet.power)
    return next((kept for kept in reversed(baselines(session)) if not laid.set_apart(kept.cuts)), None)


def baselines(session: Session) -> tuple[KeptCuts, ...]:
    """What the machine once cut, as this session took it up."""
    return tuple(e.cuts for e in session.effective if e.kind == "baseline" and e.cuts is not None)
