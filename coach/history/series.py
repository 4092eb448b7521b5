"""Visits in a row as what was seen between them: by how much the next found the beam elsewhere than the last left it.

    d_k = found_{k+1} − left_k,    Cov(d_k) = P_found,k+1 + P_left,k,    Cov(d_k, d_{k+1}) = −P_{k+1}

the last where a visit adjusted nothing, so that both are the same marks; after an adjustment they are other marks.
What happened in between may have moved a part: then that interval says nothing of its drift, and after a new mirror
nothing before it does (`blind`).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np

from coach.belief.kalman import Array, Mask
from coach.history.beam import TO_PARTS, BeamState
from coach.history.happenings import PARTS, Happening, Part
from coach.history.visits import Visit
from coach.machine import Machine

YEAR = 365.25
LEAST_DAYS = 0.02
"""Half an hour: two visits of one moment are no drift without end."""


@dataclass(frozen=True, eq=False)
class Series:
    """What was seen in the intervals between visits, all parts' numbers beside each other (u and v of each)."""

    parts: tuple[Part, ...]
    seen: Array
    """(intervals, n): n numbers, as many for each part."""
    noise: Array
    """(intervals·n, intervals·n): the covariance of all of them, as the marks have it."""
    years: Array
    """(intervals,): how long each was."""
    blind: Mask
    """(intervals, parts), whether it says nothing of that part's drift."""
    days: tuple[date, ...]
    """The first visit's day, and each interval's end."""
    now: Array
    """(n, n): covariance of how it was left last …"""
    shared: bool
    """… whose error is that of the last interval's end, where nothing was adjusted."""

    @property
    def each(self) -> int:
        """Numbers of one part."""
        return int(self.seen.shape[1]) // len(self.parts)

    def seeing(self, part: Part) -> Mask:
        """The mask of the intervals that say something of its drift."""
        return np.asarray(~self.blind[:, self.parts.index(part)])


@dataclass(frozen=True, eq=False)
class Seen:
    """One visit as a series takes it: what it found and left, in the parts' numbers."""

    on: date
    at: float
    """Days since some day when it found …"""
    until: float
    """… and when it left."""
    found: BeamState
    left: BeamState
    same: bool
    """Whether both are one and the same measurement."""


def comparable(machine: Machine, other: Machine) -> bool:
    """Whether slopes and centre mean the same on both: one beam path, whatever else was described anew."""
    paths = [
        (m.path.side, m.path.mirror1_gap, m.path.mirror2_gap, m.bed.width, m.bed.depth) for m in (machine, other)
    ]
    return paths[0] == paths[1]


def beam_series(visits: Sequence[Visit], happened: Sequence[Happening], most: int) -> Series | None:
    """The newest visits, in order, that say how the beam lay; None of fewer than two."""
    told = [visit for visit in visits if visit.found is not None and visit.left is not None]
    told = [visit for visit in told if comparable(visit.machine, told[-1].machine)][-most:]
    if len(told) < 2:
        return None
    return series(PARTS, [_seen(visit) for visit in told], happened)


def _seen(visit: Visit) -> Seen:
    assert visit.found is not None
    assert visit.left is not None
    zone = visit.begun.timestamp() / 86400, visit.ended.timestamp() / 86400
    return Seen(visit.on, *zone, _in_parts(visit.found), _in_parts(visit.left), not visit.adjusted)


def _in_parts(state: BeamState) -> BeamState:
    return BeamState(TO_PARTS @ state.mean, TO_PARTS @ state.cov @ TO_PARTS.T)


def series(parts: tuple[Part, ...], told: Sequence[Seen], happened: Sequence[Happening]) -> Series:
    """What these visits, two at the least and in order, say between them."""
    size, count = len(told[0].found.mean), len(told) - 1
    pairs = list(pairwise(told))
    noise = np.zeros((count, size, count, size))
    for k, (before, after) in enumerate(pairs):
        noise[k, :, k, :] = before.left.cov + after.found.cov
        if k + 1 < count and after.same:
            noise[k, :, k + 1, :] = noise[k + 1, :, k, :] = -after.found.cov
    blind = [[_blind(part, before.on, after.on, told[-1].on, happened) for part in parts] for before, after in pairs]
    return Series(
        parts=parts,
        seen=np.stack([after.found.mean - before.left.mean for before, after in pairs]),
        noise=noise.reshape(count * size, count * size),
        years=np.array([max(after.at - before.until, LEAST_DAYS) / YEAR for before, after in pairs]),
        blind=np.array(blind, dtype=bool),
        days=tuple(each.on for each in told),
        now=told[-1].left.cov,
        shared=told[-1].same,
    )


def _blind(part: Part, start: date, end: date, last: date, happened: Sequence[Happening]) -> bool:
    """Whether something in that interval moved the part by itself, or ended its past after it began.

    What a visit did after it had measured lies between its found and its left, and is in no interval.
    """
    moved = any(h.before_marks and part in h.steps and start < h.on <= end for h in happened)
    return moved or any(part in h.begins and start < h.on <= last for h in happened)
