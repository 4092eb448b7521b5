"""Candidate adjustments: the best turns, a probe while a drive is unsettled, and the best shift."""

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
from coach.belief.transitions import Turned, shifted
from coach.optics.shifts import shift_effect
from coach.parts import Part

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
    centred: Bank
    """The bank once a shift has centred it too."""
    probe: bool = False


@dataclass(frozen=True)
class Move:
    """A shift of one part, mm in the machine's frame."""

    part: Part
    up: float = 0.0
    right: float = 0.0
    back: float = 0.0


@dataclass(frozen=True, eq=False)
class ShiftChoice:
    """A shift of one part, and the outlook after it."""

    move: Move
    bank: Bank
    then: Outlook


def after_turns(belief: Belief, bank: Bank, turns: Array) -> Bank:
    """The bank after those turns are executed as hands do it."""
    done = Turned.by_hand(belief.layout, turns, belief.last_direction, belief.tuning.hands)
    return bank.with_mixture(done.after(bank.mixture))


def best_adjustment(belief: Belief) -> Adjustment | None:
    """The turns to advise now, or None when no turning is expected to help or to teach."""
    bank, tuning = belief.settled, belief.tuning
    unsettled = [m for m in mirrors_of(belief) if _is_unsettled(belief, m)]
    cost = partial(spread_cost, belief.layout, tuning=tuning)
    judged = bank.likeliest_drives() if unsettled else bank
    turns = best_turns(cost(judged, mean_weight=tuning.adjusting.mean_weight), belief.last_direction, tuning)
    if unsettled:
        turns = _probe(belief, turns, unsettled)
    turns = _kept_on_target(belief, bank, turns)
    if not turns.any():
        return None
    after = after_turns(belief, bank, turns)
    spread = cost(bank, mean_weight=0.0)
    share = spread.of(turns) / max(spread.constant, 1e-9)
    centred = centred_bank(belief, after)
    return Adjustment(turns, after, outlook(belief.layout, centred), share, centred, bool(unsettled))


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


def mean_offset(belief: Belief, bank: Bank) -> tuple[Array, Array]:
    """The stations' mean offset (u, v) in mm: its expectation and its covariance."""
    mean, cov = bank.mixture.project(belief.layout.station_matrices.mean(axis=0)).moments
    return mean, cov


def centred_bank(belief: Belief, bank: Bank) -> Bank:
    """The bank once a shift has centred the believed mean offset, its doubt included."""
    move = _part_and_amount(belief, mean_offset(belief, bank)[0])
    return _shifted(belief, bank, move) if move else bank


def best_shift(belief: Belief) -> ShiftChoice | None:
    """The shift that takes the stations' mean offset away, or None when it is below a step."""
    move = _part_and_amount(belief, mean_offset(belief, belief.settled)[0])
    if move is None:
        return None
    moved = _shifted(belief, belief.settled, move)
    return ShiftChoice(move, moved, outlook(belief.layout, moved))


def _part_and_amount(belief: Belief, mean: Array) -> Move | None:
    """The tube for a height error or for both; mirror 2 along its slot for a sideways error alone."""
    side, step = belief.layout.machine.path.side, belief.tuning.adjusting.shift_step

    def stepped(amount: float) -> float:
        return float(round(round(amount / step) * step, 3))

    u, v = float(mean[0]), float(mean[1])
    if abs(v) < step and abs(u) < step:
        return None
    if abs(v) < step:
        return Move("mirror 2", right=stepped(-u / shift_effect(side, "mirror 2", right=1.0).head_u))
    back = 0.0 if abs(u) < step else stepped(-u / shift_effect(side, "tube", back=1.0).head_u)
    return Move("tube", up=stepped(-v / shift_effect(side, "tube", up=1.0).head_v), back=back)


def _shifted(belief: Belief, bank: Bank, move: Move) -> Bank:
    amounts = {"up": move.up, "right": move.right, "back": move.back}
    done = shifted(belief.layout, move.part, amounts, belief.tuning.hands)
    return bank.with_mixture(done.after(bank.mixture))
