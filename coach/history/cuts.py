"""How fast a machine cuts, visit by visit: delivered power is in the ratio of the speeds (docs/model.md)."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, hypot

import numpy as np

from coach.cutting.cuts import Cuts
from coach.cutting.limits import FEWEST
from coach.cutting.posterior import draws
from coach.session.cut_checks import CutRun, cut_runs
from coach.session.events import Event
from coach.tuning import TUNING, Tuning


@dataclass(frozen=True)
class CutSpeed:
    """One cut check in one number: the logarithm of its stations' mean speed (mm/s), and its standard deviation."""

    log: float
    sd: float
    cuts: Cuts

    @property
    def speed(self) -> float:
        """mm/s: the geometric mean of the speeds at which the sheet is just cut through."""
        return exp(self.log)

    @property
    def doubt(self) -> float:
        """One standard deviation of it, mm/s."""
        return self.speed * self.sd

    def not_compared(self, with_: "CutSpeed") -> str:
        """Why these two cannot be compared; "" where they can: one sheet, one power, the same stations."""
        names, others = ({limit.station for limit in each.cuts.limits} for each in (self, with_))
        return self.cuts.set_apart(with_.cuts) or ("" if names == others else "other stations")


def first_and_last(events: Sequence[Event], tuning: Tuning = TUNING) -> tuple[CutSpeed | None, CutSpeed | None]:
    """What the first cut check says, and the last, which may be the same; None of too few stations."""
    runs = [run for run in cut_runs(events) if len(run.limits) >= FEWEST]
    if not runs:
        return None, None
    first = _speed(runs[0], tuning)
    return first, first if len(runs) == 1 else _speed(runs[-1], tuning)


def _speed(run: CutRun, tuning: Tuning) -> CutSpeed:
    limits = run.cuts.limits
    means = draws(limits, np.zeros(len(limits)), tuning.cutting).mean(axis=1)
    return CutSpeed(float(means.mean()), hypot(float(means.std()), tuning.cutting.sheet_sd), run.cuts)
