"""What each way on is likely to cost, in minutes at the machine: confirm, learn more, turn, or move a part.

Every adjustment must be confirmed by a mark at every station, and fails with a chance that the outlook
tells; a failure costs about another adjustment with its marks.  The comparison is rough on purpose: it
only has to rank the ways, and the benchmark judges the ranking.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from coach.advice.adjust import Adjustment, adjustments, after_turns
from coach.advice.confirmation import confirmation_probability
from coach.advice.facts import Outlook
from coach.advice.moves import MoveChoice, moves
from coach.advice.outlook import outlook
from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Array, conditioned
from coach.belief.layout import FIRST_SCREW

NEVER = float("inf")


@dataclass(frozen=True, eq=False)
class Attempt:
    """Turns, a move, or turns and then a move; and how things would stand."""

    turn: Adjustment | None
    move: MoveChoice | None
    then: Outlook


@dataclass(frozen=True, eq=False)
class Ways:
    """The candidate adjustments, and what each way on is likely to cost in minutes."""

    turn: Adjustment | None
    move: MoveChoice | None
    """The best single move of a part, now."""
    then_move: MoveChoice | None
    """The best move once the turns are made."""
    attempt: Attempt | None
    """What is likeliest to end within tolerance, whether or not it is expected to help."""
    confirm_cost: float
    learn_cost: float
    turn_cost: float
    move_cost: float

    @property
    def best(self) -> str:
        """ "confirm", "learn", "turn" or "move"."""
        costs = {
            "confirm": self.confirm_cost,
            "learn": self.learn_cost,
            "turn": self.turn_cost,
            "move": self.move_cost,
        }
        return min(costs, key=lambda way: costs[way])

    @property
    def turned(self) -> Outlook | None:
        """How things would stand after the turns and, where one is worth it, the move after them."""
        if self.turn is None:
            return None
        return self.then_move.then if self.then_move is not None else self.turn.then

    @property
    def adjusting(self) -> str:
        """The adjustment that costs least: "turn", "move", or "" where none is expected to help."""
        if self.turn is None and self.move is None:
            return ""
        return "turn" if self.turn_cost <= self.move_cost else "move"


def minutes_to_go(then: Outlook, belief: Belief) -> float:
    """Minutes from right after an adjustment to a proven "done": its marks, and what comes if it was not enough.

    pulse·(a + b·(1 − chance) + c·ln(worst/tolerance)), fitted on played sessions; never less than a mark everywhere.
    """
    costs, machine = belief.tuning.costs, belief.layout.machine
    far = np.log(max(then.worst / machine.tolerance, costs.close))
    pulses = costs.least_pulses + costs.pulses_if_failed * (1 - then.chance) + costs.pulses_for_distance * far
    return float(costs.pulse * max(pulses, len(machine.stations)))


@lru_cache(maxsize=2)
def weigh(belief: Belief, now: Outlook) -> Ways:
    """The ways on from a belief."""
    costs = belief.tuning.costs
    turn: Adjustment | None = None
    then_move: MoveChoice | None = None
    turning = learning = NEVER
    enough = minutes_to_go(now, belief) - belief.tuning.adjusting.least_gain
    attempt: Attempt | None = None
    for candidate in adjustments(belief):
        for choice in (None, *moves(belief, candidate.bank)):
            then = choice.then if choice else candidate.then
            cost = candidate.minutes + (choice.minutes if choice else 0.0) + minutes_to_go(then, belief)
            attempt = _likelier(attempt, Attempt(candidate, choice, then))
            helps = minutes_to_go(then, belief) < enough or (candidate.probe and choice is None)
            if helps and cost < turning:
                turn, then_move, turning = candidate, choice, cost
    if turn is not None:
        known = after_turns(belief, _beam_known(belief.settled), turn.turns)
        after_known = _least_after(belief, known)
        learning = costs.pulse + turning - costs.one_mark * max(0.0, turning - turn.minutes - after_known)
    tilted = turn is not None and turn.spread_share < belief.tuning.adjusting.smaller
    move, moving = None, NEVER
    for choice in moves(belief, belief.settled):
        cost = choice.minutes + minutes_to_go(choice.then, belief)
        attempt = _likelier(attempt, Attempt(None, choice, choice.then))
        waits = tilted and choice.then.chance <= costs.shift_hopeful
        if minutes_to_go(choice.then, belief) < enough and cost < moving and not waits:
            move, moving = choice, cost
    confirming = _confirming(belief, now, min(turning, moving))
    return Ways(turn, move, then_move, attempt, confirming, learning, turning, moving)


def _likelier(one: Attempt | None, other: Attempt) -> Attempt:
    return other if one is None or other.then.chance > one.then.chance else one


def _least_after(belief: Belief, bank: Bank) -> float:
    """Minutes from there on, with the move that saves most of them, or none."""
    still = minutes_to_go(outlook(belief.layout, bank), belief)
    return min((c.minutes + minutes_to_go(c.then, belief) for c in moves(belief, bank)), default=still)


def _confirming(belief: Belief, now: Outlook, adjusting: float) -> float:
    """Cost of marking the stations that have no mark yet, with what comes if that does not end the job."""
    todo, costs = belief.unmarked(), belief.tuning.costs
    unclear = max(0.0, now.chance - confirmation_probability(belief, belief.settled, todo))
    marks = costs.pulse * len(todo)
    return marks + (1 - now.chance) * adjusting + unclear * (costs.repeating + costs.unsettled * adjusting)


def _beam_known(bank: Bank) -> Bank:
    """The bank if the beam itself were known exactly where it is believed, whatever that says of the screws."""
    mixture, beam = bank.mixture, np.arange(FIRST_SCREW)
    at: Array = mixture.mean[:, beam]
    return bank.with_mixture(mixture.with_moments(conditioned(mixture.components, beam, at)))
