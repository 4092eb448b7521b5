"""What the coach believes about mirror 3, lens and nozzle: frozen, and changed only by making a new one.

The same arithmetic as for the beam's path (`coach.belief`): a linear reading of a Gaussian state for every mark, a
linear map for every turn, because the turns are known.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

import numpy as np

from coach.belief.hands import executed
from coach.belief.kalman import Array, Moments
from coach.belief.mixture import GaussianMixture
from coach.belief.transitions import Stepped, Turned
from coach.errors import OutOfReach, UnknownName
from coach.head.layout import NOZZLE, OFFSET, PLACE_IN, PLACE_OUT, SLOPE, HeadLayout
from coach.head.marks import HeadBank, HeadMark, not_through, seen
from coach.head.prior import ANYWHERE, initial
from coach.machine import Machine
from coach.mount import checked_screws
from coach.optics.below import least_lowered
from coach.optics.mounts import side_sign
from coach.tuning import TUNING, Tuning


@dataclass(frozen=True, eq=False)
class HeadBelief:
    """The bank now, and what was done and seen so far."""

    layout: HeadLayout
    tuning: Tuning
    bank: HeadBank
    last_direction: Array
    """Per screw of mirror 3: +1, −1, or 0 where nobody knows which way it was turned last."""
    marks: tuple[HeadMark, ...] = ()
    """Since the last adjustment."""
    heights: Mapping[bool, frozenset[float]] = field(default_factory=dict)
    """Lens in or out, to the heights at which those on the card were made; few, however many marks there are."""
    lens_in: bool = True
    deepest: float = 0.0
    """mm: how far the bed went down at most in this session; 0 where it did not yet."""
    rounds: int = 0
    adjusting: bool = False
    """Turned or shifted since the last mark: more of it belongs to the same round."""
    turned: bool = False
    """Mirror 3's screws, since the last mark."""
    shifted: bool = False
    """The lens or the head, since the last mark."""
    locked: bool = False
    """Mirror 3's lock nuts were tightened since, and nothing else was touched: one mark confirms."""
    refused: frozenset[str] = frozenset()
    """Parts that the person said cannot be moved."""
    accepted: frozenset[str] = frozenset()
    """Faults that are taken as they are."""

    @classmethod
    def initial(cls, machine: Machine, today: date, tuning: Tuning = TUNING) -> "HeadBelief":
        """The belief before the first mark; `today` tells how old what earlier sessions taught is."""
        layout = HeadLayout(machine, tuning.head)
        push, mixture = initial(layout, today, tuning)
        return cls(layout, tuning, HeadBank(push, mixture), np.zeros(len(layout.screws)))

    @cached_property
    def moments(self) -> Moments:
        """Mean and covariance of the state over all hypotheses."""
        return self.bank.mixture.moments

    def on_card(self, *, lens: bool) -> tuple[HeadMark, ...]:
        """This round's marks on the card."""
        return tuple(m for m in self.marks if m.target == "bed" and m.lens == lens and m.seen)

    def two_heights(self, *, lens: bool) -> bool:
        """Whether this round's marks on the card tell a slope."""
        marks = self.on_card(lens=lens)
        heights = [m.lowered for m in marks]
        read = min((math.sqrt(max(m.sd**2 - self.tuning.head.bed_play**2, 0.0)) for m in marks), default=1.0)
        least = 0.999 * least_lowered(read, self.tuning.head.lean)
        return bool(marks) and max(heights) - min(heights) >= least


def check_heights(belief: HeadBelief, lowered: float, sd: float, *, lens: bool) -> None:
    """That a mark at this height, with those of its round, would tell a lean.  Raises OutOfReach.

    Two readings of `sd` mm each, √2·sd apart, make more than the lean that matters where heights lie too near.
    """
    heights = belief.heights.get(lens, frozenset())
    apart = max((abs(lowered - height) for height in heights), default=0.0)
    limit = belief.tuning.head.lean
    least = least_lowered(sd, limit)
    if heights and apart < least and lowered not in heights:
        raise OutOfReach(
            f"Two heights only {apart:g} mm apart tell nothing: reading the marks to {sd:g} mm makes more than "
            f"{limit:g}° by itself",
            expected=f"a bed at least {least:.0f} mm lower or higher than for the other mark",
            example=f"lowered {max(10.0 * np.ceil(least / 10), belief.tuning.head.lowered):g} mm",
        )


def mark(belief: HeadBelief, found: HeadMark) -> HeadBelief:
    """The belief after one mark; a lens that went out and in again lies a little differently."""
    bank = belief.bank
    if found.lens and not belief.lens_in:
        bank = _stepped(bank, _seated(belief.layout, belief.tuning.head.seat_sd))
    if found.seen:
        bank = seen(belief.layout, bank, found, belief.tuning.readings)
    else:
        bank = not_through(belief.layout, bank)
    return replace(
        belief,
        bank=bank,
        marks=(*belief.marks, found),
        heights=_with(belief.heights, found),
        lens_in=found.lens,
        deepest=max(belief.deepest, found.lowered),
        adjusting=False,
        turned=False,
        shifted=False,
    )


def _with(heights: Mapping[bool, frozenset[float]], found: HeadMark) -> Mapping[bool, frozenset[float]]:
    if found.target != "bed" or not found.seen:
        return heights
    return {**heights, found.lens: heights.get(found.lens, frozenset()) | {found.lowered}}


def turn(belief: HeadBelief, screws: Mapping[str, float]) -> HeadBelief:
    """The belief after screws of mirror 3 were turned.  Raises UnknownName, InputError or OutOfReach."""
    amounts = checked_screws(belief.layout.machine.mount(3), screws)
    turns = np.array([amounts.get(name, 0.0) for name in belief.layout.screws])
    if not turns.any():
        return belief
    done = Turned(belief.layout.screw_maps, *executed(turns, belief.last_direction, belief.tuning.hands))
    direction = np.where(turns != 0, np.sign(turns), belief.last_direction)
    after = _adjusted(belief, done.after(belief.bank.mixture))
    return replace(after, last_direction=direction, turned=True)


def shift_step(layout: HeadLayout, part: str, up: float, right: float, back: float) -> tuple[float, float]:
    """How far the lens goes against the beam, (x, y) in mm, when the lens tube or the whole head is moved.

    The head up by 1 meets the beam 1 lower, which lands 1 to the right on side left, to the left on side right: as if
    the lens had gone the other way.  Raises UnknownName for another part.
    """
    if part == "lens":
        return right, back
    if part == "head":
        return -side_sign(layout.machine.path.side) * up, back
    raise UnknownName(f"Moving {part!r} is no business of lens and nozzle", expected="lens or head")


def shift(belief: HeadBelief, part: str, up: float = 0.0, right: float = 0.0, back: float = 0.0) -> HeadBelief:
    """The belief after the lens tube, with its nozzle, or the head was moved, mm in the machine's frame."""
    layout, head = belief.layout, belief.tuning.head
    step = shift_step(layout, part, up, right, back)
    if not any(step):
        return belief
    moved = np.zeros(layout.size)
    spread = []
    for axis, amount in enumerate(step):
        moved -= layout.column(OFFSET, axis, amount)
        spread.append(layout.column(OFFSET, axis, float(np.hypot(head.shift_share * amount, head.shift_floor))))
    done = Stepped(moved, np.stack(spread, axis=1))
    after = _adjusted(belief, done.after(belief.bank.mixture))
    return replace(after, shifted=True, refused=belief.refused - {part})


def lock(belief: HeadBelief) -> HeadBelief:
    """The belief after the lock nuts of mirror 3's mount were tightened."""
    sd = belief.tuning.hands.lock_slope_sd
    return replace(_loosened(belief, [(SLOPE, sd)]), locked=True)


def disturb(belief: HeadBelief, part: str) -> HeadBelief:
    """The belief after a part was out, bumped, turned or moved: what it steers below mirror 3 is known less well."""
    hands, head = belief.tuning.hands, belief.tuning.head
    slope, offset = hands.disturbed_slope, hands.disturbed_offset
    if part == "lens":
        return _forgotten(_stepped(belief.bank, _seated(belief.layout, 2 * head.seat_sd)), belief)
    if part == "head":
        return _loosened(belief, [(OFFSET, offset)])
    if part == "mirror 3":
        return _loosened(belief, [(SLOPE, slope), (OFFSET, slope * head.mirror_distance / 1000)])
    return _loosened(belief, [(SLOPE, slope), (OFFSET, offset)])


def beam_changed(belief: HeadBelief) -> HeadBelief:
    """The belief after the beam before the head was worked on: it may come in otherwise."""
    return _loosened(belief, [(SLOPE, belief.tuning.head.beam_slope), (OFFSET, belief.tuning.hands.disturbed_offset)])


def reseat(belief: HeadBelief) -> HeadBelief:
    """The belief after lens and nozzle were taken out and seated anew: as little is known of them as before."""
    head = belief.tuning.head
    return _loosened(replace(belief, accepted=frozenset()), [(OFFSET, head.offset), (NOZZLE, head.nozzle_off)])


def refuse(belief: HeadBelief, part: str) -> HeadBelief:
    """The belief of someone who was told that a part cannot be moved."""
    return replace(belief, refused=belief.refused | {part})


def accept(belief: HeadBelief, cause: str) -> HeadBelief:
    """The belief once a fault is taken as it is."""
    return replace(belief, accepted=belief.accepted | {cause})


def _seated(layout: HeadLayout, sd: float) -> Array:
    """A lens that lies elsewhere: beam and nozzle, which stayed, both stand otherwise against it.  (size, 2)."""
    columns = [layout.column(OFFSET, axis, sd) + layout.column(NOZZLE, axis, sd) for axis in range(2)]
    return np.stack(columns, axis=1)


def _stepped(bank: HeadBank, spread: Array) -> HeadBank:
    return HeadBank(bank.push, Stepped(np.zeros(len(spread)), spread).after(bank.mixture))


def _loosened(belief: HeadBelief, doubts: list[tuple[int, float]]) -> HeadBelief:
    columns = [belief.layout.column(number, axis, sd) for number, sd in doubts for axis in range(2)]
    return _forgotten(_stepped(belief.bank, np.stack(columns, axis=1)), belief)


def _forgotten(bank: HeadBank, belief: HeadBelief) -> HeadBelief:
    """A new round with this bank: where marks lie on a card tells nothing any more."""
    return replace(
        belief, bank=HeadBank(bank.push, _anew(belief.layout, bank.mixture)), marks=(), heights={}, locked=False
    )


def _adjusted(belief: HeadBelief, mixture: GaussianMixture) -> HeadBelief:
    after = _forgotten(HeadBank(belief.bank.push, mixture), belief)
    return replace(after, rounds=belief.rounds + (0 if belief.adjusting else 1), adjusting=True)


def _anew(layout: HeadLayout, mixture: GaussianMixture) -> GaussianMixture:
    keep = np.ones(layout.size)
    noise = np.zeros((layout.size, layout.size))
    for number in (PLACE_OUT, PLACE_OUT + 1, PLACE_IN, PLACE_IN + 1):
        keep[number] = 0.0
        noise[number, number] = ANYWHERE**2
    return mixture.predict(np.diag(keep), noise)
