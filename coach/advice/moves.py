"""Which part to move sideways, and how far: what a technician would move first, and never for less than it costs.

The order is that of the trade: mirror 2 in its slot or the head in its bracket, mirror 1 in its slot, and the tube
last of all, only where it is known to move.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coach.advice.facts import Outlook
from coach.advice.outlook import outlook
from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.belief.transitions import shifted
from coach.optics.shifts import shift_effect
from coach.parts import DIRECTIONS, PARTS, Direction, Part


@dataclass(frozen=True)
class Move:
    """A shift of one part, mm in the machine's frame."""

    part: Part
    up: float = 0.0
    right: float = 0.0
    back: float = 0.0


@dataclass(frozen=True, eq=False)
class MoveChoice:
    """A move, the bank and the outlook after it, and what it costs in minutes."""

    move: Move
    bank: Bank
    then: Outlook
    minutes: float


def mean_offset(belief: Belief, bank: Bank) -> tuple[Array, Array]:
    """The stations' mean offset (u, v) in mm: its expectation and its covariance."""
    mean, cov = bank.mixture.project(belief.layout.station_matrices.mean(axis=0)).moments
    return mean, cov


def moves(belief: Belief, bank: Bank) -> list[MoveChoice]:
    """Every move of one part that takes mean offset away and is worth somebody's hands, with what it leads to."""
    mean, _ = mean_offset(belief, bank)
    return [_choice(belief, bank, move) for move in _candidates(belief, float(mean[0]), float(mean[1]))]


def movable(belief: Belief, part: Part, direction: Direction) -> float:
    """How far a part may be advised to go in that direction, mm; 0 where it cannot, or was refused.

    The tube is moved only where it is known to move.
    """
    if (part, direction) in belief.refused:
        return 0.0
    reach = belief.layout.machine.reach(part, direction)
    if reach is None:
        return 0.0 if part == "tube" else belief.tuning.adjusting.unknown_reach
    return reach


def _candidates(belief: Belief, u: float, v: float) -> Iterator[Move]:
    """Each part, moved in both of its useful directions, or in one of them alone."""
    for part in PARTS:
        wanted = {direction: _amount(belief, part, direction, u, v) for direction in DIRECTIONS[part]}
        wanted = {direction: amount for direction, amount in wanted.items() if amount}
        if len(wanted) > 1:
            yield Move(part, **wanted)
        for direction, amount in wanted.items():
            yield Move(part, **{direction: amount})


def _amount(belief: Belief, part: Part, direction: Direction, u: float, v: float) -> float:
    """How far, mm, as far as the part goes; 0 where that is not worth moving it."""
    adjusting, side = belief.tuning.adjusting, belief.layout.machine.path.side
    effect = shift_effect(side, part, **{direction: 1.0})
    needed = -u / effect.head_u if effect.head_u else -v / effect.head_v
    reach = movable(belief, part, direction)
    steps = round(float(np.clip(needed, -reach, reach)) / adjusting.shift_step)
    amount = round(steps * adjusting.shift_step, 3)
    return amount if abs(amount) >= adjusting.least_move else 0.0


def _choice(belief: Belief, bank: Bank, move: Move) -> MoveChoice:
    after = moved_bank(belief, bank, move)
    costs = belief.tuning.costs
    minutes = (costs.tube if move.part == "tube" else costs.move) + (
        costs.again if move.part in belief.moved else 0.0
    )
    return MoveChoice(move, after, outlook(belief.layout, after), minutes)


def moved_bank(belief: Belief, bank: Bank, move: Move) -> Bank:
    """The bank once the part was moved as hands move it."""
    amounts = {"up": move.up, "right": move.right, "back": move.back}
    done = shifted(belief.layout, move.part, amounts, belief.tuning.hands)
    return bank.with_mixture(done.after(bank.mixture))
