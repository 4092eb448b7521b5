"""Candidate adjustments: the best turns, a probe while a drive is unsettled, and the best shift."""

from dataclasses import dataclass

import numpy as np

from coach.advice.advice import Outlook
from coach.advice.outlook import outlook
from coach.advice.tape import mark_beyond
from coach.advice.turns import best_turns, rounded, spread_cost
from coach.belief import bank as banks
from coach.belief.bank import Bank
from coach.belief.belief import Belief, mixture
from coach.belief.gaussian import Array, Gaussian
from coach.belief.noise import executed
from coach.optics.shifts import shift_effect

OFF_TAPE_ALLOWED = 0.02
"""Chance that an adjustment may carry for any station's next mark to leave the tape."""
UNSETTLED = 0.10
"""A drive is unsettled while the less likely way round has at least this probability."""
PROBE_SEEN = 3.0
"""mm: how far a probe should move the farthest mark, well above the doubt of a reading."""
SHIFT_STEP = 0.1
"""mm, what a ruler or a feeler gauge can do."""


@dataclass(frozen=True)
class Adjustment:
    """Turns (screws,), the bank they lead to and the outlook there."""

    turns: Array
    bank: Bank
    then: Outlook
    spread_share: float
    """Expected squared spread after the turns, as a share of the one before."""
    centred: Bank
    """The bank once a shift has centred it too."""
    probe: bool = False


@dataclass(frozen=True)
class ShiftChoice:
    """A shift of one part, mm in the machine's frame, and the outlook after it."""

    part: str
    up: float
    right: float
    back: float
    bank: Bank
    then: Outlook


def after_turns(belief: Belief, bank: Bank, turns: Array) -> Bank:
    """The bank after those turns are executed as hands do it."""
    done, variance = executed(turns, belief.last_direction)
    return banks.turned(bank, belief.layout.screw_maps, done, variance)


def best_adjustment(belief: Belief) -> Adjustment | None:
    """The turns to advise now, or None when no turning is expected to help or to teach."""
    bank = belief.settled
    unsettled = [m for m in mirrors_of(belief) if min(belief.drive_push(m), 1 - belief.drive_push(m)) > UNSETTLED]
    if unsettled:
        turns = best_turns(spread_cost(belief.layout, likeliest_drives(bank)), belief.last_direction)
        turns = _probe(belief, turns, unsettled)
    else:
        turns = best_turns(spread_cost(belief.layout, bank), belief.last_direction)
    turns = _kept_on_tape(belief, bank, turns)
    if not turns.any():
        return None
    after = after_turns(belief, bank, turns)
    spread = spread_cost(belief.layout, bank, mean_weight=0.0)
    share = spread.of(turns) / max(spread.constant, 1e-9)
    centred = centred_bank(belief, after)
    return Adjustment(turns, after, outlook(belief.layout, centred), share, centred, bool(unsettled))


def mirrors_of(belief: Belief) -> list[int]:
    """The mirrors that have screws."""
    return sorted({screw.mirror for screw in belief.layout.screws})


def likeliest_drives(bank: Bank) -> Bank:
    """The bank under its likeliest combination of drives alone."""
    totals: dict[tuple[tuple[int, int], ...], float] = {}
    for hypothesis, weight in zip(bank.hypotheses, bank.weights, strict=True):
        totals[hypothesis.drives] = totals.get(hypothesis.drives, 0.0) + float(weight)
    best = max(totals, key=lambda drives: totals[drives])
    keep = np.array([h.drives == best for h in bank.hypotheses])
    return Bank(
        tuple(h for h, kept in zip(bank.hypotheses, keep, strict=True) if kept),
        Gaussian(bank.gaussian.mean[keep], bank.gaussian.cov[keep]),
        banks.normalised(bank.log_weight[keep]),
    )


def _probe(belief: Belief, turns: Array, unsettled: list[int]) -> Array:
    """The turns scaled so that the unsettled mirrors' marks move visibly, and not more than that."""
    scaled = turns.copy()
    for mirror in unsettled:
        mine = np.array([screw.mirror == mirror for screw in belief.layout.screws])
        moved = _farthest_move(belief, np.where(mine, turns, 0.0))
        factor = min(1.0, PROBE_SEEN / moved) if moved > 0 else 0.0
        scaled[mine] = [rounded(float(turn)) for turn in factor * turns[mine]]
    return scaled


def _farthest_move(belief: Belief, turns: Array) -> float:
    """mm by which the turns are believed to move the farthest station's mark."""
    bank = likeliest_drives(belief.settled)
    mean = bank.weights @ bank.gaussian.mean
    moved = belief.layout.station_rows @ np.tensordot(turns, belief.layout.screw_maps, axes=1) @ mean
    return float(np.hypot(moved[:, 0], moved[:, 1]).max())


def _kept_on_tape(belief: Belief, bank: Bank, turns: Array) -> Array:
    """The turns, made smaller until no station that is on the tape now is likely thrown off it."""
    now = _off_tape(belief, bank)
    for share in (1.0, 0.75, 0.5, 0.25):
        tried = np.array([rounded(float(turn)) for turn in share * turns])
        then = _off_tape(belief, after_turns(belief, bank, tried))
        if (then <= np.maximum(now, OFF_TAPE_ALLOWED)).all():
            return tried
    return np.zeros_like(turns)


def _off_tape(belief: Belief, bank: Bank) -> Array:
    radius = belief.layout.machine.tape.radius
    return np.array([mark_beyond(bank, rows, radius) for rows in belief.layout.station_rows])


def centred_bank(belief: Belief, bank: Bank) -> Bank:
    """The bank once a shift has centred the believed mean offset, its doubt included."""
    mean, _ = mixture(bank, belief.layout.station_rows.mean(axis=0))
    shift = _part_and_amount(belief, mean)
    return _shifted(belief, bank, shift) if shift else bank


def best_shift(belief: Belief) -> ShiftChoice | None:
    """The shift that takes the stations' mean offset away, or None when it is below a step."""
    bank = belief.settled
    mean, _ = mixture(bank, belief.layout.station_rows.mean(axis=0))
    shift = _part_and_amount(belief, mean)
    if shift is None:
        return None
    part, up, right, back = shift
    moved = _shifted(belief, bank, shift)
    return ShiftChoice(part, up, right, back, moved, outlook(belief.layout, moved))


Amounts = tuple[str, float, float, float]


def _part_and_amount(belief: Belief, mean: Array) -> Amounts | None:
    """The tube for a height error or for both; mirror 2 along its slot for a sideways error alone."""
    side = belief.layout.machine.path.side
    u, v = float(mean[0]), float(mean[1])
    if abs(v) < SHIFT_STEP and abs(u) < SHIFT_STEP:
        return None
    if abs(v) < SHIFT_STEP:
        return "mirror 2", 0.0, _step(-u / shift_effect(side, "mirror 2", right=1.0).head_u), 0.0
    back = 0.0 if abs(u) < SHIFT_STEP else _step(-u / shift_effect(side, "tube", back=1.0).head_u)
    return "tube", _step(-v / shift_effect(side, "tube", up=1.0).head_v), 0.0, back


def _step(amount: float) -> float:
    return float(round(round(amount / SHIFT_STEP) * SHIFT_STEP, 3))


def _shifted(belief: Belief, bank: Bank, shift: Amounts) -> Bank:
    part, up, right, back = shift
    effect = shift_effect(belief.layout.machine.path.side, part, up=up, right=right, back=back)
    return banks.shifted(bank, effect, float(np.linalg.norm([up, right, back])))
