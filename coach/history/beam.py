"""How the beam lies, as one visit tells it: the slopes of both legs and the centre, with their doubt.

A part that turned or moved shows in them by the geometry alone (docs/model.md, "Legs" and "Mirrors"): mirror 1
changes the slopes of both legs alike, mirror 2 that of leg 2 alone, and what stands elsewhere (a head in its
bracket, a slot) the centre. So a change (a1, a2, c) is r1 = a1 of mirror 1, r2 = a2 − a1 of mirror 2 and c of the
centre. Where mirror 2's own opening was marked (u = m_u − a1_u·L1) it tells mirror 1 from mirror 2 better than the
head alone.
"""

from dataclasses import dataclass

import numpy as np

from coach.belief.belief import Belief
from coach.belief.chances import spread_points
from coach.belief.kalman import Array
from coach.belief.layout import A1_U, A1_V, A2_U, A2_V, C_U, C_V, M_U, M_V
from coach.machine import Machine
from coach.optics.gaussian import beam_radius, passed_fractions
from coach.optics.legs import leg_lengths
from coach.tuning import TUNING, Tuning

KEPT = (A1_U, A1_V, A2_U, A2_V, C_U, C_V, M_U, M_V)
SIZE = len(KEPT)
POINTS = 64
"""Places at which an uncertain mark is looked at."""

TO_PARTS = np.kron(np.array([[1.0, 0, 0, 0], [-1, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]]), np.eye(2))
"""From (a1, a2, c, m), u and v of each, to what mirror 1, mirror 2, the centre and mirror 2's own opening did."""
FROM_PARTS = np.linalg.inv(TO_PARTS)


@dataclass(frozen=True, eq=False)
class BeamState:
    """Mean and covariance of a1_u, a1_v, a2_u, a2_v (mrad), c_u, c_v, m_u, m_v (mm)."""

    mean: Array
    """(8,)."""
    cov: Array
    """(8, 8)."""

    @classmethod
    def of(cls, belief: Belief) -> "BeamState":
        """As a belief has it, readings that contradict the others left out."""
        mean, cov = belief.settled.mixture.moments
        kept = np.ix_(KEPT, KEPT)
        return cls(np.asarray(mean[list(KEPT)]), np.asarray(cov[kept]))

    def doubt(self, start: int) -> float:
        """One standard deviation of the worse of the two numbers from that place on."""
        return float(np.sqrt(np.diag(self.cov)[start : start + 2].max()))


def matrices(machine: Machine) -> Array:
    """H of every station, (stations, 2, 8): u = c_u + a1_u·L1 + a2_u·L2, v the same."""
    legs = [leg_lengths(machine, station.x, station.y) for station in machine.stations]
    return np.stack([np.kron(np.array([[leg1, leg2, 1.0, 0.0]]), np.eye(2)) for leg1, leg2 in legs])


def middle(machine: Machine, state: BeamState) -> tuple[Array, Array]:
    """The centre: the mean offset of all stations, (u, v) in mm, with its covariance."""
    rows = matrices(machine).mean(axis=0)
    return rows @ state.mean, rows @ state.cov @ rows.T


def worst(machine: Machine, state: BeamState) -> float:
    """mm: the largest offset of any station, as it is expected."""
    return float(np.hypot(*(matrices(machine) @ state.mean).T).max())


def passes(machine: Machine, state: BeamState, tuning: Tuning = TUNING) -> tuple[float, float]:
    """The fraction of a usual beam that passes the head's opening at the worst station, and its standard deviation.

    F(a, w, d) over where the mark may lie (docs/model.md, "How much light a decentred beam loses").
    """
    beam, found = tuning.beam, []
    for station, rows in zip(machine.stations, matrices(machine), strict=True):
        u, v = spread_points(rows @ state.mean, rows @ state.cov @ rows.T, POINTS)
        w = beam_radius(sum(leg_lengths(machine, station.x, station.y)), beam.waist, m2=beam.m2)
        through = passed_fractions(machine.aperture.head / 2, w, np.hypot(u, v))
        found.append((float(np.mean(through)), float(np.std(through))))
    return min(found)
