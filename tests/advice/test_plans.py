"""Plans of turns and moves: no farther than a part goes, and the turns fit what is moved beside them."""

import numpy as np
import pytest
from machines import ExactMachine, make_machine, obey_while_shooting

from coach import Session
from coach.advice.levers import Levers, levers
from coach.advice.plans import Plans, offsets_after, plans
from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.optics.mounts import PlateMotion

MOVES = [
    {"part": "tube", "up": 0.0, "back": 0.0},
    {"part": "mirror 1", "right": 0.0},
    {"part": "mirror 2", "right": 0.8},
    {"part": "head", "up": 0.7, "back": 0.6},
]
REACH = {("mirror 2", "right"): 0.8, ("head", "up"): 0.7, ("head", "back"): 0.6}


def _marked(**truth: object) -> Session:
    """Every station marked on a machine that is so far out."""
    machine = make_machine(moves=MOVES)
    session = Session.start(machine)
    obey_while_shooting(session, ExactMachine(machine, {1: "push", 2: "push"}, truth))
    return session


@pytest.mark.parametrize("way", [1.0, -1.0])
def test_no_part_is_to_be_moved_farther_than_it_goes(way: float) -> None:
    """Three times as far out as any part goes: the plans go to the ends of the slots, and not beyond."""
    belief = _marked(head_up=-2.5 * way, head_back=2.0 * way).belief
    by = levers(belief, belief.settled)
    moves = plans(belief, by, may_move=True).moves
    for column, (part, direction) in enumerate(by.ways):
        assert np.abs(moves[:, column]).max() == pytest.approx(REACH[part, direction])


def test_the_turns_of_a_plan_fit_its_moves() -> None:
    """Of the plans with the same moves the best has no neighbour a twentieth of a turn away that leaves less."""
    belief = _marked(mirror1=PlateMotion(1.0, -1.0), head_up=-2.5, head_back=2.0).belief
    by = levers(belief, belief.settled)
    every = plans(belief, by, may_move=True)
    every = every.subset(every.turns.any(axis=1))
    left = _left(belief, by, every)
    moves = np.unique(every.moves, axis=0)
    assert len(moves) >= 4
    for move in moves:
        of_it = np.flatnonzero((every.moves == move).all(axis=1))
        best = every.only(int(of_it[left[of_it].argmin()]))
        steps = np.concatenate([np.eye(best.turns.shape[1]), -np.eye(best.turns.shape[1])]) * 0.05
        beside = Plans(best.turns + steps, np.repeat(best.moves, len(steps), axis=0), np.zeros(len(steps)))
        assert left[of_it].min() <= 1.02 * _left(belief, by, beside).min(), move


def _left(belief: Belief, by: Levers, todo: Plans) -> Array:
    """(plans,): the expected squared offset once each was carried out, mm²."""
    return np.asarray(np.square(offsets_after(belief, by, todo)).sum(axis=-1).mean(axis=0))
