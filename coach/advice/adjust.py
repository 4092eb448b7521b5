"""What turns lead to, and a small probe while a drive is unsettled."""

from functools import lru_cache

import numpy as np

from coach.advice.off_target import beyond_probabilities
from coach.advice.plans import SMALLER, rounded
from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Array, Mask
from coach.belief.transitions import Turned


def after_turns(belief: Belief, bank: Bank, turns: Array) -> Bank:
    """The bank after those turns (screws,) are executed as hands do it."""
    if not turns.any():
        return bank
    done = Turned.by_hand(belief.layout, turns, belief.last_direction, belief.tuning.hands)
    return bank.with_mixture(done.after(bank.mixture))


def mirrors_of(belief: Belief) -> list[int]:
    """The mirrors that have screws."""
    return sorted({screw.mirror for screw in belief.layout.screws})


def unsettled_mirrors(belief: Belief) -> list[int]:
    """The mirrors of which nobody knows yet which way their screws drive."""
    limit = belief.tuning.adjusting.unsettled
    push = {mirror: belief.drive_push(mirror) for mirror in mirrors_of(belief)}
    return [mirror for mirror, chance in push.items() if min(chance, 1 - chance) > limit]


def turns_any(belief: Belief, turns: Array, mirrors: list[int]) -> Mask:
    """(plans,): whether turns (plans, screws) turn a screw of one of those mirrors."""
    mine = np.array([screw.mirror in mirrors for screw in belief.layout.screws], dtype=bool)
    return np.asarray((turns[:, mine] != 0).any(axis=1))


def probe(belief: Belief, turns: Array, unsettled: list[int]) -> Array:
    """The turns scaled so that the unsettled mirrors' marks move visibly, and not more than that."""
    adjusting, scaled = belief.tuning.adjusting, turns.copy()
    for mirror in unsettled:
        mine = np.array([screw.mirror == mirror for screw in belief.layout.screws])
        moved = _farthest_move(belief, np.where(mine, turns, 0.0))
        factor = min(1.0, adjusting.probe_moves / moved) if moved > 0 else 0.0
        scaled[mine] = rounded(factor * turns[mine], adjusting)
    return scaled


def _farthest_move(belief: Belief, turns: Array) -> float:
    """mm by which the turns are believed to move the farthest station's mark."""
    mean = belief.settled.likeliest_drives().mixture.moments.mean
    moved = np.tensordot(turns, belief.layout.moved_stations, axes=1) @ mean
    return float(np.hypot(moved[:, 0], moved[:, 1]).max())


def keeps_on_target(belief: Belief, turns: Array) -> bool:
    """Whether the turns alone leave every station on the tape that is on it now, as far as it is."""
    allowed = np.maximum(off_target_now(belief), belief.tuning.adjusting.off_target)
    return bool((off_target(belief, after_turns(belief, belief.settled, turns)) <= allowed).all())


def kept_on_target(belief: Belief, turns: Array) -> Array:
    """The turns, made smaller until no station that is on the tape now is likely thrown off it."""
    for share in SMALLER:
        tried = rounded(share * turns, belief.tuning.adjusting)
        if keeps_on_target(belief, tried):
            return tried
    return np.zeros_like(turns)


@lru_cache(maxsize=2)
def off_target_now(belief: Belief) -> Array:
    """The same as things stand."""
    return off_target(belief, belief.settled)


def off_target(belief: Belief, bank: Bank) -> Array:
    """For each station the probability that its mark leaves the tape, shape (stations,)."""
    radius = belief.layout.machine.tape.readable("head")
    return beyond_probabilities(bank, belief.layout.station_matrices, radius)
