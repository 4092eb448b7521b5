"""Whether the beam lies where it lay when the last visit was closed, and where not: mark against mark.

A check-up turns nothing: its marks are those that were made before anything was adjusted.  They are compared,
station by station, with the last marks of the visit before, made after its last adjustment.  An apart of d mm, whose
doubt is that of both readings together (variance s² in each of u and v), is no more than chance as long as
|d|² ≤ −2 s² ln α: of an unmoved machine |d|²/s² is χ² with two degrees of freedom.  α is so small that of n stations
and their mean together an unmoved machine passes all with the probability P = `Deciding.as_it_was`:
1 − α = P^(1/(n + 1)) (Šidák).
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from coach.session.document import Document
from coach.session.events import Finish, Mark, effective
from coach.session.found_and_left import marks_first, marks_last
from coach.session.replay import sighting_of
from coach.session.session import Session
from coach.session.store import Visits
from coach.session.visit_events import Baseline, KeptMark
from coach.tuning import TUNING, Tuning

SAME_PLACE = 1.0
"""mm between two positions of the head from which they are two places."""
FEWEST = 2
"""Stations marked both times below which nothing is said of the whole."""
Verdict = Literal["as it was", "moved", "one mark", "too few"]
"""One mark: it alone stands out, and was made once: it may be misread."""


@dataclass(frozen=True)
class Apart:
    """By how much a mark lies elsewhere than it lay, mm, facing the side that the beam hits."""

    station: str
    """"" of the mean of all."""
    right: float
    up: float
    sd: float
    """Its doubt, one standard deviation of each of the two."""
    stands_out: bool
    """Whether that is more than chance."""

    @property
    def distance(self) -> float:
        """How far, mm."""
        return math.hypot(self.right, self.up)


@dataclass(frozen=True)
class Comparison:
    """The newest marks of a machine against those with which its last visit ended."""

    on: date
    """When the newest of them was made."""
    since: date
    """When the last of the visit before was made."""
    stations: tuple[Apart, ...]
    """Each station that was marked both times, the farthest apart first."""
    together: Apart | None
    """The mean of all; None of too few."""
    missing: tuple[str, ...]
    """Stations that were marked then and not now."""
    verdict: Verdict

    @property
    def moved(self) -> tuple[Apart, ...]:
        """The stations where it is more than chance."""
        return tuple(each for each in self.stations if each.stands_out)


def since_last_visit(sessions: Iterable[Document], machine: str, tuning: Tuning = TUNING) -> Comparison | None:
    """The newest visit to that machine with marks against the last finished one before it; None without the two.

    Practice is no visit.
    """
    visits = _newest_first(sessions, machine)
    now = next((marks for each in visits if (marks := marks_first(effective(each.events)))), ())
    before = _left_by(visits) if now else ()
    return compared(before, now, tuning) if before else None


def _newest_first(sessions: Iterable[Document], machine: str) -> Iterator[Document]:
    """The visits to that machine, the one begun last first; those of `Store.visits` are read as they are needed."""
    if isinstance(sessions, Visits):
        return iter(sessions)
    mine = [each for each in sessions if each.machine.name == machine and each.practice is None]
    return iter(sorted(mine, key=lambda each: each.created, reverse=True))


def kept_marks(marks: Iterable[Mark], tuning: Tuning = TUNING) -> tuple[KeptMark, ...]:
    """These marks to be compared with later: of several at a station the newest, with its doubt."""
    newest = {mark.station: mark for mark in marks}
    return tuple(_kept(mark, tuning) for mark in newest.values())


def _kept(mark: Mark, tuning: Tuning) -> KeptMark:
    sd, on = sighting_of(mark, tuning).sd, mark.at.astimezone().date()
    return KeptMark(station=mark.station, x=mark.x, y=mark.y, u=mark.u, v=mark.v, sd=sd, on=on)


def left_by_last_visit(sessions: Iterable[Document], machine: str) -> tuple[KeptMark, ...]:
    """The marks with which the newest finished visit to that machine ended; empty without one that has any."""
    return _left_by(_newest_first(sessions, machine))


def _left_by(visits: Iterator[Document]) -> tuple[KeptMark, ...]:
    for visit in visits:
        events = effective(visit.events)
        if any(isinstance(event, Finish) for event in events) and (marks := marks_last(events)):
            return kept_marks(marks)
    return ()


def since_begun(session: Session) -> Comparison | None:
    """A session's marks before anything was adjusted against those of the last visit that it was begun with; None
    without the two."""
    events = session.effective
    before = [event.marks for event in events if isinstance(event, Baseline) and event.marks]
    now = marks_first(events)
    return compared(before[-1], now) if before and now else None


def compared(before: Sequence[KeptMark], marks: Sequence[Mark], tuning: Tuning = TUNING) -> Comparison:
    """These marks, one at the least each time, against those; of several at a place the newest counts."""
    earlier, newest = {mark.station: mark for mark in before}, {m.station: m for m in kept_marks(marks, tuning)}
    pairs = [(earlier[name], mark) for name, mark in newest.items() if name in earlier and _same(earlier[name], mark)]
    alpha = 1 - tuning.deciding.as_it_was ** (1 / (len(pairs) + 1))
    apart = [_apart(old, new, alpha) for old, new in pairs]
    together = _mean(apart, alpha) if len(apart) >= FEWEST else None
    return Comparison(
        on=max(mark.on for mark in newest.values()),
        since=max(mark.on for mark in before),
        stations=tuple(sorted(apart, key=lambda each: -each.distance)),
        together=together,
        missing=tuple(name for name in earlier if name not in {each.station for each in apart}),
        verdict=_verdict(apart, together, alpha, [mark.station for mark in marks]),
    )


def _same(one: KeptMark, other: KeptMark) -> bool:
    return math.hypot(one.x - other.x, one.y - other.y) < SAME_PLACE


def _apart(old: KeptMark, new: KeptMark, alpha: float) -> Apart:
    return _judged(new.station, new.u - old.u, new.v - old.v, math.hypot(old.sd, new.sd), alpha)


def _judged(station: str, right: float, up: float, sd: float, alpha: float) -> Apart:
    """d and s, and whether |d|² > −2 s² ln α."""
    return Apart(station, right, up, sd, right**2 + up**2 > -2 * sd**2 * math.log(alpha))


def _mean(apart: Sequence[Apart], alpha: float) -> Apart:
    """The mean of all, each weighed by 1/s²; its variance is 1/Σ(1/s²)."""
    weights = [1 / each.sd**2 for each in apart]
    right = sum(w * each.right for w, each in zip(weights, apart, strict=True)) / sum(weights)
    up = sum(w * each.up for w, each in zip(weights, apart, strict=True)) / sum(weights)
    return _judged("", right, up, sum(weights) ** -0.5, alpha)


def _verdict(apart: Sequence[Apart], together: Apart | None, alpha: float, marked: Sequence[str]) -> Verdict:
    out = [each for each in apart if each.stands_out]
    if together is None:
        return "too few"
    if not out:
        return "moved" if together.stands_out else "as it was"
    others = [each for each in apart if not each.stands_out]
    alone = len(out) == 1 and len(others) >= FEWEST and not _mean(others, alpha).stands_out
    return "one mark" if alone and marked.count(out[0].station) == 1 else "moved"
