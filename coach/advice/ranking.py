"""Plans ranked by draws: the minutes at the machine that each is likely to take until a proven "done"."""

from dataclasses import dataclass

import numpy as np

from coach.advice.levers import Levers
from coach.advice.plans import Plans, centred, centred_later, offsets_after, rounded, worst_of
from coach.belief.belief import Belief
from coach.belief.kalman import Array, Mask
from coach.tuning import Adjusting

STEPS = 4
"""Steps by which the best plans' amounts are tried a little larger and smaller."""


def minutes_to_go(belief: Belief, chance: Array | float, worst: Array | float) -> Array:
    """Minutes from right after an adjustment to a proven "done".

    A mark at every station, and where it was not enough, which has the probability 1 − chance, adjusting again:
    dearer the farther out it is left, and with every round that did not bring the machine in.
    """
    costs, machine = belief.tuning.costs, belief.layout.machine
    far = np.log(np.maximum(np.asarray(worst) / machine.tolerance, costs.close))
    again = (costs.failed + costs.farther * far) * (1.0 + costs.failed_more * belief.rounds)
    return np.asarray(costs.pulse * len(machine.stations) + (1.0 - np.asarray(chance)) * again)


@dataclass(frozen=True, eq=False)
class Ranked:
    """What is expected of plans, each (plans,)."""

    promise: Array
    """Chance in which it ends, moving a part after the next marks included where that is quicker."""
    minutes: Array
    """To "done"."""
    left: Array
    """mm: the worst offset that remains, what a move can still cure taken off."""
    thrown: Mask
    """Whether it is likely to throw a mark off the tape."""

    def only(self, k: int) -> "Ranked":
        """Plan k alone."""
        one = slice(k, k + 1)
        return Ranked(self.promise[one], self.minutes[one], self.left[one], self.thrown[one])

    def beside(self, *others: "Ranked") -> "Ranked":
        """These, and others after them."""
        every = (self, *others)
        return Ranked(
            np.concatenate([one.promise for one in every]),
            np.concatenate([one.minutes for one in every]),
            np.concatenate([one.left for one in every]),
            np.concatenate([one.thrown for one in every]),
        )


def ranked(belief: Belief, by: Levers, todo: Plans) -> Ranked:
    """What is to be expected of each plan: brought in at once, or spread first and the mean by a later move."""
    offsets, costs = offsets_after(belief, by, todo), belief.tuning.costs
    tolerance, marks = belief.layout.machine.tolerance, costs.pulse * len(belief.layout.machine.stations)
    worst, later = worst_of(offsets), worst_of(centred_later(belief, by, offsets))
    chance, then = (worst <= tolerance).mean(axis=0), (later <= tolerance).mean(axis=0)
    tube = todo.moves[:, [part == "tube" for part, _ in by.ways]].any(axis=1)
    between = marks * (tube & todo.turns.any(axis=1))  # the tube is moved only by what marks show
    minutes = todo.minutes + between + minutes_to_go(belief, chance, worst.mean(axis=0))
    price = costs.tube if all(part == "tube" for part in by.parts) else costs.move
    onward = todo.minutes + marks + price + minutes_to_go(belief, then, later.mean(axis=0))
    spread = float(worst_of(centred(by).offsets).mean())
    gains = later.mean(axis=0) < belief.tuning.adjusting.smaller * spread  # else the move would wait for ever
    waits = (onward < minutes) & bool(by.ways) & ~todo.moves.any(axis=1) & gains
    off = _off(belief, offsets)
    return Ranked(
        np.where(waits, then, chance),
        np.where(waits, onward, minutes),
        later.mean(axis=0) + todo.minutes / costs.nearer,
        off > max(float(_off(belief, by.offsets[:, None])[0]), belief.tuning.adjusting.off_target),
    )


def _off(belief: Belief, offsets: Array) -> Array:
    """(plans,): how likely the likeliest station's mark is to be off the tape."""
    beyond = np.hypot(offsets[..., 0::2], offsets[..., 1::2]) > belief.layout.machine.tape.readable("head")
    return np.asarray(beyond.mean(axis=0).max(axis=1))


def polished(belief: Belief, by: Levers, plan: Plans, found: Ranked) -> tuple[Plans, Ranked]:
    """One plan and its rank, each of its amounts by a step more or less as long as that saves minutes."""
    adjusting = belief.tuning.adjusting
    for _ in range(STEPS):
        around = _neighbours(plan, adjusting, by.reach)
        if not len(around):
            break
        tried = ranked(belief, by, around)
        best = int(np.argmin(tried.minutes))
        if tried.minutes[best] >= found.minutes[0]:
            break
        plan, found = around.only(best), tried.only(best)
    return plan, found


def _neighbours(plan: Plans, adjusting: Adjusting, reach: Array) -> Plans:
    """One plan with each amount that is not zero one step (two of a move's) larger and smaller."""
    count = plan.turns.shape[1]
    turn = np.where(np.abs(plan.turns[0]) < adjusting.coarse_from, adjusting.finest_turn, adjusting.coarse_turn)
    steps = np.concatenate([turn, np.full(plan.moves.shape[1], 2 * adjusting.shift_step)])
    amounts = np.concatenate([plan.turns[0], plan.moves[0]])
    used = np.flatnonzero(amounts)
    around = amounts + np.concatenate([np.diag(steps)[used], -np.diag(steps)[used]])
    turns, moves = rounded(around[:, :count], adjusting), around[:, count:]
    least = adjusting.least_move
    fine = ((moves == 0) | ((np.abs(moves) >= least - 1e-9) & (np.abs(moves) <= reach + 1e-9))).all(axis=1)
    fine &= (np.abs(turns) <= adjusting.most_turned).all(axis=1) & (np.abs(around[:, used]) > 1e-6).all(axis=1)
    return Plans(turns[fine], moves[fine], np.repeat(plan.minutes, int(fine.sum())))
