"""What is said of each part: none, drifting, or too few visits to tell; and by how much it turned since when."""

from dataclasses import dataclass, replace
from datetime import date
from math import sqrt
from typing import Literal

import numpy as np

from coach.belief.kalman import Array, Moments
from coach.history.drift import Stories, plain, same_way
from coach.history.happenings import Part
from coach.history.series import Series
from coach.optics.mounts import ROOT2
from coach.tuning import TUNING, Tuning

State = Literal["drifts", "none", "too few", "either"]
"""Either: something drifts, and the marks do not yet say whether it is this part or another."""


@dataclass(frozen=True, eq=False)
class PartDrift:
    """What one part did since a day: of a mirror its tilt in mrad, of the centre mm, of the power a share."""

    part: Part
    state: State
    since: date | None
    """From when on its intervals say something of it, all in a row."""
    until: date | None
    chance: float
    """That it drifts."""
    moved: Array
    """As seen at the head's opening, in a year's worth or less: (u, v), mrad of the beam or mm; of power one."""
    moved_sd: Array
    rate: Array
    """The same a year."""
    rate_sd: Array
    plain_sd: Array
    """One standard deviation of what it moved where every part is free to drift (`coach.history.drift.plain`)."""
    times: int
    """How many of the newest intervals in a row went the same way."""
    visits: int
    """That say something of it."""

    @property
    def size(self) -> float:
        """How far it moved: a mirror's tilt in mrad (2 in u, √2 in v: docs/model.md), the centre's mm."""
        return float(np.hypot.reduce(self._own(self.moved)))

    @property
    def size_sd(self) -> float:
        """One standard deviation of it, along the way it went."""
        return _along(self._own(self.moved), self._own(self.moved_sd))

    @property
    def plain_size_sd(self) -> float:
        """The same where nothing is taken for granted of the other parts; in the worse direction."""
        return float(np.max(self._own(self.plain_sd)))

    @property
    def yearly(self) -> float:
        """How far a year, along the way it went."""
        own = self._own(self.rate)
        return float(np.hypot.reduce(own))

    @property
    def yearly_sd(self) -> float:
        """One standard deviation of it."""
        return _along(self._own(self.rate), self._own(self.rate_sd))

    def _own(self, seen: Array) -> Array:
        """From the beam to the part itself."""
        return seen / np.array([2.0, ROOT2]) if self.part in ("mirror 1", "mirror 2") else seen


def _along(mean: Array, sd: Array) -> float:
    """One standard deviation along the mean; of nothing the larger of both."""
    size = float(np.hypot.reduce(mean))
    if size == 0.0:
        return float(np.max(sd))
    return sqrt(float(np.sum((mean / size * sd) ** 2)))


def of_parts(series: Series, stories: Stories, tuning: Tuning = TUNING) -> tuple[PartDrift, ...]:
    """Every part's drift, in order."""
    free = plain(series, tuning)
    parts = [part for part in series.parts if part != "opening"]
    every = [_of_part(series, stories, part, free, tuning) for part in parts]
    some = np.any([stories.drifting(part) for part in parts], axis=0)
    sure = float(stories.rates.weights[some].sum()) >= tuning.drifting.named_from
    open_ = [each.part for each in every if each.state == "none" and each.chance >= 1 - tuning.drifting.named_from]
    if not sure or len(open_) < 2 or any(each.state == "drifts" for each in every):
        return tuple(every)
    return tuple(replace(each, state="either") if each.part in open_ else each for each in every)


def _of_part(
    series: Series, stories: Stories, part: Part, free: tuple[Moments, Moments], tuning: Tuning
) -> PartDrift:
    """Where it drifts its figures are those of the stories in which it does; else those of the plain fit."""
    at = series.parts.index(part)
    mine = slice(at * series.each, (at + 1) * series.each)
    seeing, mask, chance = series.seeing(part), stories.drifting(part), stories.chance(part)
    visits = int(seeing.sum()) + 1 if seeing.any() else 0
    moved, rate = (mixture.subset(mask).block(mine).moments for mixture in (stories.moved, stories.rates))
    clear = float(np.hypot.reduce(moved.mean)) > tuning.drifting.doubts * _along(moved.mean, _sd(moved.cov))
    drifts = chance >= tuning.drifting.named_from and clear
    state: State = "too few" if visits < tuning.drifting.fewest else "drifts" if drifts else "none"
    of_free = Moments(free[0].mean[mine], free[0].cov[mine, mine])
    if state != "drifts":
        moved, rate = of_free, Moments(free[1].mean[mine], free[1].cov[mine, mine])
    weights = stories.rates.weights * mask
    steps = np.tensordot(weights / weights.sum(), stories.steps[:, :, mine], axes=1)
    return PartDrift(
        part=part,
        state=state,
        since=series.days[int(np.argmax(seeing))] if seeing.any() else None,
        until=series.days[-1] if seeing.any() else None,
        chance=chance,
        moved=moved.mean,
        moved_sd=_sd(moved.cov),
        rate=rate.mean,
        rate_sd=_sd(rate.cov),
        plain_sd=_sd(of_free.cov),
        times=same_way(steps, moved.mean, list(seeing)),
        visits=visits,
    )


def _sd(cov: Array) -> Array:
    return np.asarray(np.sqrt(np.maximum(np.diag(cov), 0.0)))


def named(drifts: tuple[PartDrift, ...]) -> tuple[PartDrift, ...]:
    """Those that drift."""
    return tuple(each for each in drifts if each.state == "drifts")
