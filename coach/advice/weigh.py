"""What each way on is likely to cost, in pulses: confirm, learn more, turn, or shift.

Every adjustment must be confirmed by a mark at every station, and fails with a chance that the outlook
tells; a failure costs about another adjustment with its marks.  The comparison is rough on purpose: it
only has to rank four ways, and the benchmark judges the ranking.
"""

from dataclasses import dataclass

import numpy as np

from coach.advice.adjust import Adjustment, ShiftChoice, best_adjustment, best_shift, centred_bank
from coach.advice.advice import ENOUGH, SMALLER, Outlook
from coach.advice.outlook import outlook
from coach.advice.proof import proof_chance
from coach.advice.shots import marked_at
from coach.belief.bank import Bank
from coach.belief.belief import Belief
from coach.belief.gaussian import Gaussian
from coach.belief.layout import FIRST_SCREW

HOPEFUL = 0.25
"""A shift that leaves less than this chance waits until the tilt is cured: it comes with that turn."""
TURN_COST = 2.0
"""The trouble of turning screws, in pulses, beside the marks that must confirm it."""
SHIFT_COST = 1.0
"""The trouble of moving a part, likewise."""
EXTRA = 1.5
"""Pulses that a failed attempt costs beyond confirming it."""
UNCLEAR = 6.0
"""Pulses that it costs when the confirming marks leave it open whether all is well."""
PER_TOLERANCE = 3.0
"""Pulses that every tolerance's width of worst offset beyond the tolerance costs later."""
WORTH_A_TRY = 0.35
"""A turn or a shift that ends within tolerance with this chance beats giving up: if it fails, a mark shows it."""
REPEATING = 1.5
"""Marks made again when the confirming ones leave it open …"""
UNSETTLED = 0.6
"""… and the share of those cases that they do not settle."""
ONE_MARK = 0.5
"""Share of what is still unknown that the next mark takes away."""


@dataclass(frozen=True)
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

    def best_adjustment(self, now: Outlook) -> str:
        """For when no further mark tells anything: "turn" or "shift" if one is expected to help, else ""."""
        turn_helps = self.turn is not None and (
            self.turn.then.better_than(now)
            or (self.turn.then.chance >= now.chance and self.turn.spread_share < SMALLER)
            or (self.turn.then.chance > WORTH_A_TRY and now.chance < ENOUGH)
        )
        shift_helps = self.shift is not None and (
            self.shift.then.better_than(now)
            or (self.shift.then.chance > max(WORTH_A_TRY, now.chance) and now.chance < ENOUGH)
        )
        if turn_helps and (self.turn_cost <= self.shift_cost or not shift_helps):
            return "turn"
        return "shift" if shift_helps else ""


def weigh(belief: Belief, now: Outlook) -> Ways:
    """The ways on from a belief."""
    machine = belief.layout.machine
    count = len(machine.stations)

    def afterwards(then: Outlook, bank: Bank) -> float:
        """What comes after an adjustment and one mark at every station."""
        unclear = max(0.0, then.chance - proof_chance(belief.layout, bank, range(count)))
        beyond = max(0.0, then.worst / machine.tolerance - 1.0)
        return (1 - then.chance) * (count + EXTRA) + UNCLEAR * unclear + PER_TOLERANCE * beyond

    turn, shift = best_adjustment(belief), best_shift(belief)
    turning = learning = shifting = float("inf")
    if turn is not None:
        later = afterwards(turn.then, turn.centred)
        turning = TURN_COST + count + later
        known = centred_bank(belief, _known(turn.bank, belief.settled))
        saved = ONE_MARK * max(0.0, later - afterwards(outlook(belief.layout, known), known))
        learning = 1 + turning - saved
    tilted = turn is not None and turn.spread_share < SMALLER
    if shift is not None and (shift.then.chance > HOPEFUL or not tilted):
        shifting = SHIFT_COST + count + afterwards(shift.then, shift.bank)
    return Ways(turn, shift, _confirming(belief, now, min(turning, shifting)), learning, turning, shifting)


def _confirming(belief: Belief, now: Outlook, adjusting: float) -> float:
    """Cost of marking the stations that have no mark yet, with what comes if that does not end the job."""
    stations = belief.layout.machine.stations
    todo = [index for index, s in enumerate(stations) if not marked_at(belief, s.x, s.y)]
    unclear = max(0.0, now.chance - proof_chance(belief.layout, belief.settled, todo))
    return len(todo) + (1 - now.chance) * adjusting + unclear * (REPEATING + UNSETTLED * adjusting)


def _known(after: Bank, before: Bank) -> Bank:
    """The bank after an adjustment, if the beam itself had been known exactly before it."""
    beam = slice(0, FIRST_SCREW)
    cov = after.gaussian.cov.copy()
    cov[:, beam, beam] -= before.gaussian.cov[:, beam, beam]
    values, vectors = np.linalg.eigh(cov)
    positive = (vectors * np.maximum(values, 0.0)[:, None, :]) @ np.swapaxes(vectors, -1, -2)
    return Bank(after.hypotheses, Gaussian(after.gaussian.mean, positive), after.log_weight)
