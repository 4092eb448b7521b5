"""What the coach believes about the beam and the screws: frozen, and changed only by making a new one.

A belief remembers the marks made since the last adjustment (the round's sightings), so that one that
contradicts the others can be left out before the next adjustment is built on it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np

from coach.belief.bank import Bank, initial_bank, reexplained
from coach.belief.consistency import Evidence, odd_station_probability, outlier_probabilities
from coach.belief.expectation import ExpectedMark
from coach.belief.kalman import Array
from coach.belief.layout import Layout
from coach.belief.measurements import Sighting, seen
from coach.belief.mixture import GaussianMixture
from coach.belief.pulses import SAME_PLACE, Pulsed, in_one_round, remembered
from coach.belief.stories import Stories, stories
from coach.belief.transitions import STILL, Transition, Turned, disturbed, locked, repaired, shifted, slid
from coach.machine import Machine, Target
from coach.parts import DIRECTIONS, PARTS, Direction, Part
from coach.tuning import TUNING, Tuning
from coach.tuning.belief import CauseBelieved

__all__ = [
    "Belief",
    "Sighting",
    "accept",
    "disturb",
    "lock",
    "mend",
    "refuse",
    "shift",
    "turn",
    "update",
]


@dataclass(frozen=True, eq=False)
class Belief:
    """The bank now, the bank at the start of this round, and the round's sightings."""

    layout: Layout
    tuning: Tuning
    start: Bank
    bank: Bank
    last_direction: Array
    """Per screw: +1, −1, or 0 where nobody knows which way it was turned last."""
    round_sightings: tuple[Sighting, ...] = ()
    stated: tuple[float, ...] = ()
    """The doubt of every mark so far, as its reader stated it, mm."""
    adjustments: int = 0
    rounds: int = 0
    """How often turning or shifting began anew after a pulse; tightened lock nuts are no round."""
    adjusting: bool = False
    """Turned or shifted since the last pulse: more of it belongs to the same round."""
    locked: bool = False
    """Whether lock nuts were tightened after the last turn or shift: what moved then moved a little, unasked."""
    disturbed: bool = False
    """Whether something was out, bumped or mended after the last turn or shift: nobody knows how far it moved."""
    rail_bad: bool = False
    """Whether a rail was looked at last and found bad: once it is good, what rides on it rides otherwise."""
    refused: frozenset[tuple[Part, Direction]] = frozenset()
    """What the person said cannot be moved."""
    accepted: frozenset[str] = frozenset()
    """Faults that the person took as they are: the machine is aligned to the best that can be had."""
    seen: frozenset[int] = frozenset()
    """Stations (indices) that had a mark at some time in this session."""
    moved: frozenset[Part] = frozenset()
    """Parts that were moved in this session."""
    pulses: tuple[Pulsed, ...] = ()
    """Every pulse of this session, with its dose as far as it is known."""

    @classmethod
    def initial(cls, machine: Machine, today: date, tuning: Tuning = TUNING) -> "Belief":
        """The belief before the first mark."""
        layout = Layout(machine)
        bank = initial_bank(layout, today, tuning)
        return cls(layout, tuning, bank, bank, np.zeros(len(layout.screws)))

    @cached_property
    def outliers(self) -> Array:
        """For each sighting of this round the probability that it is wrong; misses count as 0."""
        marks = [index for index, s in enumerate(self.round_sightings) if not s.missed]
        chances = np.zeros(len(self.round_sightings))
        if self._stories is not None:
            chances[marks] = self._stories.wrong
        elif len(marks) > 1:
            chosen = [self.round_sightings[index] for index in marks]
            evidence = Evidence.of(self.layout, self.bank, chosen)
            chances[marks] = outlier_probabilities(evidence, self.tuning.readings)
        return chances

    @cached_property
    def _stories(self) -> Stories | None:
        """Which readings are wrong if it may be two: asked only where the machine itself is under suspicion."""
        faulty = self.bank.probability(lambda hypothesis: hypothesis.explanation.cause != "")
        marks = [sighting for sighting in self.round_sightings if not sighting.missed]
        if faulty < self.tuning.readings.two_wrong_from or not FEWEST_FOR_TWO <= len(marks) <= MOST_FOR_TWO:
            return None
        before = since(self, tuple(sighting for sighting in self.round_sightings if sighting.missed))
        return stories(Evidence.of(self.layout, before, marks), self.tuning.readings)

    @cached_property
    def odd_station(self) -> tuple[str, float]:
        """The place, marked more than once, likeliest to stand off from all others, and that probability."""
        places: dict[tuple[float, float], list[Sighting]] = {}
        for sighting in self.round_sightings:
            if sighting.target == "head" and not sighting.missed:
                places.setdefault((round(sighting.x), round(sighting.y)), []).append(sighting)
        repeated = [marks for marks in places.values() if len(marks) > 1]
        if not repeated or len(places) < 4:
            return "", 0.0
        chances = [
            odd_station_probability(Evidence.of(self.layout, self.bank, marks), self.tuning.readings)
            for marks in repeated
        ]
        best = int(np.argmax(chances))
        return repeated[best][0].station, chances[best]

    @cached_property
    def settled(self) -> Bank:
        """The bank without the readings of this round that contradict the others."""
        wrong = self.outliers > self.tuning.readings.left_out_from
        if not wrong.any():
            return self.bank
        bank = since(self, tuple(s for s, out in zip(self.round_sightings, wrong, strict=True) if not out))
        if self._stories is None:
            return bank
        # two slips are odd themselves: what that says of the machine is kept, else it is never blamed however often
        weights = self._stories.bank.mixture.log_weight
        return bank.with_mixture(GaussianMixture(weights, bank.mixture.mean, bank.mixture.cov))

    @cached_property
    def reading_sd(self) -> float:
        """mm on each axis: how well this person's next mark will probably be read.

        The root mean square of the doubts stated so far (or the usual one), times what the marks say of the reader.
        """
        stated = float(np.sqrt(np.mean(np.square(self.stated or (self.tuning.readings.sd,)))))
        rough = np.array([h.explanation.reading for h in self.settled.hypotheses])
        return stated * float(np.sqrt(self.settled.weights @ rough**2))

    def expected(self, x: float, y: float, target: Target = "head", sd: float | None = None) -> ExpectedMark:
        """Where a mark at head position (x, y) mm will be read, to `sd` mm or as this person usually reads."""
        read_to = self.reading_sd if sd is None else sd
        matrix = self.layout.measurement_matrix(x, y, target)
        return ExpectedMark(*self.settled.mixture.project(matrix, read_to**2 * np.eye(2)).moments)

    def drive_push(self, mirror: int) -> float:
        """Probability that a clockwise turn pushes this mirror's plate."""
        return self.settled.probability(lambda hypothesis: hypothesis.pushes(mirror))

    def cause(self, cause: CauseBelieved) -> float:
        """Probability of all explanations with this cause: "" (screws can cure it), "yaw" or "loose"."""
        told, settled = self._stories, self.settled
        if told is None:
            return settled.probability(lambda hypothesis: hypothesis.explanation.cause == cause)
        return told.bank.probability(lambda hypothesis: hypothesis.explanation.cause == cause)

    def marks_at(self, x: float, y: float) -> tuple[Sighting, ...]:
        """What was seen at the head, here, since the last adjustment."""
        return tuple(
            s for s in self.round_sightings if s.target == "head" and np.hypot(s.x - x, s.y - y) < SAME_PLACE
        )

    def unmarked(self) -> tuple[int, ...]:
        """Which of the machine's stations have no mark since the last adjustment, as indices."""
        return tuple(
            index
            for index, station in enumerate(self.layout.machine.stations)
            if all(sighting.missed or sighting.wide for sighting in self.marks_at(station.x, station.y))
        )


FEWEST_FOR_TWO, MOST_FOR_TWO = 5, 40
"""Marks in a round from which two of them can be told to be wrong, and up to which it is asked: it costs their fifth
power, and among more of them two slips tell little."""


def update(belief: Belief, sighting: Sighting) -> Belief:
    """The belief after one pulse.  Pure; the order of a round's marks does not matter.

    What a mark explains of pulses before it that left nothing is taken out again.
    """
    told = not sighting.missed and not sighting.wide and sighting.shape == "round"
    machine, doses, before = belief.layout.machine, belief.tuning.doses, belief.round_sightings
    pulses = remembered(machine, belief.pulses, sighting, doses)
    sightings = in_one_round(before, sighting, pulses, doses, by_hand=machine.pulse.timed is False)
    goes_on = sightings[:-1] == before
    bank = seen(belief.layout, belief.bank, sightings[-1]) if goes_on else since(belief, sightings)
    return replace(
        belief,
        bank=bank,
        pulses=pulses,
        round_sightings=sightings,
        stated=(*belief.stated, sighting.sd) if told else belief.stated,
        seen=belief.seen | _stations_at(belief, sighting),
        adjusting=False,
    )


def since(belief: Belief, sightings: tuple[Sighting, ...]) -> Bank:
    """The bank after these pulses of this round."""
    bank = belief.start
    for sighting in sightings:
        bank = seen(belief.layout, bank, sighting)
    return bank


def _stations_at(belief: Belief, sighting: Sighting) -> frozenset[int]:
    """The station of a mark at the head."""
    if sighting.missed or sighting.target != "head":
        return frozenset()
    stations = enumerate(belief.layout.machine.stations)
    return frozenset(k for k, s in stations if np.hypot(s.x - sighting.x, s.y - sighting.y) < SAME_PLACE)


def turn(belief: Belief, mirror: int, screws: Mapping[str, float]) -> Belief:
    """The belief after screws of one mirror were turned (turns, clockwise positive)."""
    turns = belief.layout.turn_vector(mirror, screws)
    if not turns.any():
        return belief
    done = Turned.by_hand(belief.layout, turns, belief.last_direction, belief.tuning.hands)
    direction = np.where(turns != 0, np.sign(turns), belief.last_direction)
    return _adjusted(replace(belief, last_direction=direction), done, counts=True)


def shift(belief: Belief, part: str, up: float = 0.0, right: float = 0.0, back: float = 0.0) -> Belief:
    """The belief after a part was moved sideways, mm in the machine's frame."""
    amounts = {"up": up, "right": right, "back": back}
    moved = shifted(belief.layout, part, amounts, belief.tuning.hands)
    if not any(amounts.values()):
        return belief
    after = _adjusted(belief, moved, counts=True)
    can = {(name, way) for name, way in after.refused if name == part and amounts[way]}  # it was moved after all
    return replace(after, moved=after.moved | {name for name in PARTS if name == part}, refused=after.refused - can)


def lock(belief: Belief, mirror: int) -> Belief:
    """The belief after a mount's lock nuts were tightened."""
    done = locked(belief.layout, mirror, belief.tuning.hands)
    return replace(_adjusted(belief, done, counts=False), locked=True)


def disturb(belief: Belief, part: str) -> Belief:
    """The belief after a part was out, or was bumped: what it steers is known less well.  Raises UnknownName.

    What lies behind the head's opening is felt by no mark there: none is asked for.
    """
    done = disturbed(belief.layout, part, belief.tuning.hands)
    return replace(_adjusted(belief, done, counts=False), disturbed=True) if done.spread.any() else belief


def refuse(belief: Belief, part: Part, axis: Direction | None = None) -> Belief:
    """The belief of someone who was told that a part cannot be moved, or not in that direction."""
    axes = DIRECTIONS[part] if axis is None else (axis,)
    return replace(belief, refused=belief.refused | {(part, direction) for direction in axes})


def accept(belief: Belief, cause: str) -> Belief:
    """The belief once a fault is taken as it is: it remains what the marks say."""
    return replace(belief, accepted=belief.accepted | {cause})


def mend(belief: Belief, cause: str) -> Belief:
    """The belief after a repair: what it touched is known less, and whether a fault is left is open again."""
    bank = reexplained(belief.settled, belief.tuning)
    touched = replace(belief, bank=bank, start=bank, round_sightings=(), accepted=belief.accepted - {cause})
    done = repaired(belief.layout, cause, belief.tuning.hands)
    mended = replace(_adjusted(touched, done, counts=False), disturbed=done is not STILL)
    return _adjusted(mended, slid(belief.layout, belief.tuning.hands), counts=False) if cause == "edge" else mended


def _adjusted(belief: Belief, done: Transition, *, counts: bool) -> Belief:
    bank = belief.settled.with_mixture(done.after(belief.settled.mixture)).pruned()
    return replace(
        belief,
        start=bank,
        bank=bank,
        round_sightings=(),
        adjustments=belief.adjustments + 1,
        rounds=belief.rounds + (1 if counts and not belief.adjusting else 0),
        adjusting=belief.adjusting or counts,
        locked=belief.locked and not counts,
        disturbed=belief.disturbed and not counts,
    )
