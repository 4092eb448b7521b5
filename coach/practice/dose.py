"""Which dose marks on a practice machine, and how wide: its own threshold and its own beam, known to nobody else.

None of the numbers is taken from what the coach believes: a world that shared them with the adviser would flatter it.
"""

import math
from statistics import NormalDist

from coach.machine import Machine, Target
from coach.optics.gaussian import beam_radius
from coach.optics.legs import leg_lengths

USUAL_MS, USUAL_POWER = 55.0, 13.0
"""A usual first dose: ms and per cent; where one of the two is not given it is taken for this."""
SPREAD = 0.55
"""Standard deviation of the threshold's logarithm from machine to machine."""
WAIST, M2 = 3.3, 1.25
"""mm and 1: the practice machines' beam."""
NARROWEST = 0.4
"""mm; a fainter mark is not seen."""


def threshold(luck: float, weak: float) -> float:
    """The dose that just marks where the beam leaves the tube, over the usual first one.

    `luck` is standard normal; `weak` the share of machines at which the usual first dose leaves nothing there.
    """
    if weak <= 0.0:
        return math.exp(-SPREAD * (0.5 + abs(luck)))
    return math.exp(SPREAD * (luck - NormalDist().inv_cdf(1.0 - weak)))


def mark_width(
    machine: Machine, x: float, y: float, target: Target, just: float, ms: float | None, power: float | None
) -> float | None:
    """Diameter of the mark that this dose makes there, mm, by D² = 2·w²·ln(E/E_th); None where none is seen.

    `just`: the threshold at the tube; the peak falls with the beam's area, so a place farther on needs more.
    """
    leg1, leg2 = leg_lengths(machine, x, y)
    along = {"mirror 1": 0.0, "mirror 2": leg1, "head": leg1 + leg2}[target]
    radius = beam_radius(along, WAIST, m2=M2)
    dose = (ms or USUAL_MS) / USUAL_MS * (power or USUAL_POWER) / USUAL_POWER
    over = dose / (just * (radius / WAIST) ** 2)
    width = radius * math.sqrt(2.0 * math.log(over)) if over > 1.0 else 0.0
    return width if width >= NARROWEST else None
