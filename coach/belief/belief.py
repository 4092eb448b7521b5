"""What the coach believes about the beam and the screws: frozen, and changed only by making a new one.

A belief remembers the marks made since the last adjustment (the round's readings), so that one that
contradicts the others can be left out before the next adjustment is built on it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np

from coach.belief import bank as banks
from coach.belief.bank import Bank
from coach.belief.consistency import blunder_chances, odd_place_chance
from coach.belief.explanations import Cause
from coach.belief.gaussian import Array
from coach.belief.layout import Layout
from coach.belief.missed import absorb_miss
from coach.belief.noise import READING_SD, executed, reading_noise
from coach.machine import Machine, Target
from coach.optics.legs import leg_lengths
from coach.optics.shifts import shift_effect

CONTRADICTS = 0.7
"""Probability of being wrong from which a reading is left out of what an adjustment is built on."""


@dataclass(frozen=True)
class Sighting:
    """What one pulse showed: a mark at (u, v) mm, or nothing on the tape (u and v are None)."""

    station: str
    x: float
    y: float
    target: Target = "head"
    u: float | None = None
    v: float | None = None
    sd: float = READING_SD

    @property
    def missed(self) -> bool:
        """No mark was on the tape."""
        return self.u is None or self.v is None


@dataclass(frozen=True)
class Belief:
    """The bank now, the bank at the start of this round, and the round's sightings."""

    layout: Layout
    start: Bank
    bank: Bank
    round_sightings: tuple[Sighting, ...]
    last_direction: Array
    """Per screw: +1, −1, or 0 where nobody knows which way it was turned last."""
    adjustments: int = 0
    rounds: int = 0
    """How often adjusting began anew after a pulse."""

    @classmethod
    def initial(cls, machine: Machine, today: date | None = None) -> "Belief":
        """The belief before the first mark."""
        layout = Layout(machine)
        bank = banks.initial_bank(layout, today or date.today())
        return cls(layout, bank, bank, (), np.zeros(len(layout.screws)))

    @cached_property
    def suspicion(self) -> Array:
        """For each sighting of this round the probability that it is wrong; misses count as 0."""
        marks = [index for index, s in enumerate(self.round_sightings) if not s.missed]
        chances = np.zeros(len(self.round_sightings))
        if len(marks) > 1:
            chosen = [self.round_sightings[index] for index in marks]
            chances[marks] = blunder_chances(self.bank, *self._evidence(chosen))
        return chances

    @cached_property
    def odd_place(self) -> tuple[str, float]:
        """The place, marked more than once, likeliest to stand off from all others, and that probability."""
        places: dict[tuple[float, float], list[Sighting]] = {}
        for sighting in self.round_sightings:
            if sighting.target == "head" and not sighting.missed:
                places.setdefault((round(sighting.x), round(sighting.y)), []).append(sighting)
        repeated = [marks for marks in places.values() if len(marks) > 1]
        if not repeated or len(places) < 4:
            return "", 0.0
        chances = [odd_place_chance(self.bank, *self._evidence(marks)) for marks in repeated]
        best = int(np.argmax(chances))
        return repeated[best][0].station, chances[best]

    def _evidence(self, marks: list[Sighting]) -> tuple[Array, Array, Array]:
        """Rows, noises and readings of marks, stacked."""
        return (
            np.stack([self.layout.reading_rows(s.x, s.y, s.target) for s in marks]),
            np.stack([_noise(self.layout, self.bank, s) for s in marks]),
            np.array([(s.u, s.v) for s in marks], dtype=float),
        )

    @cached_property
    def settled(self) -> Bank:
        """The bank without the readings of this round that contradict the others."""
        wrong = self.suspicion > CONTRADICTS
        if not wrong.any():
            return self.bank
        bank = self.start
        for sighting, out in zip(self.round_sightings, wrong, strict=True):
            if not out:
                bank = _seen(self.layout, bank, sighting)
        return bank

    def expected(self, x: float, y: float, target: Target = "head") -> tuple[Array, Array]:
        """Mean (2,) in mm and covariance (2, 2) in mm² of the next mark's true place."""
        rows = self.layout.reading_rows(x, y, target)
        return mixture(self.settled, rows)

    def drive_push(self, mirror: int) -> float:
        """Probability that a clockwise turn pushes this mirror's plate."""
        signs = np.array([dict(h.drives)[mirror] for h in self.settled.hypotheses])
        return float(self.settled.weights[signs > 0].sum())

    def cause(self, cause: Cause) -> float:
        """Probability of all explanations with this cause: "" (screws can cure it), "yaw" or "loose"."""
        bank = self.settled
        mine = np.array([story.cause == cause for story in bank.explanations])
        return float(bank.weights[mine].sum())


def mixture(bank: Bank, rows: Array) -> tuple[Array, Array]:
    """Mean and covariance of H·x over all hypotheses together."""
    means = bank.gaussian.mean @ rows.T
    covs = rows @ bank.gaussian.cov @ rows.T
    weights = bank.weights
    mean = weights @ means
    apart = means - mean
    return mean, np.einsum("h,hij->ij", weights, covs) + np.einsum("h,hi,hj->ij", weights, apart, apart)


def update(belief: Belief, sighting: Sighting) -> Belief:
    """The belief after one pulse.  Pure; the order of a round's marks does not matter."""
    return replace(
        belief,
        bank=_seen(belief.layout, belief.bank, sighting),
        round_sightings=(*belief.round_sightings, sighting),
    )


def _noise(layout: Layout, bank: Bank, sighting: Sighting) -> Array:
    leg2 = leg_lengths(layout.machine, sighting.x, sighting.y)[1]
    return reading_noise(bank.explanations, sighting.sd, leg2, sighting.target)


def _seen(layout: Layout, bank: Bank, sighting: Sighting) -> Bank:
    rows = layout.reading_rows(sighting.x, sighting.y, sighting.target)
    noises = _noise(layout, bank, sighting)
    if sighting.u is None or sighting.v is None:
        tape = layout.machine.tape
        radius = tape.radius if sighting.target == "head" else tape.mirror2_radius
        return absorb_miss(bank, rows, noises, radius)
    return banks.absorb(bank, rows, noises, np.array([sighting.u, sighting.v]))


def turn(belief: Belief, mirror: int, screws: Mapping[str, float]) -> Belief:
    """The belief after screws of one mirror were turned (turns, clockwise positive)."""
    turns = belief.layout.turn_vector(mirror, screws)
    if not turns.any():
        return belief
    done, variance = executed(turns, belief.last_direction)
    bank = banks.turned(belief.settled, belief.layout.screw_maps, done, variance)
    direction = np.where(turns != 0, np.sign(turns), belief.last_direction)
    return _adjusted(replace(belief, last_direction=direction), bank)


def shift(belief: Belief, part: str, up: float = 0.0, right: float = 0.0, back: float = 0.0) -> Belief:
    """The belief after a part was moved sideways, mm in the machine's frame."""
    effect = shift_effect(belief.layout.machine.path.side, part, up=up, right=right, back=back)
    amount = float(np.linalg.norm([up, right, back]))
    if amount == 0:
        return belief
    return _adjusted(belief, banks.shifted(belief.settled, effect, amount))


def lock(belief: Belief, mirror: int) -> Belief:
    """The belief after a mount's lock nuts were tightened."""
    return _adjusted(belief, banks.locked(belief.settled, mirror))


def _adjusted(belief: Belief, bank: Bank) -> Belief:
    bank = banks.pruned(bank)
    rounds = belief.rounds + (1 if belief.round_sightings or not belief.adjustments else 0)
    return replace(
        belief, start=bank, bank=bank, round_sightings=(), adjustments=belief.adjustments + 1, rounds=rounds
    )
