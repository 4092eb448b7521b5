"""What each way on is likely to cost, in pulses: confirm, learn more, turn, or shift.

Every adjustment must be confirmed by a mark at every station, and fails with a chance that the outlook
tells; a failure costs about another adjustment with its marks.  The comparison is rough on purpose: it
only has to rank four ways, and the benchmark judges the ranking.
"""

from dataclasses import dataclass

import numpy as np

from coach.advice.adjust import Adjustment, ShiftChoice, after_turns, best_adjustment, best_shift, centred_bank
from coach.advice.confirmation import confirmation_probability
from coach.advice.facts import Outlook
from coach.advice.outlook import outlook
from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.kalman import Array, conditioned
from coach.belief.layout import FIRST_SCREW
from coach.tuning import Tuning


@dataclass(frozen=True, eq=False)
class Ways:
    """The candidate adjustments, and what each way on is likely to cost in pulses."""

    turn: Adjustment | None
    shift: ShiftChoice | None
    confirm_cost: float
    learn_cost: float
    turn_cost: float
    shift_cost: float

    @property
    def best(self) -> str:
        """ "confirm", "learn", "turn" or "shift"."""
        costs = {
            "confirm": self.confirm_cost,
            "learn": self.learn_cost,
            "turn": self.turn_cost,
            "shift": self.shift_cost,
        }
        return min(costs, key=lambda way: costs[way])

    def best_adjustment(self, now: Outlook, tuning: Tuning) -> str:
        """For when no further mark tells anything: "turn" or "shift" if one is expected to help, else ""."""
        adjusting, open_still = tuning.adjusting, now.chance < tuning.deciding.done_at_least
        turn_helps = self.turn is not None and (
            self.turn.then.better_than(now, adjusting)
            or (self.turn.then.chance >= now.chance and self.turn.spread_share < adjusting.smaller)
            or (self.turn.then.chance > adjusting.worth_a_try and open_still)
        )
        shift_helps = self.shift is not None and (
            self.shift.then.better_than(now, adjusting)
            or (self.shift.then.chance > max(adjusting.worth_a_try, now.chance) and open_still)
        )
        if turn_helps and (self.turn_cost <= self.shift_cost or not shift_helps):
            return "turn"
        return "shift" if shift_helps else ""


def weigh(belief: Belief, now: Outlook) -> Ways:
    """The ways on from a belief."""
    machine = belief.layout.machine
    count, costs = len(machine.stations), belief.tuning.costs

    def afterwards(then: Outlook, bank: Bank) -> float:
        """What comes after an adjustment and one mark at every station."""
        unclear = max(0.0, then.chance - confirmation_probability(belief, bank, range(count)))
        beyond = max(0.0, then.worst / machine.tolerance - 1.0)
        return (1 - then.chance) * (count + costs.failed) + costs.unclear * unclear + costs.per_tolerance * beyond

    turn, shift = best_adjustment(belief), best_shift(belief)
    turning = learning = shifting = float("inf")
    if turn is not None:
        later = afterwards(turn.then, turn.centred)
        turning = costs.turn + count + later
        known = centred_bank(belief, after_turns(belief, _beam_known(belief.settled), turn.turns))
        saved = costs.one_mark * max(0.0, later - afterwards(outlook(belief.layout, known), known))
        learning = 1 + turning - saved
    tilted = turn is not None and turn.spread_share < belief.tuning.adjusting.smaller
    if shift is not None and (shift.then.chance > costs.shift_hopeful or not tilted):
        shifting = costs.shift + count + afterwards(shift.then, shift.bank)
    return Ways(turn, shift, _confirming(belief, now, min(turning, shifting)), learning, turning, shifting)


def _confirming(belief: Belief, now: Outlook, adjusting: float) -> float:
    """Cost of marking the stations that have no mark yet, with what comes if that does not end the job."""
    todo, costs = belief.unmarked(), belief.tuning.costs
    unclear = max(0.0, now.chance - confirmation_probability(belief, belief.settled, todo))
    return len(todo) + (1 - now.chance) * adjusting + unclear * (costs.repeating + costs.unsettled * adjusting)


def _beam_known(bank: Bank) -> Bank:
    """The bank if the beam itself were known exactly where it is believed, whatever that says of the screws."""
    mixture, beam = bank.mixture, np.arange(FIRST_SCREW)
    at: Array = mixture.mean[:, beam]
    return bank.with_mixture(mixture.with_moments(conditioned(mixture.components, beam, at)))
