"""Which mark to make next: the one that tells most among those that will certainly land on the tape."""

from dataclasses import dataclass

import numpy as np

from coach.advice.advice import Shot
from coach.advice.tape import mark_beyond
from coach.belief.bank import moments
from coach.belief.belief import Belief
from coach.belief.gaussian import Array
from coach.belief.noise import READING_SD
from coach.machine import Target

OFF_TAPE_RISK = 0.004
"""Chance of leaving the tape above which a pulse is not advised."""
EDGE_MARGIN = 0.3
"""mm inside the tape's readable edge where a mark should still land."""
NEARER = (0.8, 0.6, 0.4, 0.2, 0.0)
"""Shares of the way from the nearest corner of the travel at which nearer points are tried."""
SAME_PLACE = 1.0
"""mm: pulses closer together than this are at the same station."""


@dataclass(frozen=True)
class Candidate:
    """A possible pulse, its risk of leaving the tape, and how much it would tell (mm²)."""

    shot: Shot
    risk: float
    tells: float

    @property
    def safe(self) -> bool:
        """Whether a pulse here may be advised."""
        return self.risk < OFF_TAPE_RISK


def candidate(belief: Belief, name: str, x: float, y: float, target: Target = "head") -> Candidate:
    """The pulse at head position (x, y) mm, judged by the present belief."""
    mean, cov = belief.expected(x, y, target)
    tape = belief.layout.machine.tape
    radius = (tape.radius if target == "head" else tape.mirror2_radius) - EDGE_MARGIN
    rows = belief.layout.reading_rows(x, y, target)
    risk = mark_beyond(belief.settled, rows, radius, READING_SD)
    sd = float(np.sqrt(np.linalg.eigvalsh(cov)[-1]))
    shot = Shot(name, x, y, target, float(mean[0]), float(mean[1]), sd)
    return Candidate(shot, risk, told(belief, rows))


def told(belief: Belief, rows: Array) -> float:
    """By how much a reading there shrinks the stations' summed variance, mm².

    Σ_s |H_s·P·Hᵀ·S^(−1/2)|² for the mixture's covariance P: the drop of tr(H_s·P·H_sᵀ).
    """
    cov = mixture_cov(belief)
    stations = belief.layout.station_rows.reshape(-1, belief.layout.size)
    spread = rows @ cov @ rows.T + READING_SD**2 * np.eye(2)
    cross = stations @ cov @ rows.T
    return float((cross * np.linalg.solve(spread, cross.T).T).sum())


def mixture_cov(belief: Belief) -> Array:
    """Covariance of the whole state over all hypotheses."""
    return moments(belief.settled)[1]


def marked_at(belief: Belief, x: float, y: float) -> int:
    """How many marks were read at this place since the last adjustment."""
    return sum(
        np.hypot(s.x - x, s.y - y) < SAME_PLACE and not s.missed and s.target == "head"
        for s in belief.round_sightings
    )


def missed_at(belief: Belief, x: float, y: float) -> bool:
    """Whether a pulse at this place missed the tape since the last adjustment."""
    return any(
        np.hypot(s.x - x, s.y - y) < SAME_PLACE and s.missed and s.target == "head" for s in belief.round_sightings
    )


def unmarked(belief: Belief) -> list[Candidate]:
    """The machine's stations without a mark since the last adjustment."""
    return [
        candidate(belief, s.name, s.x, s.y) for s in belief.layout.machine.stations if not marked_at(belief, s.x, s.y)
    ]


def nearest_corner(belief: Belief) -> tuple[float, float]:
    """Where both legs are shortest: the gantry at the back, the head at mirror 2's end, mm."""
    machine = belief.layout.machine
    return (0.0 if machine.path.side == "left" else machine.bed.width), machine.bed.depth


def nearer_points(belief: Belief) -> list[Candidate]:
    """Points on the way from the nearest corner to each station, for when the stations are not safe."""
    corner_x, corner_y = nearest_corner(belief)
    found = []
    for station in belief.layout.machine.stations:
        for share in NEARER[:-1]:
            x = round(corner_x + share * (station.x - corner_x))
            y = round(corner_y + share * (station.y - corner_y))
            if not marked_at(belief, x, y) and not missed_at(belief, x, y):
                found.append(candidate(belief, f"{share:.0%} of the way to {station.name}", x, y))
    return found


def first_search(belief: Belief) -> Candidate:
    """A pulse at mirror 2's own tape with the gantry at the very back."""
    x, y = nearest_corner(belief)
    return candidate(belief, "mirror 2", x, y, "mirror 2")
