"""What an adjustment does to the state: each kind with its matrix, its step and its noise.

x ← F·x + b,    P ← F·P·Fᵀ + Q(x, P)
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coach.belief.hands import executed
from coach.belief.kalman import Array
from coach.belief.layout import A1_U, A2_U, C_U, C_V, M_U, M_V, N_U, N_V, Layout
from coach.belief.mixture import GaussianMixture
from coach.errors import UnknownName
from coach.optics.shifts import ShiftEffect, shift_effect
from coach.tuning import Hands


class Transition(Protocol):
    """Something that was done to the machine."""

    def after(self, mixture: GaussianMixture) -> GaussianMixture:
        """What is believed once it is done."""
        ...


@dataclass(frozen=True, eq=False)
class Turned:
    """Screws were turned: linear in the state, because the turns are known.

    F = 1 + Σ n_k·B_k; rough execution is process noise, exact in the second moment:
    Q = Σ var(n_k)·B_k·(P + x·xᵀ)·B_kᵀ.
    """

    maps: Array
    """B, shape (screws, n, n)."""
    turns: Array
    """Turns believed to have been made, per screw."""
    variance: Array
    """Their variance."""

    @classmethod
    def by_hand(cls, layout: Layout, turns: Array, last_direction: Array, hands: Hands) -> "Turned":
        """The turns as hands are believed to make them."""
        return cls(layout.screw_maps, *executed(turns, last_direction, hands))

    def after(self, mixture: GaussianMixture) -> GaussianMixture:
        """What is believed after the turns."""
        transition = np.eye(self.maps.shape[-1]) + np.tensordot(self.turns, self.maps, axes=1)
        second = mixture.cov + mixture.mean[:, :, None] * mixture.mean[:, None, :]
        process = np.zeros_like(mixture.cov)
        for k in np.flatnonzero(self.variance):
            process += self.variance[k] * (self.maps[k] @ second @ self.maps[k].T)
        return mixture.predict(transition, process)


@dataclass(frozen=True, eq=False)
class Stepped:
    """Something moved by a step that is known roughly and does not depend on the state: F = 1, Q = G·Gᵀ."""

    step: Array
    """b, shape (n,)."""
    spread: Array
    """G, shape (n, causes): what one standard deviation of each independent cause does to the state."""

    def after(self, mixture: GaussianMixture) -> GaussianMixture:
        """What is believed after the step."""
        moved = mixture.mean + self.step
        return GaussianMixture(mixture.log_weight, moved, mixture.cov + self.spread @ self.spread.T)


@dataclass(frozen=True)
class Still:
    """Nothing moved."""

    def after(self, mixture: GaussianMixture) -> GaussianMixture:
        """What was believed before."""
        return mixture


STILL = Still()


def shifted(layout: Layout, part: str, amounts: Mapping[str, float], hands: Hands) -> Stepped:
    """A part was moved sideways by `amounts` (up, right, back; mm): one cause for each direction it was moved in.

    How far it really went is one number a direction, and is felt at all openings together.
    Raises UnknownName or InputError as `shift_effect` does.
    """
    side = layout.machine.path.side
    shift_effect(side, part, **amounts)
    columns, step = [], np.zeros(layout.size)
    for direction, amount in amounts.items():
        if amount:
            one = _on_state(layout, shift_effect(side, part, **{direction: 1.0}))
            step += amount * one
            columns.append(np.hypot(hands.shift_share * amount, hands.shift_floor) * one)
    if columns:
        columns += _tilted(layout, part, hands)
    return Stepped(step, np.stack(columns, axis=1) if columns else np.zeros((layout.size, 1)))


def _tilted(layout: Layout, part: str, hands: Hands) -> list[Array]:
    """Moving a part tilts it a little: the slopes it steers, each axis a cause of its own."""
    tilt = {"tube": hands.tube_tilt, "mirror 1": hands.slot_tilt, "mirror 2": hands.slot_tilt}.get(part, 0.0)
    if not tilt:
        return []
    steered = [A2_U] if part == "mirror 2" else [A1_U, A2_U]
    return [_column(layout, {number + axis: tilt for number in steered}) for axis in range(2)]


def locked(layout: Layout, mirror: int, hands: Hands) -> Stepped:
    """A mount's lock nuts were tightened: everything that mirror steers moved a little."""
    spread = np.zeros((layout.size, 4))
    for axis in range(2):
        spread[A2_U + axis, axis] = hands.lock_slope_sd
        if mirror == 1:
            spread[A1_U + axis, axis] = hands.lock_slope_sd
        spread[C_U + axis, 2 + axis] = hands.lock_offset_sd
    return Stepped(np.zeros(layout.size), spread)


def _on_state(layout: Layout, effect: ShiftEffect) -> Array:
    """A shift's effect on the marks as a step of the state."""
    step = np.zeros(layout.size)
    step[[C_U, C_V]] = effect.head_u, effect.head_v
    step[[M_U, M_V]] = effect.mirror2_u, effect.mirror2_v
    step[[N_U, N_V]] = effect.mirror1_u, effect.mirror1_v
    return step


DISTURBED: dict[str, tuple[bool, bool, bool, bool, bool]] = {
    "tube": (True, True, True, True, True),
    "mirror 1": (True, True, False, False, False),
    "mirror 2": (False, True, False, False, False),
    "mirror 3": (False, False, False, False, False),
    "lens": (False, False, False, False, False),
    "head": (False, False, True, False, False),
    "machine": (True, True, True, True, True),
}
"""Part to what is known less well once it was out or bumped: slope of leg 1, slope of leg 2, the offset at the head,
the offsets at mirrors 2 and 1.  Mirror 3 and the lens come after the head's opening: no mark there feels them."""


def disturbed(layout: Layout, part: str, hands: Hands) -> Stepped:
    """A part was out, or was bumped.  Leg 2 carries what leg 1 suffers.  Raises UnknownName."""
    if part not in DISTURBED:
        raise UnknownName(f"There is no part {part!r} to be disturbed", expected="one of: " + ", ".join(DISTURBED))
    leg1, leg2, head, mirror2, mirror1 = DISTURBED[part]
    columns = []
    for axis in range(2):
        if leg1:
            columns.append(_column(layout, {A1_U + axis: hands.disturbed_slope, A2_U + axis: hands.disturbed_slope}))
        if leg2 and part != "mirror 1":
            columns.append(_column(layout, {A2_U + axis: hands.disturbed_slope}))
        if head:
            columns.append(_column(layout, {C_U + axis: hands.disturbed_offset}))
        if mirror2:
            columns.append(_column(layout, {M_U + axis: hands.disturbed_offset}))
        if mirror1:
            columns.append(_column(layout, {N_U + axis: hands.disturbed_offset}))
    return Stepped(np.zeros(layout.size), np.stack(columns, axis=1) if columns else np.zeros((layout.size, 1)))


TOUCHED_BY_REPAIR: dict[str, tuple[str, ...]] = {
    "yaw": ("mirror 2",),
    "loose": ("mirror 2",),
    "station": ("head",),
    "rail": ("mirror 2", "head"),
    "off the tape": ("machine",),
    "edge": ("machine",),
}
"""What seeing to a stop's cause, or to a rail, may have moved; of "coarse" and "no screws" nothing moved."""


def repaired(layout: Layout, cause: str, hands: Hands) -> Transition:
    """Something was mended: what that touched is known less well."""
    spread = [disturbed(layout, part, hands).spread for part in TOUCHED_BY_REPAIR.get(cause, ())]
    return Stepped(np.zeros(layout.size), np.concatenate(spread, axis=1)) if spread else STILL


def slid(layout: Layout, hands: Hands) -> Stepped:
    """Mirrors 1 and 2 were slid along their own faces: where the beam meets their own openings is open again."""
    columns = [_column(layout, {number + axis: hands.slid_offset}) for number in (N_U, M_U) for axis in range(2)]
    return Stepped(np.zeros(layout.size), np.stack(columns, axis=1))


def _column(layout: Layout, values: Mapping[int, float]) -> Array:
    column = np.zeros(layout.size)
    column[list(values)] = list(values.values())
    return column
