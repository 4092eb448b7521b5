"""Whether it cuts slower once the tube is warm: the same station once cold and once warm, beside the first lines.

Both limits are known between two lines.  With nothing known beforehand of where in its interval each lies, and each
place of the sheet its own by a deviation σ,

    ln r = y_warm − y_cold + e,    y uniform over its interval of logarithms, e ~ N(0, 2 σ²)

r the ratio of the delivered powers (P/(t·v) constant: common practice, to first order).  An end that stays open is
taken as a factor of `OPEN` from the known one.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from coach.cutting.likelihood import Array
from coach.cutting.limits import Limit
from coach.cutting.posterior import DRAWS, interval
from coach.tuning.cutting import Cutting

OPEN = 2.0
"""A limit that was not found is hardly farther from the lines that were cut: six more lines would reach it."""
Fades = Literal["yes", "no", "unsure"]


@dataclass(frozen=True)
class Fading:
    """How a station cuts warm beside cold."""

    station: str
    ratio: tuple[float, float, float]
    """Warm over cold: low, value, high; 19 in 20 lie between the first and the last."""
    fades: Fades
    """Whether less than `Cutting.again` of it is left, as surely as `Cutting.again_sure`."""


def fading(cold: Limit, warm: Limit, cutting: Cutting) -> Fading:
    """One station's limit warm beside the same one's cold."""
    rng = np.random.default_rng(7)
    apart = _drawn(warm, rng) - _drawn(cold, rng)
    apart += math.sqrt(2.0) * cutting.place_sd * rng.standard_normal(DRAWS)
    below = float(np.mean(apart < math.log(cutting.again)))
    fades: Fades = "yes" if below >= cutting.again_sure else "no" if 1 - below >= cutting.again_sure else "unsure"
    return Fading(cold.station, interval(np.exp(apart)), fades)


def _drawn(limit: Limit, rng: np.random.Generator) -> Array:
    low = limit.low if limit.low > 0 else limit.high / OPEN
    high = limit.high if math.isfinite(limit.high) else limit.low * OPEN
    return np.asarray(rng.uniform(math.log(low), math.log(high), DRAWS), dtype=np.float64)
