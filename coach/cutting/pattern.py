"""How the cuts differ over the bed: which of a few shapes explains them, and how much better than no fall.

Each pattern is a set of falls of log speed, one number a station, each as likely; what a set says of the intervals is
the mean of what its falls say, with the speed that all share open:

    L(pattern) = mean over its falls f of ∫ Π_s [Φ((b_s − μ + f_s)/σ) − Φ((a_s − μ + f_s)/σ)] dμ

A pattern is named only where it explains the cuts three times better than "alike" (Kass & Raftery, J. Am. Stat.
Assoc. 90, 773 (1995): positive evidence from 3 on; memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from coach.cutting.likelihood import Array, log_likelihood
from coach.cutting.limits import Limit
from coach.cutting.posterior import bounds
from coach.machine import Machine, Station
from coach.optics.focus import peak_left
from coach.optics.legs import leg_lengths
from coach.tuning.cutting import Cutting

Shape = Literal["alike", "legs", "bed", "one place", "crosswise"]
"""Crosswise: two opposite corners, as a bed that is twisted makes it, and a gantry that is out of square."""

FALLS = 7
BENDS = (1, 2, 4)
"""Powers of the way along the legs: what is cut off grows faster than the way."""
MEANS = 81
BEST_GAPS = 9
_OVER_DEPTH = 2.0
"""The gap that is in focus may lie so many depths of focus beyond those measured."""
CORNER = 0.3
"""Share of a twist's fall from which a station stands at one of its corners."""
INTENSITIES = (0.5, 1.0)
"""Powers of the peak intensity with which the speed goes: between a line's and a spot's, nobody knows."""


@dataclass(frozen=True)
class Pattern:
    """The shape that explains the cuts, and others that do nearly as well."""

    shape: Shape
    place: str = ""
    """The station, of "one place"."""
    also: tuple[Shape, ...] = ()
    opposite: tuple[str, ...] = ()
    """The stations at the two weak corners, of "crosswise"."""


def pattern(
    machine: Machine,
    limits: Sequence[Limit],
    explained: Array,
    gaps: Mapping[str, float] | None,
    depth: float,
    cutting: Cutting,
) -> Pattern:
    """The pattern of the cuts less what is explained; `gaps` head to bed in mm, `depth` of focus in mm.

    Without gaps a fall across the bed that no leg makes speaks of it.
    """
    places = [machine.station(limit.station) for limit in limits]
    falls = np.geomspace(cutting.falls_from, cutting.falls_to, FALLS)
    told: dict[Shape, float] = {
        "legs": _evidence(limits, explained, _along(machine, places, falls), cutting),
        "bed": _evidence(limits, explained, _bed(machine, places, falls, gaps, depth), cutting),
    }
    lone = [
        _evidence(limits, explained, -np.outer(falls, np.eye(len(places))[k]), cutting) for k in range(len(places))
    ]
    told["one place"] = float(np.mean(lone))
    twists = _twists(machine, places)
    crossed = [_evidence(limits, explained, -np.outer(falls, share), cutting) for share in twists]
    if crossed:
        told["crosswise"] = float(np.mean(crossed))
    alike = _evidence(limits, explained, np.zeros((1, len(places))), cutting)
    best = max(told, key=lambda shape: told[shape])
    if told[best] < cutting.named_from * alike:
        return Pattern("alike")
    also = tuple(s for s in told if s != best and told[s] * cutting.named_from > told[best])
    if best == "crosswise":
        share = twists[int(np.argmax(crossed))]
        return Pattern(
            best, "", also, tuple(place.name for place, s in zip(places, share, strict=True) if s >= CORNER)
        )
    return Pattern(best, places[int(np.argmax(lone))].name if best == "one place" else "", also)


def _evidence(limits: Sequence[Limit], explained: Array, offsets: Array, cutting: Cutting) -> float:
    """L of a set of falls, shape (falls, stations), up to a factor that all sets share."""
    low, high = bounds(limits, explained)
    ends = np.concatenate((low, high))
    ends = ends[np.isfinite(ends)]
    means = np.linspace(ends.min() - 0.5, ends.max() + cutting.falls_to, MEANS)
    sd = np.asarray(np.hypot(cutting.place_sd, cutting.least_spread))
    logs = log_likelihood(low, high, means[:, None, None] + offsets[None, :, :], sd)
    return float(np.exp(logs).mean(axis=1).mean())


def _along(machine: Machine, places: list[Station], falls: Array) -> Array:
    """Falls that grow with the way along both legs, or along one of them."""
    legs = np.array([leg_lengths(machine, place.x, place.y) for place in places])
    return _bent([legs.sum(axis=1), legs[:, 0], legs[:, 1]], falls, BENDS)


def _bed(
    machine: Machine, places: list[Station], falls: Array, gaps: Mapping[str, float] | None, depth: float
) -> Array:
    """What these gaps make, whichever of them is in focus; unmeasured, falls across the bed that no leg makes."""
    if gaps is None:
        legs = np.array([leg_lengths(machine, place.x, place.y) for place in places])
        across, along = legs[:, 1], legs[:, 0]
        return _bent([-across, -along, -across - along, across - along, along - across], falls, BENDS[:2])
    at = np.array([gaps[place.name] for place in places])
    best = np.linspace(at.min() - _OVER_DEPTH * depth, at.max() + _OVER_DEPTH * depth, BEST_GAPS)
    lost = np.log(np.vectorize(peak_left, otypes=[np.float64])(at[None, :] - best[:, None], depth))
    lost -= lost.max(axis=1, keepdims=True)
    return np.concatenate([power * lost for power in INTENSITIES])


def _twists(machine: Machine, places: list[Station]) -> list[Array]:
    """How far each station falls, 0 to 1, where two opposite corners of a twisted bed do; for either pair of them
    at both of which something was cut.

    A bed that is straight along its edges and twisted hangs by x·y from its middle; the focus is gauged to the pair
    that stands as the middle, or higher.
    """
    bed = machine.bed
    across = np.array([2 * place.x / bed.width - 1 for place in places])
    along = np.array([2 * place.y / bed.depth - 1 for place in places])
    found = [np.clip(sign * across * along, 0.0, None) for sign in (1.0, -1.0)]
    both = [share for share in found if {-1.0, 1.0} <= set(np.sign(across[share >= CORNER]))]
    return [share / share.max() for share in both]


def _bent(ways: list[Array], falls: Array, bends: Sequence[int]) -> Array:
    rows = []
    for way in ways:
        share = (way - way.min()) / max(np.ptp(way), 1e-9)
        rows += [-fall * share**bend for bend in bends for fall in falls]
    return np.array(rows)
