"""The technician: knows every screw's true answer and how rough the hands are, and spends as few minutes as possible.

Moves the same parts with the same hands and reads the same tapes as everybody, knows nothing else, and decides by a
rule of its own: it shows the limit that hands, readings and parts set, whatever the coach's advice is worth.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product

import numpy as np

from coach.advice.facts import MirrorTurn, Shot
from coach.machine import Machine
from coach.optics.shifts import shift_effect
from coach.parts import WAYS
from coach.practice.action import Action
from coach.practice.bench import Bench
from coach.practice.conduct import Conduct, Mark
from coach.practice.knowledge import SAMPLES, Array, Estimate, Seen, suspected
from coach.practice.tally import MIRROR_MINUTES, MOVE_MINUTES, PULSE_MINUTES, SCREW_MINUTES

ROUNDS = 10
"""Adjustments after which it gives up."""
SURE = 0.95
"""Probability of every station within tolerance from which it is done."""
ANOTHER_MARK, MOST_MARKS = 0.5, 3
"""Probability from which one more mark beats another adjustment, and marks at one station in a round."""
HOPELESS, ENOUGH_MARKS = 0.05, 3
"""Probability below which it does not mark every station before it adjusts again, once it has so many marks."""
REDO = 25.0
"""Minutes that an adjustment costs which does not bring the machine in; so much more after each one that did not."""
MINUTE = 1 / 60
"""Turns: a tick of a clock's face, the finest that hands do."""
LEAST_TURNS = (0.025, 0.05, 0.1)
"""Turns: what less than this does is hardly more than the hands' own roughness."""
LEAST_MOVE = 0.5
"""mm."""
OFF_TAPE = 0.01

Way = tuple[str, str]
ACROSS: tuple[Way | None, ...] = (
    None,
    ("mirror 2", "right"),
    ("head", "back"),
    ("mirror 1", "right"),
    ("tube", "back"),
)
HEIGHT: tuple[Way | None, ...] = (None, ("head", "up"), ("tube", "up"))


@dataclass(frozen=True)
class _Plan:
    """What might be done: amounts in turns by (mirror, screw), mm by (part, direction)."""

    turns: Mapping[tuple[int, str], float]
    moves: Mapping[Way, float]

    @property
    def minutes(self) -> float:
        mirrors, parts = {mirror for mirror, _ in self.turns}, {part for part, _ in self.moves}
        turning = MIRROR_MINUTES * len(mirrors) + SCREW_MINUTES * len(self.turns)
        return turning + sum(MOVE_MINUTES[part] for part in parts)


class Technician:
    """One technician at one bench."""

    def __init__(self, machine: Machine, bench: Bench) -> None:
        """`bench` is asked for its screws' true answers and its parts' room, not for where the beam is."""
        self._machine, self._bench, self._trouble = machine, bench, bench.trouble
        self._before = Estimate.beforehand(machine, bench.trouble)
        self._marks: tuple[Seen, ...] = ()
        self._rounds, self._tried = 0, set[int]()
        self._last_way: dict[tuple[int, str], float] = {}
        self._draws = np.random.default_rng(1).normal(size=(SAMPLES, 6))
        self._effects = _screw_effects(machine, bench)

    def conduct(self) -> Conduct:
        """Mark, adjust, mark again, until every station is surely in."""
        for self._rounds in range(ROUNDS):
            yield from self._mark()
            if self._chance() >= SURE and self._unmarked() == []:
                yield Action("done")
                return
            plan = self._best_plan()
            if plan is None:
                break
            yield from self._carry_out(plan)
        yield Action("stop", cause="coarse")

    # -- marking ----------------------------------------------------------------------------------

    def _now(self) -> Estimate:
        return self._before.told(self._marks, self._trouble.reading)

    def _chance(self) -> float:
        return self._now().chance(self._machine.tolerance, self._draws)

    def _unmarked(self) -> list[int]:
        marked = {mark.station for mark in self._marks}
        return [number for number in range(len(self._machine.stations)) if number not in marked]

    def _mark(self) -> Conduct:
        """Every station that is surely on the tape, what was misread once more, and what decides if it is close."""
        missed: set[int] = set()
        while (station := self._next_station(missed)) is not None:
            place = self._machine.stations[station]
            self._tried.add(station)
            seen: Mark = yield Action("shoot", stations=(Shot(place.name, place.x, place.y),))
            if seen is None:
                missed.add(station)
                continue
            self._marks = (*self._marks, Seen(station, *seen))

    def _next_station(self, missed: set[int]) -> int | None:
        wrong = suspected(self._before, self._marks, self._trouble)
        times = [sum(mark.station == n for mark in self._marks) for n in range(len(self._machine.stations))]
        if wrong is not None:
            station = self._marks[wrong].station
            if times[station] < 2:
                return station
            self._marks = self._marks[:wrong] + self._marks[wrong + 1 :]  # everything else is against it
        open_ones = [n for n in self._unmarked() if n not in missed and self._is_safe(n)]
        if open_ones:
            known = len(self._tried) == len(times) and len(self._marks) >= ENOUGH_MARKS
            hopeless = known and self._rounds > 0 and self._chance() < HOPELESS
            return None if hopeless else min(open_ones, key=self._reach)
        if not self._tried:  # nothing could make the first mark surer
            return min(self._unmarked(), key=self._reach)
        if ANOTHER_MARK <= self._chance() < SURE and not self._unmarked():
            offsets, doubts = self._now().offsets(), self._now().doubts()
            sd = np.sqrt(doubts.trace(axis1=1, axis2=2) / 2)
            close = np.abs(np.hypot(*offsets.T) - self._machine.tolerance) / sd
            ordered = [int(n) for n in np.argsort(close) if times[int(n)] < MOST_MARKS]
            return ordered[0] if ordered else None
        return None

    def _reach(self, station: int) -> float:
        return float(self._before.rows[station][0, :3].sum())

    def _is_safe(self, station: int) -> bool:
        """Whether its mark leaves the tape in less than one case of a hundred."""
        values, vectors = np.linalg.eigh(self._now().doubts()[station])
        draws = self._now().offsets()[station] + (self._draws[:, :2] * np.sqrt(np.maximum(values, 0))) @ vectors.T
        return float(np.mean(np.hypot(*draws.T) > self._machine.tape.radius)) <= OFF_TAPE

    # -- adjusting --------------------------------------------------------------------------------

    def _best_plan(self) -> _Plan | None:
        """The plan that costs the fewest minutes, those of doing it once more included."""
        confirming = PULSE_MINUTES * len(self._machine.stations)
        best, least = None, math.inf
        for plan in self._plans():
            chance = self._after(plan).chance(self._machine.tolerance, self._draws)
            minutes = plan.minutes + confirming + (1.0 - chance) * REDO * (1 + self._rounds)
            if minutes < least:
                best, least = plan, minutes
        return best

    def _plans(self) -> Iterator[_Plan]:
        """Every choice of mirrors and of parts, with all screws and with those alone that have much to do."""
        early = len(self._tried) < len(self._machine.stations)  # no part is moved before every station has its mark
        parts = [(None, None)] if early else list(product(ACROSS, HEIGHT))
        for turned, (across, height) in product(((1, 2), (1,), (2,), ()), parts):
            ways = [way for way in (across, height) if way is not None]
            screws = [key for key in self._effects if key[0] in turned]
            for least in LEAST_TURNS if turned else LEAST_TURNS[:1]:
                plan = self._fitted(screws, ways) if screws or ways else None
                if plan is not None:
                    yield plan
                    screws = [key for key, turns in plan.turns.items() if abs(turns) >= least]

    def _fitted(self, screws: list[tuple[int, str]], ways: list[Way]) -> _Plan | None:
        """Least squares over the stations, what the amounts' roughness adds included; None if a move is too small."""
        now, trouble = self._now(), self._trouble
        effects = np.array([*(self._effects[key] for key in screws), *(self._move_effect(way) for way in ways)])
        marks = np.einsum("sik,ek->esi", now.rows, effects).reshape(len(effects), -1)
        shares = np.array([trouble.turn_fraction] * len(screws) + [trouble.shift_fraction] * len(ways))
        normal = marks @ marks.T + np.diag(shares**2 * (marks**2).sum(axis=1))
        amounts = np.linalg.lstsq(normal, -marks @ now.offsets().ravel(), rcond=None)[0]
        minutes = [round(float(np.clip(n, -1.0, 1.0)) / MINUTE) for n in amounts[: len(screws)]]
        asked = [round(float(n), 1) for n in amounts[len(screws) :]]
        moved = [self._bench.room(*way, mm) for way, mm in zip(ways, asked, strict=True)]
        if any(abs(mm) < LEAST_MOVE for mm in moved) or not (ways or any(minutes)):
            return None
        turns = {key: n * MINUTE for key, n in zip(screws, minutes, strict=True) if n}
        return _Plan(turns, dict(zip(ways, moved, strict=True)))

    def _move_effect(self, way: Way) -> Array:
        effect = shift_effect(self._machine.path.side, way[0], **{way[1]: 1.0})
        return np.array([effect.head_u, 0.0, 0.0, effect.head_v, 0.0, 0.0])

    def _after(self, plan: _Plan) -> Estimate:
        """What is known once the plan was carried out, with the noise of hands and of parts that tilt."""
        trouble, by, noise = self._trouble, np.zeros(6), np.zeros((6, 6))
        for key, turns in plan.turns.items():
            lash = trouble.backlash**2 / 12 if self._reverses(key, turns) else 0.0
            variance = (trouble.turn_fraction * turns) ** 2 + trouble.turn_absolute**2 + lash
            by += turns * self._effects[key]
            noise += variance * np.outer(self._effects[key], self._effects[key])
        for way, mm in plan.moves.items():
            effect = self._move_effect(way)
            by += mm * effect
            noise += ((trouble.shift_fraction * mm) ** 2 + trouble.shift_absolute**2) * np.outer(effect, effect)
        for part in {part for part, _ in plan.moves}:
            noise += self._tilt(part)
        return self._now().moved(by, noise)

    def _tilt(self, part: str) -> Array:
        size = {"tube": self._trouble.tube_tilt, "head": 0.0}.get(part, self._trouble.plate_tilt)
        legs = np.array([0.0, 0.0, 1.0] if part == "mirror 2" else [0.0, 1.0, 1.0])
        return np.asarray(np.kron(np.eye(2), size**2 * np.outer(legs, legs)), dtype=np.float64)

    def _reverses(self, key: tuple[int, str], turns: float) -> bool:
        return self._last_way.get(key, turns) * turns < 0

    def _carry_out(self, plan: _Plan) -> Conduct:
        """Turn, a little more where the screw reverses, and move; what was marked before is known, no longer seen."""
        self._before = self._after(plan)
        self._marks = ()
        asked: dict[int, dict[str, float]] = {}
        for (mirror, screw), turns in plan.turns.items():
            lost = self._trouble.backlash / 2 if self._reverses((mirror, screw), turns) else 0.0
            asked.setdefault(mirror, {})[screw] = turns + math.copysign(lost, turns)
            self._last_way[mirror, screw] = turns
        if asked:
            yield Action("turn", turns=tuple(MirrorTurn(mirror, screws) for mirror, screws in asked.items()))
        for part in dict.fromkeys(part for part, _ in plan.moves):
            along = {way: mm for (moved, way), mm in plan.moves.items() if moved == part}
            up, right, back = (along.get(way, 0.0) for way in WAYS)
            yield Action("shift", part=part, up=up, right=right, back=back)


def _screw_effects(machine: Machine, bench: Bench) -> dict[tuple[int, str], Array]:
    """(mirror, screw) to what one turn really changes of the six numbers; mirror 1 takes leg 2 along."""
    effects: dict[tuple[int, str], Array] = {}
    for mount in (m for m in machine.mounts if m.mirror != 3):
        both = 1.0 if mount.mirror == 1 else 0.0
        for screw, (slope_u, slope_v, across) in zip(mount.screws, bench.true_responses(mount.mirror), strict=True):
            change = [across, both * slope_u, slope_u, 0.0, both * slope_v, slope_v]
            effects[mount.mirror, screw.name] = np.array(change, dtype=np.float64)
    return effects
