"""Which mark to make next: the one that tells most among those that will certainly land on their target."""

from dataclasses import dataclass, replace

import numpy as np

from coach.advice.facts import Shot
from coach.advice.off_target import beyond_probabilities
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.machine import Target

NEARER = (0.8, 0.6, 0.4, 0.2)
"""Shares of the way from the nearest corner of the travel at which nearer points are tried."""


@dataclass(frozen=True)
class Candidate:
    """A possible pulse."""

    shot: Shot
    off_target: float
    """Probability that its mark leaves the target."""
    information: float
    """By how much its mark would shrink the stations' summed variance, mm²."""
    safe: bool
    """Whether the pulse may be advised."""


@dataclass(frozen=True)
class Spot:
    """A place where a pulse could be made, mm."""

    name: str
    x: float
    y: float
    target: Target = "head"
    wide: bool = False


def candidate(belief: Belief, name: str, x: float, y: float, target: Target = "head") -> Candidate:
    """The pulse at head position (x, y) mm, judged by the present belief."""
    return candidates(belief, [Spot(name, x, y, target)])[0]


def candidates(belief: Belief, spots: list[Spot]) -> list[Candidate]:
    """Pulses at one kind of target, judged together by the present belief."""
    if not spots:
        return []
    layout, shooting, first = belief.layout, belief.tuning.shooting, spots[0]
    matrices = np.stack([layout.measurement_matrix(spot.x, spot.y, spot.target) for spot in spots])
    radius = layout.machine.tape.readable(first.target, first.wide) - shooting.edge_margin
    sd = belief.tuning.readings.wide_sd if first.wide else belief.reading_sd
    risks = beyond_probabilities(belief.settled, matrices, radius, sd)
    return [
        Candidate(
            expected_shot(belief, spot, sd),
            float(risk),
            _information(belief, matrix, sd),
            bool(risk < shooting.off_target),
        )
        for spot, matrix, risk in zip(spots, matrices, risks, strict=True)
    ]


def expected_shot(belief: Belief, at: Spot | Shot, sd: float | None = None) -> Shot:
    """A pulse with where its mark is expected, read to `sd` mm or as this person usually reads."""
    mark = belief.expected(at.x, at.y, at.target, sd)
    shot = Shot(at.name, at.x, at.y, at.target, mark.u, mark.v, mark.sd, at.wide)
    return replace(shot, ms=at.ms, power=at.power, layers=at.layers) if isinstance(at, Shot) else shot


def _information(belief: Belief, matrix: Array, sd: float) -> float:
    """By how much a mark there shrinks the stations' summed variance, mm².

    Σ_s |H_s·P·Hᵀ·S^(−1/2)|² for the mixture's covariance P: the drop of tr(H_s·P·H_sᵀ).
    """
    seen = belief.settled.mixture.moments.cov @ matrix.T
    cross = belief.layout.station_matrices.reshape(-1, belief.layout.size) @ seen
    spread = matrix @ seen + sd**2 * np.eye(2)
    return float((cross * np.linalg.solve(spread, cross.T).T).sum())


def unmarked_candidates(belief: Belief) -> list[Candidate]:
    """The machine's stations without a mark since the last adjustment."""
    stations = [belief.layout.machine.stations[index] for index in belief.unmarked()]
    return candidates(belief, [Spot(station.name, station.x, station.y) for station in stations])


def nearest_corner(belief: Belief) -> tuple[float, float]:
    """Where both legs are shortest: the gantry at the back, the head at mirror 2's end, mm."""
    machine = belief.layout.machine
    return (0.0 if machine.path.side == "left" else machine.bed.width), machine.bed.depth


def wide_candidates(belief: Belief) -> list[Candidate]:
    """Pulses on a wide card: at the stations, and where both legs are shortest."""
    stations = [belief.layout.machine.stations[index] for index in belief.unmarked()]
    spots = [Spot(station.name, station.x, station.y, wide=True) for station in stations]
    x, y = nearest_corner(belief)
    near = [*spots, Spot("the nearest corner", x, y, wide=True)]
    return candidates(belief, [spot for spot in near if not belief.marks_at(spot.x, spot.y)])


def nearer_points(belief: Belief) -> list[Candidate]:
    """Points on the way from the nearest corner to each station, for when the stations are not safe."""
    corner_x, corner_y = nearest_corner(belief)
    found: list[Spot] = []
    for station in belief.layout.machine.stations:
        for share in NEARER:
            x = round(corner_x + share * (station.x - corner_x))
            y = round(corner_y + share * (station.y - corner_y))
            if not belief.marks_at(x, y):
                found.append(Spot(f"{share:.0%} of the way to {station.name}", x, y))
    return candidates(belief, found)


def first_search(belief: Belief) -> Candidate:
    """A pulse at mirror 2's own tape with the gantry at the very back."""
    x, y = nearest_corner(belief)
    return candidate(belief, "mirror 2", x, y, "mirror 2")
