"""Candidate turns: the best ones, and a probe while a drive is unsettled."""

from dataclasses import dataclass
from functools import partial

import numpy as np

from coach.advice.facts import Outlook
from coach.advice.off_target import beyond_probabilities
from coach.advice.outlook import outlook
from coach.advice.turns import best_turns, rounded, spread_cost
from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.belief.transitions import Turned

SMALLER_TURNS = (1.0, 0.75, 0.5, 0.25)
"""Shares of the best turns that are tried until no station is likely thrown off the tape."""


@dataclass(frozen=True, eq=False)
class Adjustment:
    """Turns (screws,), the bank they lead to and the outlook there."""

    turns: Array
    bank: Bank
    then: Outlook
    spread_share: float
    """Expected squared spread after the turns, as a share of the one before."""
    minutes: float
    """What the hands take."""
    probe: bool = False


def after_turns(belief: Belief, bank: Bank, turns: Array) -> Bank:
    """The bank after those turns are executed as hands do it."""
    done = Turned.by_hand(belief.layout, turns, belief.last_direction, belief.tuning.hands)
    return bank.with_mixture(done.after(bank.mixture))


def adjustments(belief: Belief) -> list[Adjustment]:
    """The turns worth weighing now; none when no turning is expected to help or to teach.

    Once for making all marks coincide, the mean left to a part that is moved later; and once for centring too, by the
    mirrors' tilt and, with three screws, their rise: what can be had without moving any part.
    """
    adjusting = belief.tuning.adjusting
    found = [_adjustment(belief, weight) for weight in (adjusting.mean_weight, 1.0)]
    return [adjustment for adjustment in found if adjustment is not None]


def _adjustment(belief: Belief, mean_weight: float) -> Adjustment | None:
    bank, tuning = belief.settled, belief.tuning
    unsettled = [m for m in mirrors_of(belief) if _is_unsettled(belief, m)]
    cost = partial(spread_cost, belief.layout, tuning=tuning)
    judged = bank.likeliest_drives() if unsettled else bank
    turns = best_turns(cost(judged, mean_weight=mean_weight), belief.last_direction, tuning)
    if unsettled:
        turns = _probe(belief, turns, unsettled)
    turns = _kept_on_target(belief, bank, turns)
    if not turns.any():
        return None
    after = after_turns(belief, bank, turns)
    spread = cost(bank, mean_weight=0.0 if mean_weight < 1 else 1.0)
    share = spread.of(turns) / max(spread.constant, 1e-9)
    return Adjustment(turns, after, outlook(belief.layout, after), share, _minutes(belief, turns), bool(unsettled))


def _minutes(belief: Belief, turns: Array) -> float:
    """Reaching each mirror that is turned, and each screw."""
    costs = belief.tuning.costs
    mirrors = {screw.mirror for screw, amount in zip(belief.layout.screws, turns, strict=True) if amount}
    return costs.reach * len(mirrors) + costs.screw * int((turns != 0).sum())


def mirrors_of(belief: Belief) -> list[int]:
    """The mirrors that have screws."""
    return sorted({screw.mirror for screw in belief.layout.screws})


def _is_unsettled(belief: Belief, mirror: int) -> bool:
    push = belief.drive_push(mirror)
    return min(push, 1 - push) > belief.tuning.adjusting.unsettled


def _probe(belief: Belief, turns: Array, unsettled: list[int]) -> Array:
    """The turns scaled so that the unsettled mirrors' marks move visibly, and not more than that."""
    adjusting, scaled = belief.tuning.adjusting, turns.copy()
    for mirror in unsettled:
        mine = np.array([screw.mirror == mirror for screw in belief.layout.screws])
        moved = _farthest_move(belief, np.where(mine, turns, 0.0))
        factor = min(1.0, adjusting.probe_moves / moved) if moved > 0 else 0.0
        scaled[mine] = [rounded(float(turn), adjusting) for turn in factor * turns[mine]]
    return scaled


def _farthest_move(belief: Belief, turns: Array) -> float:
    """mm by which the turns are believed to move the farthest station's mark."""
    mean = belief.settled.likeliest_drives().mixture.moments.mean
    moved = np.tensordot(turns, belief.layout.moved_stations, axes=1) @ mean
    return float(np.hypot(moved[:, 0], moved[:, 1]).max())


def _kept_on_target(belief: Belief, bank: Bank, turns: Array) -> Array:
    """The turns, made smaller until no station that is on the tape now is likely thrown off it."""
    adjusting = belief.tuning.adjusting
    if not turns.any():
        return turns
    allowed = np.maximum(_off_target(belief, bank), adjusting.off_target)
    for share in SMALLER_TURNS:
        tried = np.array([rounded(float(turn), adjusting) for turn in share * turns])
        if (_off_target(belief, after_turns(belief, bank, tried)) <= allowed).all():
            return tried
    return np.zeros_like(turns)


def _off_target(belief: Belief, bank: Bank) -> Array:
    radius = belief.layout.machine.tape.readable("head")
    return beyond_probabilities(bank, belief.layout.station_matrices, radius)
