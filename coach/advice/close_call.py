"""One more mark, or adjust?  Every station has its mark, and it is still open whether all are within tolerance."""

import numpy as np

from coach.advice.advice import Outlook
from coach.advice.outlook import station_risks
from coach.advice.proof import proof_chance
from coach.advice.shots import Candidate, candidate, marked_at
from coach.belief.belief import Belief

REPEATS = 3
"""Marks at one station in one round; more would tell little."""
MOST_EXTRA = 2
"""Marks beyond one for each station in one round; then an adjustment is the quicker way to be sure."""
CLOSE = 0.02
"""p·(1 − p) of being beyond the tolerance below which a station needs no further mark."""
OPEN = 0.25
"""Chance of all within tolerance below which nobody needs a further mark to know that it is not so."""
CHEAPER = 1.0
"""Pulses by which adjusting must be cheaper than one more mark to be advised instead."""


def closest_call(belief: Belief, now: Outlook) -> Candidate | None:
    """The station that is hardest to tell from one beyond the tolerance, if another mark there may settle it."""
    if now.chance < OPEN or _extra(belief) >= MOST_EXTRA:
        return None
    risks = station_risks(belief.layout, belief.settled)
    for index in np.argsort(-risks * (1 - risks)):
        station = belief.layout.machine.stations[int(index)]
        again = candidate(belief, station.name, station.x, station.y)
        close = risks[index] * (1 - risks[index]) > CLOSE
        if close and again.safe and marked_at(belief, station.x, station.y) < REPEATS:
            return again
    return None


def worth_a_mark(belief: Belief, again: Candidate, adjusting: float) -> bool:
    """Whether more marks there, and adjusting only if they do not settle it, beat adjusting now (cost in pulses)."""
    names = [station.name for station in belief.layout.machine.stations]
    station = names.index(again.shot.name)
    once = proof_chance(belief.layout, belief.settled, [station])
    cost = 1 + (1 - once) * adjusting
    if _extra(belief) + 2 <= MOST_EXTRA:
        twice = proof_chance(belief.layout, belief.settled, [station, station])
        cost = min(cost, 1 + (1 - once) + (1 - twice) * adjusting)
    return cost < adjusting + CHEAPER


def _extra(belief: Belief) -> int:
    return len(belief.round_sightings) - len(belief.layout.machine.stations)
