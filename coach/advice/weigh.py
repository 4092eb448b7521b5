"""Which plan costs the fewest minutes at the machine, all told: what hands take, the marks that prove it, and what
comes if it was not enough.

Many plans (`coach.advice.plans`) are ranked by draws (`coach.advice.ranking`); the few best are then looked at
exactly.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice

import numpy as np

from coach.advice.adjust import (
    after_turns,
    keeps_on_target,
    kept_on_target,
    mirrors_of,
    probe,
    turns_any,
    unsettled_mirrors,
)
from coach.advice.facts import Outlook
from coach.advice.faults import faults_taken
from coach.advice.levers import Levers, Way, levers
from coach.advice.moves import Move, moved_bank
from coach.advice.outlook import outlook
from coach.advice.plans import Plans, joined, plans
from coach.advice.ranking import Ranked, minutes_to_go, polished, ranked
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.parts import PARTS

POLISHED = 2
"""Plans whose amounts are tried a little larger and smaller."""
LOOKED_AT = 3
"""Plans that are looked at exactly: draws tell the rest apart well enough."""


@dataclass(frozen=True, eq=False)
class Plan:
    """Turns and moves to make one after the other, and how things would stand."""

    turns: Array
    """(screws,)"""
    moves: tuple[Move, ...]
    first: Outlook
    """Once what is to be done now is done: the turns, or else the first move."""
    then: Outlook
    """Once everything is."""
    promise: float
    """Chance that this, and a move by what the next marks show, leaves every station within tolerance."""
    minutes: float
    """From now to a proven "done"."""
    left: float
    """mm: the worst offset expected to remain, what a move can still cure taken off."""
    probe: bool = False


@lru_cache(maxsize=4)
def best_plan(belief: Belief, *, may_turn: bool, may_move: bool) -> Plan | None:
    """The plan with the fewest minutes to "done"; None where hands can do nothing that is worth doing.

    A mirror of which nobody knows which way its screws drive is turned only to find out, and only where nothing else
    is likely to be enough.
    """
    unsettled = unsettled_mirrors(belief) if may_turn else []
    by = levers(belief, belief.settled)
    todo = plans(belief, by, may_turn=may_turn, may_move=may_move)
    best = _best(belief, by, todo.subset(~turns_any(belief, todo.turns, unsettled)))
    if not unsettled or (best is not None and best.promise >= belief.tuning.adjusting.without_probing):
        return best
    return _probing(belief, unsettled) or best


def _best(belief: Belief, by: Levers, todo: Plans) -> Plan | None:
    """The plan with the fewest minutes; where none is likely to be enough, the one that brings the end nearest."""
    if not len(todo):
        return None
    judged = ranked(belief, by, todo)
    promising = np.argsort(np.where(judged.thrown, np.inf, judged.minutes), kind="stable")[:POLISHED]
    better = [polished(belief, by, todo.only(int(k)), judged.only(int(k))) for k in promising]
    todo, judged = joined(todo, *(plan for plan, _ in better)), judged.beside(*(found for _, found in better))
    allowed = np.flatnonzero(~judged.thrown)
    if not len(allowed):
        return None
    hopeful = judged.promise[allowed].max() >= belief.tuning.adjusting.worth_a_try
    by_what = judged.minutes if hopeful else judged.left
    nearest = allowed[np.argsort(by_what[allowed], kind="stable")]
    keeping = (int(k) for k in nearest if keeps_on_target(belief, todo.turns[k]))
    found = [_looked_at(belief, todo, k, by, judged) for k in islice(keeping, LOOKED_AT if hopeful else 1)]
    return min(found, key=lambda plan: plan.minutes, default=None)


def _looked_at(belief: Belief, todo: Plans, k: int, by: Levers, judged: Ranked) -> Plan:
    """Plan k with its exact outlook."""
    turns, moves = todo.turns[k], in_order(by.ways, todo.moves[k])
    banks = [after_turns(belief, belief.settled, turns)] if turns.any() else []
    for move in moves:
        banks.append(moved_bank(belief, banks[-1] if banks else belief.settled, move))
    then = outlook(belief.layout, banks[-1])
    first = then if len(banks) == 1 else outlook(belief.layout, banks[0])
    exact = float(todo.minutes[k] + minutes_to_go(belief, then.chance, then.worst))
    promise, minutes = float(judged.promise[k]), float(judged.minutes[k])
    return Plan(turns, moves, first, then, max(promise, then.chance), min(minutes, exact), float(judged.left[k]))


def in_order(ways: tuple[Way, ...], amounts: Iterable[float]) -> tuple[Move, ...]:
    """One move for each part, the tube last."""
    along: dict[str, dict[str, float]] = {}
    for (part, way), mm in zip(ways, amounts, strict=True):
        if mm:
            along.setdefault(part, {})[way] = float(mm)
    return tuple(Move(part, **along[part]) for part in PARTS if part in along)


def _probing(belief: Belief, unsettled: list[int]) -> Plan | None:
    """The turns of all mirrors that would help most under the likeliest drives, so small that they only show it.

    What helps is judged with a move to follow: turning mirror 1 mostly carries all marks along, and who counts that
    against it never finds out which way it drives.
    """
    by = levers(belief, belief.settled.likeliest_drives())
    todo = plans(belief, by, may_turn=True, may_move=False)
    if not len(todo):
        return None
    best = int(np.argmin(ranked(belief, by, todo).left))
    turns = kept_on_target(belief, probe(belief, todo.turns[best], unsettled))
    if not turns_any(belief, turns[None], unsettled)[0]:
        return None
    then = outlook(belief.layout, after_turns(belief, belief.settled, turns))
    minutes = float(minutes_to_go(belief, then.chance, then.worst))
    return Plan(turns, (), then, then, then.chance, minutes, then.worst, probe=True)


def worth_it(belief: Belief, now: Outlook, plan: Plan) -> bool:
    """Whether a plan is worth a person's hands: it may well be enough, or it brings the end nearer."""
    adjusting, deciding = belief.tuning.adjusting, belief.tuning.deciding
    if now.chance >= (deciding.perhaps_at_best if faults_taken(belief) else deciding.perhaps_in):
        return plan.promise > now.chance + adjusting.gain
    smaller = 1.0 if belief.rounds < deciding.early_rounds else adjusting.smaller
    nearer = min(plan.then.worst, plan.left) < smaller * now.worst
    return plan.promise >= adjusting.worth_a_try or plan.promise > now.chance + adjusting.gain or nearer


def drives(belief: Belief) -> tuple[tuple[int, float], ...]:
    """For each mirror that has screws the probability that a clockwise turn pushes it."""
    return tuple((mirror, belief.drive_push(mirror)) for mirror in mirrors_of(belief))
