"""A machine's history from its sessions and its log: visits in order, what happened, what drifts, what comes."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from coach.errors import UnknownName
from coach.history.beam import BeamState
from coach.history.drift import told
from coach.history.forecast import Forecast, forecast
from coach.history.found import PartDrift, of_parts
from coach.history.happenings import Happening, of_log
from coach.history.series import Seen, beam_series, comparable, series
from coach.history.visits import Visit
from coach.tuning import TUNING, Tuning
from coach.upkeep.log import MachineLog

AHEAD = timedelta(days=1)
"""A visit that begins so much later than now has a clock that cannot be trusted."""


@dataclass(frozen=True, eq=False)
class History:
    """What one machine's visits say together."""

    machine: str
    visits: tuple[Visit, ...]
    """The oldest first; practice is none."""
    happened: tuple[Happening, ...]
    """In order."""
    parts: tuple[PartDrift, ...]
    """Mirror 1, mirror 2, the centre; empty of fewer than two visits that say how the beam lay."""
    power: PartDrift | None
    """What the cuts say; None of fewer than two cut checks that can be compared."""
    forecast: Forecast | None
    """None of fewer than three visits that say how the beam lay."""
    older: int
    """So many visits before these were counted alone."""
    compared: int
    """How many of the newest visits are compared: those before had another beam path or cannot be told."""
    problems: tuple[str, ...]
    """What was left out, and why: one sentence each."""
    today: date
    """The day on which it was told."""

    @property
    def numbered(self) -> tuple[tuple[int, Visit], ...]:
        """Every visit with its number among all of them, from 1."""
        return tuple(enumerate(self.visits, start=self.older + 1))

    def visit(self, key: str) -> Visit:
        """The visit of that number, counted from 1, or session name.  Raises UnknownName."""
        for number, visit in self.numbered:
            if key in (str(number), visit.key):
                return visit
        numbers = [number for number, _ in self.numbered]
        expected = f"a number from {numbers[0]} to {numbers[-1]}, or a session's name" if numbers else "none yet"
        raise UnknownName(f"There is no visit {key!r} of {self.machine}", expected=expected)


def of_visits(
    machine: str,
    visits: Iterable[Visit],
    log: MachineLog | None,
    now: datetime,
    problems: Iterable[str] = (),
    tuning: Tuning = TUNING,
) -> History:
    """What these visits say of that machine, in whatever order; `problems`: what could not be read, and why."""
    ordered = sorted(visits, key=lambda visit: (visit.begun, visit.key))
    trusted = [visit for visit in ordered if visit.begun <= now + AHEAD]
    happened = [each for visit in ordered for each in visit.happened] + list(of_log(log))
    happened.sort(key=lambda each: each.on)
    beam = beam_series(trusted, happened, tuning.drifting.most)
    stories = told(beam, tuning) if beam is not None else None
    parts = of_parts(beam, stories, tuning) if beam is not None and stories is not None else ()
    last = next((visit for visit in reversed(trusted) if visit.left is not None), None)
    ahead = None
    if beam is not None and stories is not None and last is not None and len(beam.days) >= tuning.drifting.fewest:
        assert last.left is not None
        ahead = forecast(last.machine, last.left, last.ended.astimezone().date(), stories, tuning)
    return History(
        machine=machine,
        visits=tuple(ordered),
        happened=tuple(happened),
        parts=parts,
        power=_power(trusted, happened, tuning),
        forecast=ahead,
        older=0,
        compared=len(beam.days) if beam is not None else 0,
        problems=(*problems, *_doubtful(ordered, trusted)),
        today=now.astimezone().date(),
    )


def _power(visits: Sequence[Visit], happened: Sequence[Happening], tuning: Tuning) -> PartDrift | None:
    """The drift of the cut speed, over the newest visits whose cuts can be compared with the newest of all."""
    import numpy as np

    cut = [visit for visit in visits if visit.cut_found is not None and visit.cut_left is not None]
    if len(cut) < 2:
        return None
    newest = cut[-1].cut_left
    told_ = []
    for visit in cut:
        first, last = visit.cut_found, visit.cut_left
        assert first is not None
        assert last is not None
        assert newest is not None
        if not first.not_compared(newest) and not last.not_compared(newest):
            ends = [BeamState(np.array([each.log]), np.array([[each.sd**2]])) for each in (first, last)]
            found, left = ends
            at = visit.begun.timestamp() / 86400, visit.ended.timestamp() / 86400
            told_.append(Seen(visit.on, *at, found, left, first is last))
    told_ = told_[-tuning.drifting.most :]
    if len(told_) < 2:
        return None
    of_cuts = series(("power",), told_, happened)
    return of_parts(of_cuts, told(of_cuts, tuning), tuning)[0]


def _doubtful(ordered: Sequence[Visit], trusted: Sequence[Visit]) -> list[str]:
    """Clocks that cannot be right, and visits before the beam's path was described anew."""
    said = [
        f"{visit.title} ({visit.key}) begins on {visit.on}, which is still to come: the clock was wrong, and it is "
        "left out of every comparison."
        for visit in ordered
        if visit not in trusted
    ]
    said += [
        f"The clock went back during {visit.title} ({visit.key}): its times may be wrong."
        for visit in trusted
        if visit.went_back
    ]
    told_ = [visit for visit in trusted if visit.found is not None and visit.left is not None]
    others = [visit for visit in told_ if not comparable(visit.machine, told_[-1].machine)]
    if others:
        said.append(
            f"Until {others[-1].on} the beam's path was described otherwise (bed, gaps or side): {len(others)} "
            f"{'visits are' if len(others) > 1 else 'visit is'} listed, and not compared."
        )
    return said
