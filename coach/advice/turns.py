"""The turns that minimise the expected spread, doubt included, rounded to what a hand can do.

With x the state, H the stations' matrices and B_k the map of screw k, turns n make the offsets
A(n)·x with A(n) = H + Σ n_k·H·B_k.  The cost E[xᵀAᵀWAx] = tr(A(n)ᵀ·W·A(n)·M) needs only the second
moment M = E[x·xᵀ] of the whole mixture and is quadratic in n; rough execution adds to its diagonal.
W weighs the spread (offsets minus their mean) fully and the mean lightly: a shift centres later.
"""

from dataclasses import dataclass

import numpy as np

from coach.advice.facts import MirrorTurn
from coach.belief.bank import Bank
from coach.belief.hands import reversal_probability
from coach.belief.kalman import Array
from coach.belief.layout import Layout
from coach.tuning import Adjusting, Tuning


@dataclass(frozen=True, eq=False)
class SpreadCost:
    """E[cost] = constant + 2·linear·n + nᵀ·quadratic·n + fixed noise per turned screw, in mm² per station."""

    constant: float
    linear: Array
    quadratic: Array
    per_turn: Array
    """Added for each screw that is turned at all: the part of the execution doubt that does not scale."""

    def of(self, turns: Array) -> float:
        """The expected cost of turns (screws,)."""
        fixed = float(self.per_turn @ (turns != 0))
        return float(self.constant + 2 * self.linear @ turns + turns @ self.quadratic @ turns) + fixed


def spread_cost(layout: Layout, bank: Bank, tuning: Tuning, mean_weight: float) -> SpreadCost:
    """The expected cost of turning, as a quadratic form in the turns."""
    count, hands = len(layout.station_matrices), tuning.hands
    weigh = (np.eye(count) - (1 - mean_weight) / count) / count
    terms = np.concatenate([layout.station_matrices[None], layout.moved_stations])  # H, then H·B_k
    weighted = np.einsum("st,ktin->ksin", weigh, terms)
    gram = (terms @ bank.mixture.second_moment).reshape(len(terms), -1) @ weighted.reshape(len(terms), -1).T
    each = np.diag(gram)[1:].copy()
    floor = hands.turn_floor**2 + 0.5 * hands.backlash_sd**2 + tuning.adjusting.finest_turn**2 / 12
    return SpreadCost(
        constant=float(gram[0, 0]),
        linear=gram[1:, 0],
        quadratic=gram[1:, 1:] + hands.turn_share**2 * np.diag(each),
        per_turn=each * floor,
    )


@dataclass(frozen=True, eq=False)
class Chosen:
    """Turns to say, and the turns that hands are believed to make of them (backlash taken off), per screw."""

    said: Array
    made: Array


def best_turns(cost: SpreadCost, last_direction: Array, tuning: Tuning) -> Array:
    """Turns (screws,) to say, near the minimum of the expected cost of what hands make of them."""
    count = len(cost.linear)
    if not count:
        return np.zeros(0)
    allowed = np.ones(count, dtype=bool)
    best = _minimum(cost, allowed, last_direction, tuning)
    while allowed.sum() > 1:
        without = {
            int(k): _minimum(cost, allowed & (np.arange(count) != k), last_direction, tuning)
            for k in np.flatnonzero(allowed)
        }
        cheapest = min(without, key=lambda k: cost.of(without[k].made))
        if cost.of(without[cheapest].made) > (1 + tuning.adjusting.leave_alone) * cost.of(best.made):
            break
        allowed[cheapest] = False
        best = without[cheapest]
    return best.said


def _minimum(cost: SpreadCost, allowed: Array, last_direction: Array, tuning: Tuning) -> Chosen:
    """Minimum over the allowed screws, limited to what is turned at once, then rounded screw by screw.

    After each screw is rounded the others are solved again, so that they make up for the rounding.
    """
    said, made = np.zeros(len(cost.linear)), np.zeros(len(cost.linear))
    most = tuning.adjusting.most_turned
    free = allowed.copy()
    while free.any():
        solved = _solve(cost, made, free)
        k = int(np.argmax(np.where(free, np.abs(solved), -1.0)))
        one = np.zeros(len(solved))
        one[k] = np.clip(solved[k], -most, most)
        lost = tuning.hands.backlash_mean * reversal_probability(one, last_direction, tuning.hands)[k]
        said[k] = rounded(float(np.clip(one[k] + np.sign(one[k]) * lost, -most, most)), tuning.adjusting)
        made[k] = np.sign(said[k]) * max(0.0, abs(said[k]) - lost)
        free[k] = False
    return Chosen(said, made)


def _solve(cost: SpreadCost, fixed: Array, free: Array) -> Array:
    index = np.flatnonzero(free)
    held = np.where(free, 0.0, fixed)
    matrix = cost.quadratic[np.ix_(index, index)]
    right = -(cost.linear + cost.quadratic @ held)[index]
    ridge = 1e-9 * np.trace(cost.quadratic) / len(fixed)
    solved = held.copy()
    solved[index] = np.linalg.solve(matrix + (ridge + 1e-15) * np.eye(len(index)), right)
    return solved


def rounded(turns: float, adjusting: Adjusting) -> float:
    """To the nearest step that a hand can make."""
    grid = adjusting.coarse_turn if abs(turns) >= adjusting.coarse_from else adjusting.finest_turn
    return float(np.round(turns / grid) * grid)


def as_mirror_turns(layout: Layout, turns: Array) -> tuple[MirrorTurn, ...]:
    """The turns that are not zero, grouped by mirror."""
    grouped: dict[int, dict[str, float]] = {}
    for screw, amount in zip(layout.screws, turns, strict=True):
        if amount != 0:
            grouped.setdefault(screw.mirror, {})[screw.name] = float(amount)
    return tuple(MirrorTurn(mirror, screws) for mirror, screws in grouped.items())
