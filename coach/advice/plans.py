"""Plans: which screws are turned and which parts are moved together, fitted to the stations' offsets and ranked.

A plan takes the turns and moves that minimise the expected squared offset of all stations, doubt and rough hands
included, for one choice of screws and parts.  Which choice is best is decided by minutes: what hands take, the marks
that prove it, and what comes if it was not enough.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from coach.advice.levers import DRAWS, Levers, Way, normals
from coach.belief.belief import Belief
from coach.belief.hands import executed, reversal_probability
from coach.belief.kalman import Array, Mask
from coach.tuning import Adjusting

LEAST_TURNS = (0.0, 0.025, 0.05, 0.1)
"""Turns: a screw with less to do than this may be left alone; the hands' own roughness would do as much."""
SMALLER = (1.0, 0.6, 0.3)
"""Shares of the turns that are tried, so that no station is thrown off the tape."""


@dataclass(frozen=True, eq=False)
class Plans:
    """Plans beside each other: amounts to say, one row a plan."""

    turns: Array
    """(plans, screws), turns."""
    moves: Array
    """(plans, ways), mm."""
    minutes: Array
    """(plans,), what hands take."""

    def __len__(self) -> int:
        return len(self.turns)

    def only(self, k: int) -> "Plans":
        """Plan k alone."""
        return Plans(self.turns[k : k + 1], self.moves[k : k + 1], self.minutes[k : k + 1])

    def subset(self, keep: Mask) -> "Plans":
        """Only the plans of a mask."""
        return Plans(self.turns[keep], self.moves[keep], self.minutes[keep])


def joined(*several: Plans) -> Plans:
    """All of them beside each other."""
    turns, moves, minutes = (
        np.concatenate([getattr(each, name) for each in several]) for name in ("turns", "moves", "minutes")
    )
    return Plans(turns, moves, minutes)


def plans(belief: Belief, by: Levers, *, may_move: bool, may_turn: bool = True) -> Plans:
    """Every choice of mirrors and parts worth weighing, each with all screws and without those of little use.

    Fitted once to bring every station in at once, and once to make all marks coincide, the mean left to a later move.
    """
    found = list(_fits(belief, by, _quadratic(belief, by), *_choices(belief, by, may_move, may_turn)))
    if may_turn:
        found += _fits(belief, by, _quadratic(belief, centred(by)), *_choices(belief, by, False, may_turn))
    turns, moves = (np.concatenate(each) for each in zip(*found, strict=True))
    shares = SMALLER if may_turn else SMALLER[:1]
    turns, moves = (
        np.concatenate([rounded(share * turns, belief.tuning.adjusting) for share in shares]),
        np.tile(moves, (len(shares), 1)),
    )
    each = np.concatenate([turns, moves], axis=1).round(6)
    first = np.sort(np.unique(each, axis=0, return_index=True)[1])
    turns, moves = turns[first], moves[first]
    done = turns.any(axis=1) | moves.any(axis=1)
    return Plans(turns[done], moves[done], _minutes(belief, by, turns[done], moves[done]))


def _fits(
    belief: Belief, by: Levers, quadratic: tuple[Array, Array], screws: Mask, ways: Mask
) -> Iterator[tuple[Array, Array]]:
    """The best turns and moves of each choice, and again without the screws that have little to do."""
    for least in LEAST_TURNS:
        turns, moves = _fitted(belief, by, *quadratic, screws, ways)
        yield turns, moves
        screws = screws & (np.abs(turns) >= max(least, 1e-9))


def centred(by: Levers) -> Levers:
    """The same without what all stations have in common, along the axes in which a part can be moved to cure that."""
    return replace(by, offsets=_without_mean(by, by.offsets), screws=_without_mean(by, by.screws))


def _without_mean(by: Levers, offsets: Array) -> Array:
    out = offsets.copy()
    for axis, curable in enumerate((any(way != "up" for _, way in by.ways), any(way == "up" for _, way in by.ways))):
        if curable:
            out[..., axis::2] -= out[..., axis::2].mean(axis=-1, keepdims=True)
    return out


def _choices(belief: Belief, by: Levers, may_move: bool, may_turn: bool) -> tuple[Mask, Mask]:
    """Masks (plans, screws) and (plans, ways): every choice of mirrors with a part across and one in height."""
    mirrors = np.array([screw.mirror for screw in belief.layout.screws], dtype=int)
    mirror_choices = ((1, 2), (1,), (2,)) if may_turn else ()
    turned = [chosen for chosen in mirror_choices if set(chosen) <= set(mirrors)]
    parts = list(_part_choices(by.ways)) if may_move else [()]
    pairs = [pair for pair in product((*turned, ()), parts) if any(pair)]
    screws = np.array([np.isin(mirrors, chosen) for chosen, _ in pairs], dtype=bool)
    ways = np.array([[way in chosen for way in by.ways] for _, chosen in pairs], dtype=bool)
    return screws.reshape(len(pairs), len(mirrors)), ways.reshape(len(pairs), len(by.ways))


def _part_choices(ways: Sequence[Way]) -> Iterator[tuple[Way, ...]]:
    """None, one part across, one in height, or one of each."""
    across: list[Way | None] = [None, *(way for way in ways if way[1] != "up")]
    height: list[Way | None] = [None, *(way for way in ways if way[1] == "up")]
    for one, other in product(across, height):
        yield tuple(way for way in (one, other) if way is not None)


def _quadratic(belief: Belief, by: Levers) -> tuple[Array, Array]:
    """Q (levers, levers) and b (levers,): the expected squared offset is n·Q·n + 2·b·n + a constant."""
    hands, count = belief.tuning.hands, by.screws.shape[1]
    moved = np.broadcast_to(by.moved, (DRAWS, *by.moved.shape))
    effects = np.concatenate([by.screws, moved], axis=1).transpose(1, 0, 2).reshape(count + len(by.ways), -1)
    gram = effects @ effects.T / DRAWS
    shares = np.array([hands.turn_share] * count + [hands.shift_share] * len(by.ways))
    normal = gram + np.diag(shares**2 * np.diag(gram))
    ridge = 1e-9 * np.trace(gram) / max(len(gram), 1) + 1e-15
    return normal + ridge * np.eye(len(gram)), effects @ by.offsets.ravel() / DRAWS


def _fitted(
    belief: Belief, by: Levers, normal: Array, target: Array, screws: Mask, ways: Mask
) -> tuple[Array, Array]:
    """The best turns and moves of each choice, as hands can do them: the moves, then the turns that go with them."""
    adjusting, count = belief.tuning.adjusting, screws.shape[1]
    free = _solved(normal, target, np.concatenate([screws, ways], axis=1), np.zeros((len(screws), len(normal))))
    step = adjusting.shift_step
    moves = (np.clip(free[:, count:], -by.reach, by.reach) / step).round() * step
    moves[np.abs(moves) < adjusting.least_move] = 0.0
    fixed = np.concatenate([np.zeros((len(screws), count)), moves], axis=1)
    turns = _solved(normal, target, np.concatenate([screws, np.zeros_like(ways)], axis=1), fixed)[:, :count]
    lost = belief.tuning.hands.backlash_mean * reversal_probability(turns, belief.last_direction, belief.tuning.hands)
    most = adjusting.most_turned
    return rounded(np.clip(turns + np.sign(turns) * lost, -most, most), adjusting), moves


def _solved(normal: Array, target: Array, free: Mask, fixed: Array) -> Array:
    """(plans, levers): the minimum over the free levers of each plan, the others as they are fixed."""
    both = free[:, :, None] & free[:, None, :]
    matrix = np.where(both, normal, 0.0) + np.where(free, 0.0, 1.0)[:, :, None] * np.eye(len(normal))
    right = np.where(free, -(target + fixed @ normal), 0.0)
    return np.where(free, np.linalg.solve(matrix, right[:, :, None])[:, :, 0], fixed)


def rounded(turns: Array, adjusting: Adjusting) -> Array:
    """To the nearest step that a hand can make."""
    grid = np.where(np.abs(turns) >= adjusting.coarse_from, adjusting.coarse_turn, adjusting.finest_turn)
    return np.asarray(np.round(turns / grid) * grid)


def _minutes(belief: Belief, by: Levers, turns: Array, moves: Array) -> Array:
    """Reaching each mirror that is turned and each screw; each part that is moved, the tube by far the most."""
    costs, mirrors = belief.tuning.costs, np.array([screw.mirror for screw in belief.layout.screws])
    reached = sum((turns[:, mirrors == mirror] != 0).any(axis=1) for mirror in (1, 2)) if len(mirrors) else 0.0
    minutes = costs.reach * reached + costs.screw * (turns != 0).sum(axis=1)
    for part in by.parts:
        mine = np.array([way[0] == part for way in by.ways])
        each = (costs.tube if part == "tube" else costs.move) + costs.again * (part in belief.moved)
        minutes = minutes + each * (moves[:, mine] != 0).any(axis=1)
    return np.asarray(minutes, dtype=float)


def offsets_after(belief: Belief, by: Levers, todo: Plans) -> Array:
    """(draws, plans, 2·stations): the offsets once each plan was carried out as hands do it, mm."""
    hands, count = belief.tuning.hands, todo.turns.shape[1]
    made, variance = executed(todo.turns, belief.last_direction, hands)
    rough = np.where(todo.moves != 0, np.hypot(hands.shift_share * todo.moves, hands.shift_floor), 0.0)
    noise = normals(count + len(by.ways) + by.tilted.shape[1] * len(by.parts), 1)
    turned = made + np.sqrt(variance) * noise[:, None, :count]
    moved = todo.moves + rough * noise[:, None, count : count + len(by.ways)]
    tilts = noise[:, count + len(by.ways) :].reshape(DRAWS, len(by.parts), by.tilted.shape[1])
    tilted = np.einsum("dpt,pti->dpi", tilts, by.tilted)
    parts = ((todo.moves != 0).astype(float) @ by.part_of > 0).astype(float) if by.ways else np.zeros((len(todo), 0))
    return np.asarray(by.offsets[:, None] + turned @ by.screws + moved @ by.moved + parts @ tilted)


def centred_later(belief: Belief, by: Levers, offsets: Array) -> Array:
    """Those offsets once a part was moved by what the marks then showed, as roughly as parts are moved."""
    rough = belief.tuning.hands.shift_floor * normals(2, 2)[:, None]
    return _without_mean(by, offsets) + np.tile(rough, offsets.shape[-1] // 2)


def worst_of(offsets: Array) -> Array:
    """The worst station's offset, mm."""
    return np.asarray(np.hypot(offsets[..., 0::2], offsets[..., 1::2]).max(axis=-1))
