"""Which screws of mirror 3 to turn and how far to move the lens: the least expected lean and offset, doubt included.

With y = (lean, nozzle offset), each over what is good, and amounts a: y ← y + J·a, where J's columns are what one
turn, or one mm, does.  E|y + J·a|² is least at a = −E[JᵀJ]⁻¹·E[Jᵀy], rough hands adding their share of every amount
to the diagonal.  Both turns and the lens together reach both, for every lens and wherever it hangs (docs/model.md).
"""

from dataclasses import dataclass

import numpy as np

from coach.belief.kalman import Array
from coach.head.belief import HeadBelief, shift, turn
from coach.head.layout import OFFSET
from coach.head.outlook import chance_good
from coach.head.worth import Prospect
from coach.optics.mounts import side_sign

RIDGE = 1e-6
"""Keeps amounts that do nothing at nothing."""


@dataclass(frozen=True, eq=False)
class Way:
    """What may be done, and how it would come out."""

    turns: dict[str, float]
    right: float
    back: float
    """mm of the lens tube, or what moving the head does in its place."""
    chance: float
    """Probability that lean and nozzle are both good afterwards."""
    minutes: float
    """Expected, to the end."""
    prospect: Prospect

    @property
    def does(self) -> bool:
        """Whether anything is turned or moved."""
        return bool(self.turns or self.right or self.back)


def as_it_is(belief: HeadBelief) -> Way:
    """Nothing done."""
    return _weighed(belief, {}, 0.0, 0.0)


def best_way(belief: HeadBelief, rows: Array, *, turning: bool, moving: bool) -> Way:
    """Of turning, moving and both, where they may be done, what is expected to take the fewest minutes.

    `rows`: what is to become small, (k, size), each over what is good.
    """
    ways = [
        _way(belief, rows, t, m)
        for t, m in ((True, False), (False, True), (True, True))
        if t <= turning and m <= moving
    ]
    return min((way for way in ways if way.does), key=lambda w: w.minutes, default=as_it_is(belief))


def _way(belief: HeadBelief, rows: Array, turning: bool, moving: bool) -> Way:
    layout, adjusting = belief.layout, belief.tuning.adjusting
    amounts = _least(belief, rows, turning, moving)
    count = len(layout.screws)
    turns = _rounded(amounts[:count], adjusting.finest_turn, adjusting.most_turned)
    most = belief.layout.lens_reach or belief.tuning.head.lens_reach  # fixed: the head goes in its place
    moves = _rounded(amounts[count:], adjusting.shift_step, most)
    named = {name: float(n) for name, n in zip(layout.screws, turns, strict=True) if n}
    right, back = float(moves[0]), float(moves[1])
    return _weighed(belief, named, right, back)


def _weighed(belief: HeadBelief, turns: dict[str, float], right: float, back: float) -> Way:
    after = done(belief, turns, right, back)
    prospect = Prospect.of(belief, after, _hands(belief, turns, right, back))
    (minutes,) = prospect.minutes(belief, [belief.moments.cov])
    return Way(turns, right, back, chance_good(after, after.bank.mixture), float(minutes), prospect)


def done(belief: HeadBelief, turns: dict[str, float], right: float, back: float) -> HeadBelief:
    """The belief once it is done by hand."""
    after = turn(belief, turns) if turns else belief
    return shift(after, "lens", right=right, back=back) if right or back else after


def _least(belief: HeadBelief, rows: Array, turning: bool, moving: bool) -> Array:
    """Turns of every screw, then mm of the lens to the right and back; 0 where they may not be used."""
    layout, hands = belief.layout, belief.tuning.hands
    mean, cov = (
        belief.bank.likelier_drive().mixture.moments
    )  # the other one is found out by a mark, not by half a turn
    second = cov + np.outer(mean, mean)
    turned = rows @ layout.screw_maps if len(layout.screws) else np.zeros((0, len(rows), layout.size))
    moved = np.stack([-rows[:, OFFSET], -rows[:, OFFSET + 1]])
    count = len(turned)
    normal = np.zeros((count + 2, count + 2))
    normal[:count, :count] = np.einsum("kri,ij,lrj->kl", turned, second, turned)
    normal[:count, count:] = np.einsum("kri,i,mr->km", turned, mean, moved)
    normal[count:, :count] = normal[:count, count:].T
    normal[count:, count:] = moved @ moved.T
    toward = np.concatenate([np.einsum("ri,ij,krj->k", rows, second, turned), moved @ (rows @ mean)])
    normal += np.diag(hands.turn_share**2 * np.diag(normal) + RIDGE * np.trace(normal))
    used = np.array([turning] * count + [moving] * 2)
    amounts = np.zeros(count + 2)
    if used.any():
        amounts[used] = -np.linalg.solve(normal[np.ix_(used, used)], toward[used])
    return amounts


def _rounded(amounts: Array, step: float, most: float) -> Array:
    """To what a hand can do, all made smaller alike where one would go too far."""
    largest = float(np.abs(amounts).max(initial=0.0))
    smaller = amounts * min(1.0, most / largest) if largest > 0 else amounts
    return np.asarray(step * np.round(smaller / step))


def _hands(belief: HeadBelief, turns: dict[str, float], right: float, back: float) -> float:
    costs = belief.tuning.costs
    turning = costs.reach + costs.screw * len(turns) if turns else 0.0
    return turning + (costs.move if right or back else 0.0)


def moved_part(belief: HeadBelief, right: float, back: float) -> tuple[str, dict[str, float]]:
    """The lens tube, or the head where that cannot be moved, with its amounts; ("", {}) where neither can."""
    if "lens" not in belief.refused and belief.layout.lens_reach:
        return "lens", {"right": right, "back": back}
    machine = belief.layout.machine
    if "head" not in belief.refused and machine.reach("head", "up") != 0 and machine.reach("head", "back") != 0:
        return "head", {"up": -side_sign(machine.path.side) * right, "back": back}
    return "", {}
