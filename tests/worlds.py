"""Practice machines whose world is, or is not, the one that the coach believes in; sessions on them, watched.

NIS (normalised innovation squared) is e·S⁻¹·e of a mark against what was expected of it just before, NEES the same
of the true offset against what is believed of it: of a consistent filter both are χ² with two degrees of freedom, so
that n of them have a mean of 2 and a sum that is χ² with 2n (Bar-Shalom, Li & Kirubarajan, Estimation with
Applications to Tracking and Navigation, §5.4, from memory).  Their mean divided by 2 is the ratio that is given: 1 is
honest, more is too sure, less is too careful.
"""

import math
from dataclasses import dataclass, field, replace
from unittest.mock import patch

import numpy as np
from scipy import stats

from coach import Machine, Session
from coach.belief.expectation import ExpectedMark
from coach.machine import Point
from coach.practice.action import Action
from coach.practice.bench import Bench
from coach.practice.kinds import KINDS, Trouble
from coach.practice.play import Played, play
from coach.practice.zoo import case_named
from coach.session.events import Mark

PLAIN = KINDS["plain"]
BELIEVED = replace(
    PLAIN, slope=5.0, offset=2.9, shift_fraction=0.1, shift_absolute=0.2, turn_absolute=0.012, carried=True
)
"""Errors as large as they are believed to be beforehand, and hands as rough (docs/model.md, "Prior")."""


@dataclass(frozen=True)
class World:
    """What really happens, where it differs from the plain practice machine and from what is believed."""

    name: str
    trouble: Trouble = PLAIN
    scale: float = 1.0
    """The mounts' points stand so many times as far from the mirror's centre as the profile says."""
    turned: float = 0.0
    """Degrees by which they are turned about it."""
    tilt: float = 0.0
    """mrad rms of slope in each axis that moving the tube or a mirror brings with it."""


WORLDS = (
    World("as believed", BELIEVED),
    World("plain"),
    World("mounts ×0.5 as large", scale=0.5),
    World("mounts ×2 as large", scale=2.0),
    World("mounts turned by 30°", turned=30.0),
    World("readings ×2 as rough", replace(PLAIN, reading=2 * PLAIN.reading)),
    World(
        "turns ×2 as rough",
        replace(PLAIN, turn_fraction=2 * PLAIN.turn_fraction, turn_absolute=2 * PLAIN.turn_absolute),
    ),
    World("backlash ×3 as large", replace(PLAIN, backlash=3 * PLAIN.backlash)),
    World("a shift tilts by 0.4 mrad", tilt=0.4),
    World("a shift tilts by 1.5 mrad", tilt=1.5),
)
"""Rows of the table of tests/figures/misspecified.py."""


class WorldBench(Bench):
    """The practice bench of a world."""

    def __init__(self, profile: Machine, seed: int, world: World) -> None:
        mounts = tuple(
            mount.model_copy(update={"points": tuple(_really(point, world) for point in mount.points)})
            for mount in profile.mounts
        )
        trouble = replace(world.trouble, tube_tilt=world.tilt, plate_tilt=world.tilt)
        with patch.dict(KINDS, {"world": trouble}):
            super().__init__(profile.model_copy(update={"mounts": mounts}), seed, "world")
        self.world = world


def _really(point: Point, world: World) -> Point:
    angle = math.radians(world.turned)
    x = world.scale * (point.x * math.cos(angle) - point.y * math.sin(angle))
    y = world.scale * (point.x * math.sin(angle) + point.y * math.cos(angle))
    return point.model_copy(update={"x": x, "y": y})


@dataclass
class Watched:
    """What a session, or many, showed: how they ended, and how well the marks were foreseen."""

    played: list[Played] = field(default_factory=list)
    first: list[float] = field(default_factory=list)
    """NIS of the marks before anything was adjusted."""
    retest: list[float] = field(default_factory=list)
    """… of the first mark after turns or a shift."""
    again: list[float] = field(default_factory=list)
    """… of all further marks."""
    before: list[float] = field(default_factory=list)
    """NEES of one station's offset when the first round of marks was made."""
    turned: list[float] = field(default_factory=list)
    """… after every adjustment, untested."""
    end: list[float] = field(default_factory=list)
    """… at the end."""

    def and_(self, other: "Watched") -> "Watched":
        """Both together."""
        return Watched(*(getattr(self, name) + getattr(other, name) for name in self.__dataclass_fields__))


def ratio(squares: list[float]) -> float:
    """Mean of squares with two degrees of freedom, over 2."""
    return float(np.mean(squares)) / 2


def bounds(count: int, sure: float = 0.99) -> tuple[float, float]:
    """Between which their ratio lies with that probability when the filter is consistent: χ² points of scipy."""
    low, high = stats.chi2.ppf([(1 - sure) / 2, (1 + sure) / 2], 2 * count) / (2 * count)
    return float(low), float(high)


class Watcher:
    """The coach as an adviser, watched: before each advice it looks at what became of the last."""

    def __init__(self, bench: WorldBench, station: str) -> None:
        self.bench, self.watched = bench, Watched()
        self.station = bench.machine.station(station)
        self._expected: ExpectedMark | None = None
        self._kind = ""
        self._adjusted, self._tested = False, False

    def __call__(self, session: Session) -> Action:
        """The session's advice."""
        self._look_back(session)
        advice = session.advice()
        self._expected = None
        if advice.kind == "shoot":
            shot = advice.stations[0]
            self._expected = session.belief.expected(shot.x, shot.y, shot.target, sd=0.0)
        elif advice.kind in ("turn", "shift") and not self._adjusted:
            self.watched.before.append(self._nees(session))
        elif advice.kind in ("done", "stop"):
            self.watched.end.append(self._nees(session))
        self._kind = advice.kind
        return Action.of(advice)

    def _look_back(self, session: Session) -> None:
        watched, last = self.watched, session.events[-1] if session.events else None
        if self._expected is not None and isinstance(last, Mark):
            trouble = self.bench.trouble
            reading = PLAIN.reading**2 + trouble.rounding**2 / 12  # what is believed of readers, and the rounding
            nis = squared(np.array([last.u, last.v]) - self._expected.mean, self._expected.cov + reading * np.eye(2))
            self._group().append(nis)
            self._tested = True
        elif self._kind in ("turn", "shift"):
            self._adjusted, self._tested = True, False
            watched.turned.append(self._nees(session))

    def _group(self) -> list[float]:
        """Where the mark just made belongs."""
        if not self._adjusted:
            return self.watched.first
        return self.watched.again if self._tested else self.watched.retest

    def _nees(self, session: Session) -> float:
        mark = session.belief.expected(self.station.x, self.station.y, sd=0.0)
        return squared(np.array(self.bench.true_offsets()[self.station.name]) - mark.mean, mark.cov)


def squared(error: np.ndarray, cov: np.ndarray) -> float:
    """e·S⁻¹·e."""
    return float(error @ np.linalg.solve(cov, error))


def watch(world: World, seed: int, tape: float | None = None) -> Watched:
    """One session of the zoo's plain profiles in that world; `tape` widens the tape, so that no mark is lost."""
    profile = case_named("plain").machine(seed)
    if tape is not None:
        profile = profile.model_copy(update={"tape": profile.tape.model_copy(update={"radius": tape})})
    bench = WorldBench(profile, seed, world)
    watcher = Watcher(bench, profile.stations[seed % len(profile.stations)].name)
    watcher.watched.played.append(play(Session.start(profile), bench, watcher))
    return watcher.watched


def watch_all(world: World, seeds: range, tape: float | None = None) -> Watched:
    """The sessions of all seeds, one after another."""
    together = Watched()
    for seed in seeds:
        together = together.and_(watch(world, seed, tape))
    return together
