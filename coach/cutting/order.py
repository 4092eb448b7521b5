"""At which stations a sheet is cut, and in which order: those far apart, on a short way."""

import math
from collections.abc import Sequence
from itertools import pairwise, permutations

from coach.machine import Machine, Station

MOST = 5
"""Stations of one cut check: more cost minutes and tell little."""


def to_cut(machine: Machine) -> tuple[Station, ...]:
    """The stations nearest the corners and the middle of the travel, in the order with the shortest way."""
    return _shortest(_far_apart(machine))


def _far_apart(machine: Machine) -> tuple[Station, ...]:
    """All where there are few; else one for each corner and for the middle, none of them twice."""
    if len(machine.stations) <= MOST:
        return machine.stations
    width, depth = machine.bed.width, machine.bed.depth
    places = [(0.0, 0.0), (width, 0.0), (0.0, depth), (width, depth), (width / 2, depth / 2)]
    left = list(machine.stations)
    for x, y in places:
        left.remove(min(left, key=lambda station: math.hypot(station.x - x, station.y - y)))
    return tuple(station for station in machine.stations if station not in left)


def _shortest(stations: Sequence[Station]) -> tuple[Station, ...]:
    """The first of the orders whose way is shortest, wherever it begins."""

    def way(order: Sequence[Station]) -> float:
        return round(sum(math.dist((a.x, a.y), (b.x, b.y)) for a, b in pairwise(order)), 6)

    return min(permutations(stations), key=way)
