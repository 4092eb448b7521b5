"""Which part to move sideways, and how far: what a technician would move first, and never for less than it costs.

The order is that of the trade: mirror 2 in its slot or the head in its bracket, mirror 1 in its slot, and the tube
last of all, only where it is known to move.
"""

from dataclasses import dataclass

from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.belief.transitions import shifted
from coach.parts import FARTHEST_AT_ONCE, Direction, Part


@dataclass(frozen=True)
class Move:
    """A shift of one part, mm in the machine's frame."""

    part: Part
    up: float = 0.0
    right: float = 0.0
    back: float = 0.0


def mean_offset(belief: Belief, bank: Bank) -> tuple[Array, Array]:
    """The stations' mean offset (u, v) in mm: its expectation and its covariance."""
    mean, cov = bank.mixture.project(belief.layout.station_matrices.mean(axis=0)).moments
    return mean, cov


def movable(belief: Belief, part: Part, direction: Direction) -> float:
    """How far a part may be advised to go at once in that direction, mm; 0 where it cannot, or was refused.

    The tube is moved only where it is known to move.
    """
    if (part, direction) in belief.refused:
        return 0.0
    reach = belief.layout.machine.reach(part, direction)
    if reach is None:
        return 0.0 if part == "tube" else belief.tuning.adjusting.unknown_reach
    return min(reach, FARTHEST_AT_ONCE)


def moved_bank(belief: Belief, bank: Bank, move: Move) -> Bank:
    """The bank once the part was moved as hands move it."""
    amounts = {"up": move.up, "right": move.right, "back": move.back}
    done = shifted(belief.layout, move.part, amounts, belief.tuning.hands)
    return bank.with_mixture(done.after(bank.mixture))
