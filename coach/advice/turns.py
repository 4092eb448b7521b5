"""The turns that minimise the expected spread, doubt included, rounded to what a hand can do.

With x the state, H the stations' rows and B_k the map of screw k, turns n make the offsets
A(n)·x with A(n) = H + Σ n_k·H·B_k.  The cost E[xᵀAᵀWAx] = tr(A(n)ᵀ·W·A(n)·M) needs only the second
moment M = E[x·xᵀ] of the whole mixture and is quadratic in n; rough execution adds to its diagonal.
W weighs the spread (offsets minus their mean) fully and the mean lightly: a shift centres later.
"""

from dataclasses import dataclass

import numpy as np

from coach.advice.advice import MirrorTurn
from coach.belief.bank import Bank
from coach.belief.gaussian import Array
from coach.belief.layout import Layout
from coach.belief.noise import LASH_MEAN, LASH_SD, TURN_FLOOR, TURN_SHARE, reversals

MEAN_WEIGHT = 0.03
"""Weight of the stations' mean offset beside the spread."""
GRID = 1 / 64
"""Turns: the finest step a careful hand can make on purpose (about 6°)."""
COARSE_GRID, COARSE_FROM = 1 / 32, 0.25
"""Larger turns are rounded to this; their execution doubt is larger than the rounding."""
MOST = 1.0
"""Turns of one screw at once."""
WORTH = 0.06
"""A screw stays out when leaving it alone raises the cost that remains by no more than this share."""


@dataclass(frozen=True)
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


def spread_cost(layout: Layout, bank: Bank, mean_weight: float = MEAN_WEIGHT) -> SpreadCost:
    """The expected cost of turning, as a quadratic form in the turns."""
    rows = layout.station_rows
    count = len(rows)
    weigh = (np.eye(count) - (1 - mean_weight) / count) / count
    second = second_moment(bank)
    moved = np.einsum("sin,knm->ksim", rows, layout.screw_maps)
    weighted_rows = np.einsum("st,tim->sim", weigh, rows)
    constant = np.einsum("sin,sim,nm->", rows, weighted_rows, second)
    linear = np.einsum("ksin,sim,nm->k", moved, weighted_rows, second)
    weighted_moved = np.einsum("st,ktim->ksim", weigh, moved)
    quadratic = np.einsum("ksin,lsim,nm->kl", moved, weighted_moved, second)
    each = np.diag(quadratic).copy()
    quadratic = quadratic + TURN_SHARE**2 * np.diag(each)
    per_turn = each * (TURN_FLOOR**2 + 0.5 * LASH_SD**2 + GRID**2 / 12)
    return SpreadCost(float(constant), linear, quadratic, per_turn)


def second_moment(bank: Bank) -> Array:
    """E[x·xᵀ] over all hypotheses, shape (n, n)."""
    mean, cov = bank.gaussian.mean, bank.gaussian.cov
    return np.asarray(np.einsum("h,hij->ij", bank.weights, cov) + np.einsum("h,hi,hj->ij", bank.weights, mean, mean))


@dataclass(frozen=True)
class Chosen:
    """Turns to say, and the turns that hands are believed to make of them (lash taken off), per screw."""

    said: Array
    made: Array


def best_turns(cost: SpreadCost, last_direction: Array) -> Array:
    """Turns (screws,) to say, near the minimum of the expected cost of what hands make of them."""
    count = len(cost.linear)
    if not count:
        return np.zeros(0)
    allowed = np.ones(count, dtype=bool)
    best = _minimum(cost, allowed, last_direction)
    while allowed.sum() > 1:
        without = {
            int(k): _minimum(cost, allowed & (np.arange(count) != k), last_direction) for k in np.flatnonzero(allowed)
        }
        cheapest = min(without, key=lambda k: cost.of(without[k].made))
        if cost.of(without[cheapest].made) > (1 + WORTH) * cost.of(best.made):
            break
        allowed[cheapest] = False
        best = without[cheapest]
    return best.said


def _minimum(cost: SpreadCost, allowed: Array, last_direction: Array) -> Chosen:
    """Minimum over the allowed screws, limited to one turn, then rounded screw by screw.

    After each screw is rounded the others are solved again, so that they make up for the rounding.
    """
    said, made = np.zeros(len(cost.linear)), np.zeros(len(cost.linear))
    free = allowed.copy()
    while free.any():
        solved = _solve(cost, made, free)
        k = int(np.argmax(np.where(free, np.abs(solved), -1.0)))
        one = np.zeros(len(solved))
        one[k] = np.clip(solved[k], -MOST, MOST)
        lost = LASH_MEAN * reversals(one, last_direction)[k]
        said[k] = rounded(float(np.clip(one[k] + np.sign(one[k]) * lost, -MOST, MOST)))
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


def rounded(turns: float) -> float:
    """To the nearest step that a hand can make, never past one turn."""
    grid = COARSE_GRID if abs(turns) >= COARSE_FROM else GRID
    return float(np.round(turns / grid) * grid)


def as_mirror_turns(layout: Layout, turns: Array) -> tuple[MirrorTurn, ...]:
    """The turns that are not zero, grouped by mirror."""
    grouped: dict[int, dict[str, float]] = {}
    for screw, amount in zip(layout.screws, turns, strict=True):
        if amount != 0:
            grouped.setdefault(screw.mirror, {})[screw.name] = float(amount)
    return tuple(MirrorTurn(mirror, screws) for mirror, screws in grouped.items())
