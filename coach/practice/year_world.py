"""A practice machine over a year and what comes after it: a mount that creeps, a bump, dirt, a tube that ages.

Nothing here is taken from what `coach.history` believes: what creeps goes on by a power of time, in bursts, and what
does not is warm or cold with the season and the day.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from coach.machine import Machine
from coach.optics.mounts import PlateMotion
from coach.optics.trace import Layout, TrueState, at_head

Array = NDArray[np.float64]
Creeper = Literal["none", "mirror 1", "mirror 2", "centre"]
CREEPERS: tuple[Creeper, ...] = ("none", "mirror 1", "mirror 2", "centre")
DAYS = 365
LOOKED_AHEAD = 730
LAST = DAYS + LOOKED_AHEAD + 60

TILT = (0.5, 9.0)
"""mrad a year by which a creeping mirror's plate tilts, any factor between as likely …"""
SAG = (0.8, 9.0)
"""… and mm by which a creeping head sags."""
POWER_OF_TIME = (0.8, 1.25)
"""Creep goes with this power of time …"""
BURSTS = 0.35
"""… each day a share of it drawn from a gamma distribution of this shape: now little, now much."""
SEASON, DAY = 0.12, 0.07
"""mrad by which the tube and both mirrors lean with the season, and from day to day."""
BUMP_TILT, BUMP_SHIFT = 1.4, 0.8
"""mrad and mm, one standard deviation, of a bump."""
NEW_TUBE_TILT, NEW_TUBE_SHIFT = 1.2, 0.9
"""The same of a new tube."""
AGEING, DIRT = (0.02, 0.35), (0.05, 0.5)
"""Shares of the light that the tube loses in a year, and that dirt takes in one without cleaning."""


@dataclass(frozen=True, eq=False)
class Year:
    """The truth, day by day, before anybody turns a screw."""

    machine: Machine
    seed: int
    creeper: Creeper
    tilts: Array
    """(days, 2 mirrors, 2): gradients of the plates of mirrors 1 and 2, mrad."""
    tube: Array
    """(days, 4): back and up, mm, and their slopes, mrad."""
    head: Array
    """(days, 2): up and back, mm."""
    creep: Array
    """(days,): how far what creeps has crept, mrad of the plate's tilt or mm."""
    bump: int | None
    """The day of a bump …"""
    bumped: str
    """… and what its owner says was bumped."""
    new_tube: int | None
    cleaned: tuple[int, ...]
    taken_out: tuple[tuple[int, int], ...]
    """Day and mirror: it was out to be cleaned."""
    light: Array
    """(days,): the share of the light that is left."""

    def state(self, day: int, turned: "Turned", warm: Array | None = None) -> TrueState:
        """Where everything stands on a day, with what its owner turned by then; `warm`: that day's lean, mrad."""
        lean = np.zeros(6) if warm is None else warm
        one, two = self.tilts[day] + turned.tilts + lean[2:].reshape(2, 2)
        tube, head = self.tube[day], self.head[day] + turned.head
        return TrueState(
            Layout.of(self.machine),
            tube_back=float(tube[0]),
            tube_up=float(tube[1]),
            tube_slope_back=float(tube[2] + lean[0]),
            tube_slope_up=float(tube[3] + lean[1]),
            mirror1=PlateMotion(float(one[0]), float(one[1])),
            mirror2=PlateMotion(float(two[0]), float(two[1])),
            head_up=float(head[0]),
            head_back=float(head[1]),
        )

    def warm(self, day: int) -> Array:
        """How tube and mirrors lean that day, beside the season, mrad."""
        return np.asarray(np.random.default_rng((self.seed, 77, day)).normal(0, DAY, 6))

    def offsets(self, state: TrueState) -> Array:
        """(stations, 2): true (u, v) at the head, mm."""
        return np.array([at_head(state, station.x, station.y) for station in self.machine.stations])

    def leaves(self, since: int, turned: "Turned") -> float:
        """Days from then until some station lies beyond the tolerance, nobody touching it; infinite if it lasts."""
        for day in range(since, min(since + LOOKED_AHEAD, LAST - 1) + 1):
            offsets = self.offsets(self.state(day, turned))
            if float(np.hypot(*offsets.T).max()) > self.machine.tolerance:
                return float(day - since)
        return math.inf


@dataclass(frozen=True, eq=False)
class Turned:
    """What its owner turned and moved so far."""

    tilts: Array
    """(2 mirrors, 2), mrad of gradient."""
    head: Array
    """Up and back, mm."""

    @classmethod
    def nothing(cls) -> "Turned":
        """A machine as it came."""
        return cls(np.zeros((2, 2)), np.zeros(2))


def draw_year(machine: Machine, seed: int, creeper: Creeper) -> Year:
    """One machine's year."""
    rng = np.random.default_rng((seed, CREEPERS.index(creeper), 365))
    tilts, tube, head = np.zeros((LAST, 2, 2)), np.zeros((LAST, 4)), np.zeros((LAST, 2))
    tilts += rng.normal(0, 1.5, (2, 2))
    head += rng.normal(0, 0.7, 2)
    _seasons(tilts, tube, rng)
    creep = _creep(rng, creeper)
    angle = rng.uniform(0, 2 * math.pi)
    way = np.array([math.cos(angle), math.sin(angle)])
    if creeper == "centre":
        head += (
            creep[:, None] * np.array([-abs(way[0]) - 0.5, way[1] / 2]) / math.hypot(abs(way[0]) + 0.5, way[1] / 2)
        )
    elif creeper != "none":
        tilts[:, int(creeper[-1]) - 1] += creep[:, None] * way
    bump, bumped = _bump(rng, tilts, head)
    new_tube = int(rng.integers(90, 300)) if rng.random() < 0.4 else None
    if new_tube is not None:
        tube[new_tube:] += np.concatenate([rng.normal(0, NEW_TUBE_SHIFT, 2), rng.normal(0, NEW_TUBE_TILT, 2)])
    cleaned = tuple(int(day) for day in np.cumsum(rng.integers(30, 110, 12)) if day < LAST)
    out = tuple((day, int(rng.integers(1, 3))) for day in cleaned if rng.random() < 0.12)
    for day, mirror in out:
        tilts[day:, mirror - 1] += rng.normal(0, BUMP_TILT, 2)
    light = _light(rng, cleaned, new_tube)
    return Year(machine, seed, creeper, tilts, tube, head, creep, bump, bumped, new_tube, cleaned, out, light)


def _creep(rng: np.random.Generator, creeper: Creeper) -> Array:
    """How far, day by day: a power of time, gone in bursts."""
    if creeper == "none":
        return np.zeros(LAST)
    least, most = SAG if creeper == "centre" else TILT
    yearly = math.exp(rng.uniform(math.log(least), math.log(most)))
    power = rng.uniform(*POWER_OF_TIME)
    smooth = np.diff((np.arange(LAST + 1) / DAYS) ** power)
    return np.asarray(yearly * np.cumsum(smooth * rng.gamma(BURSTS, 1 / BURSTS, LAST)))


def _seasons(tilts: Array, tube: Array, rng: np.random.Generator) -> None:
    """The tube and both mirrors lean with the time of year, in place."""
    days = 2 * math.pi * np.arange(LAST) / DAYS
    for table in (tilts[:, 0], tilts[:, 1], tube[:, 2:]):
        table += SEASON * rng.normal(0, 1, 2) * np.sin(days + rng.uniform(0, 2 * math.pi))[:, None]


def _bump(rng: np.random.Generator, tilts: Array, head: Array) -> tuple[int | None, str]:
    """Somebody runs into it: mirror 2 or the head stands elsewhere; the owner says the machine was bumped."""
    if rng.random() > 0.6:
        return None, ""
    day, part = int(rng.integers(40, 330)), str(rng.choice(["mirror 1", "mirror 2", "head"]))
    if part == "head":
        head[day:] += rng.normal(0, BUMP_SHIFT, 2)
    else:
        tilts[day:, int(part[-1]) - 1] += rng.normal(0, BUMP_TILT, 2)
    return day, part if rng.random() < 0.5 else "machine"


def _light(rng: np.random.Generator, cleaned: tuple[int, ...], new_tube: int | None) -> Array:
    """Ageing and dirt; cleaning takes most of the dirt away, a new tube the ageing."""
    ages, settles = rng.uniform(*AGEING) / DAYS, rng.uniform(*DIRT) / DAYS
    age, dirt, left = 0.0, 0.0, []
    for day in range(LAST):
        age, dirt = (0.0 if day == new_tube else age + ages), (0.2 * dirt if day in cleaned else dirt + settles)
        left.append(math.exp(-age - dirt))
    return np.array(left)


def aligned(year: Year, day: int, turned: Turned, rng: np.random.Generator) -> Turned:
    """What its owner has turned once it is aligned as well as hands do it that day."""
    state, warm = year.state(day, turned, year.warm(day)), year.warm(day)
    now = year.offsets(state).ravel()
    columns = []
    for number in range(6):
        step = np.zeros(6)
        step[number] = 0.01
        columns.append((year.offsets(year.state(day, _plus(turned, step), warm)).ravel() - now) / 0.01)
    wanted = -np.linalg.lstsq(np.stack(columns, axis=1), now, rcond=1e-3)[0]
    rough = wanted * (1 + rng.normal(0, 0.05, 6)) + rng.normal(0, 0.15, 6)
    return _plus(turned, rough)


def _plus(turned: Turned, step: Array) -> Turned:
    return replace(turned, tilts=turned.tilts + step[:4].reshape(2, 2), head=turned.head + step[4:])
