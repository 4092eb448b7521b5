"""What the edges of mirror 2 let pass, as believed: its place on the gantry goes with the head's y.

Mirror 1 does not move, so what it cuts off is the same for every station.  Past an edge a mm from the middle goes
½·erfc(√2(a − d)/w) of a beam d mm off it (Gaussian knife edge: Siegman, Lasers); averaged over the doubt s about d,
Φ((d − a)/√(w²/4 + s²)).
"""

import math
from collections.abc import Mapping
from statistics import NormalDist

import numpy as np

from coach.belief.belief import Belief
from coach.optics.gaussian import beam_radius
from coach.optics.legs import leg_lengths

_PHI = NormalDist()
_LEAST = 0.01


def passed_mirror2(belief: Belief, at: Mapping[str, float]) -> dict[str, float]:
    """Station to the share of the beam that meets mirror 2's face, for stations at these y (mm)."""
    return {name: _passed(belief, y) for name, y in at.items()}


def _passed(belief: Belief, y: float) -> float:
    machine, beam = belief.layout.machine, belief.tuning.beam
    matrix = belief.layout.measurement_matrix(0.0, y, "mirror 2")
    mean, cov = belief.settled.mixture.project(matrix).moments
    w = beam_radius(leg_lengths(machine, 0.0, y)[0], beam.waist, m2=beam.m2)
    half = machine.path.diameter(2) / 2
    lost = 0.0
    for middle, variance, edge in zip(mean, np.diag(cov), (half * math.sqrt(0.5), half), strict=True):
        spread = math.sqrt(w**2 / 4 + variance)
        lost += sum(_PHI.cdf((sign * float(middle) - edge) / spread) for sign in (1, -1))
    return max(_LEAST, 1.0 - lost)
