"""What the marks' offsets cost at the lens: power that the opening cuts off, and a focused beam that leans."""

from dataclasses import dataclass

import numpy as np

from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.chances import spread_points
from coach.machine import Station
from coach.optics.gaussian import beam_radius, passed_fractions
from coach.optics.legs import leg_lengths
from coach.optics.lens import focus_tilt

POINTS = 64
"""Places at which an uncertain mark is looked at: the mean of what passes is then known to a few parts in 1e4."""
MRAD_PER_DEGREE = 1000 * np.pi / 180


@dataclass(frozen=True)
class OffsetCost:
    """What a station's offset costs, as believed; expectations, the doubt about the offset included."""

    station: str
    passes: float
    """Fraction of the beam's power that passes the head's opening."""
    lean: float
    """Degrees by which the focused beam leans, so that the cut leans as much."""


def offset_costs(belief: Belief) -> tuple[OffsetCost, ...]:
    """What every station's offset costs, for a beam and a lens of usual size (`coach.tuning.Beam`)."""
    return tuple(_cost(belief, belief.settled, station) for station in belief.layout.machine.stations)


def _cost(belief: Belief, bank: Bank, station: Station) -> OffsetCost:
    """F(a, w, d) and d/f averaged over where the mark may lie; w has grown over both legs (Kogelnik & Li)."""
    beam, machine = belief.tuning.beam, belief.layout.machine
    matrix = belief.layout.measurement_matrix(station.x, station.y)
    u, v = spread_points(*bank.mixture.project(matrix).moments, POINTS)
    offsets = np.hypot(u, v)
    w = beam_radius(sum(leg_lengths(machine, station.x, station.y)), beam.waist, m2=beam.m2)
    passes = np.mean(passed_fractions(machine.aperture.head / 2, w, offsets))
    lean = np.mean([focus_tilt(float(d), beam.focal) for d in offsets]) / MRAD_PER_DEGREE
    return OffsetCost(station.name, float(passes), float(lean))


def worst_cost(belief: Belief) -> tuple[float, float]:
    """At the worst station: the fraction of the beam that is lost, and the lean in degrees."""
    costs = offset_costs(belief)
    return 1 - min(cost.passes for cost in costs), max(cost.lean for cost in costs)


def harmless(belief: Belief) -> bool:
    """Whether what the worst station costs is too little to be worth a hand at a screw (`coach.tuning.Beam`)."""
    lost, lean = worst_cost(belief)
    beam = belief.tuning.beam
    return lost <= beam.harmless_lost and lean <= beam.harmless_lean
