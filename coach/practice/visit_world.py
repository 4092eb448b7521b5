"""A practice machine that cuts worse than it did, for one reason or two: what is wrong, what its owner says and sees.

None of its numbers is taken from what the coach believes or goes by.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from coach.machine import Machine
from coach.optics.gaussian import beam_radius, passed_fraction
from coach.optics.legs import leg_lengths
from coach.practice.visit_kinds import Wrong

Array = NDArray[np.float64]
FOCAL, DEPTH = 50.8, 1.0
"""mm: this world's lens, and how far off its focus half the peak is left."""
WAIST, M2 = 3.3, 1.25
WATTS = 55.0
CONE, HOLE = 0.6, 1.25
"""mm: the beam's radius in the nozzle's hole, and the hole's."""
SHARPNESS = 0.7
"""With which power of the peak intensity a cut's speed goes."""
NEVER_ASKED = 0.15
"""Share of questions to which the owner knows no answer …"""
WRONGLY_SAID = 0.08
"""… and to which they give a wrong one."""
OVERLOOKED = 0.04
"""Share of looks that see nothing where something is wrong, or something where nothing is."""


@dataclass(frozen=True, eq=False)
class World:
    """The truth about one machine."""

    machine: Machine
    wrong: tuple[Wrong, ...]
    offsets: Array
    """(stations, 2), mm, at the head's opening."""
    gaps: Mapping[str, float]
    """mm, head to bed at its corners."""
    gauge_off: float
    """mm, how far the gauge is off the focus."""
    absorbed: float
    """Share of the light that the lens takes up."""
    shares: Mapping[str, float]
    """What tube, supply, mirrors, smoke and warm water leave of the light."""
    hardness: float
    """Of today's sheet, over that of the baseline's."""
    dip: tuple[int, float]
    """A station at which the rail costs so much."""
    water: float
    """°C."""
    current: float
    """mA, of 20 once."""
    rng: np.random.Generator
    nozzle: tuple[float, float] = (0.0, 0.0)
    """mm that the beam passes off the nozzle's middle where it is centred at the head's opening."""

    def speeds(self, sound: bool = False) -> Array:
        """mm/s at which the sheet is just cut through at each station; of the sound machine on its own sheet."""
        stations = self.machine.stations
        speeds = []
        for k, station in enumerate(stations):
            u, v = (0.2, 0.1) if sound else (float(self.offsets[k, 0]), float(self.offsets[k, 1]))
            off = math.hypot(u, v)
            w = beam_radius(sum(leg_lengths(self.machine, station.x, station.y)), WAIST, m2=M2)
            passes = passed_fraction(self.machine.aperture.head / 2, w, off)
            here = (0.0, 0.0) if sound else self.nozzle
            passes *= passed_fraction(HOLE, CONE, math.hypot(here[0] + 8 * u / FOCAL, here[1] + 8 * v / FOCAL))
            if sound:
                speeds.append(20.0 * passes)
                continue
            warm = FOCAL**2 * WATTS * self.absorbed * 6.1e-5 / (math.pi * 18.0 * (w / 1000) ** 2) / 1e6 * 1000
            defocus = self.gauge_off + self._gap(station.x, station.y) - warm
            focus = (1.0 / (1.0 + (defocus / DEPTH) ** 2)) ** SHARPNESS
            dip = 1.0 - self.dip[1] * (k == self.dip[0])
            speeds.append(
                20.0 * passes * focus * math.prod(self.shares.values()) * (1 - self.absorbed) * dip / self.hardness
            )
        return np.array(speeds)

    def _gap(self, x: float, y: float) -> float:
        """mm beyond the gap where the gauge was held, which is the middle of the bed."""
        across, along = x / self.machine.bed.width, y / self.machine.bed.depth
        front = self.gaps["front_left"] * (1 - across) + self.gaps["front_right"] * across
        back = self.gaps["back_left"] * (1 - across) + self.gaps["back_right"] * across
        return front * (1 - along) + back * along - sum(self.gaps.values()) / 4


def draw_world(machine: Machine, wrong: tuple[Wrong, ...], seed: int) -> World:
    """A machine with these things wrong with it, and everything else as it is on a sound one."""
    rng = np.random.default_rng((seed, 4711))
    corners = ("front_left", "front_right", "back_left", "back_right")
    gaps = 6.0 + rng.normal(0, 0.04, 4)
    if "bed" in wrong:
        tilt = rng.uniform(1.6, 3.5)
        low = int(rng.integers(4))
        gaps = gaps + tilt * np.array([1.0 if c == low else 0.0 if c == 3 - low else 0.5 for c in range(4)])
    shares: dict[str, float] = {}
    for cause, least, most in (
        ("tube", 0.45, 0.72), ("supply", 0.5, 0.75), ("mirrors", 0.5, 0.75), ("extraction", 0.55, 0.78),
        ("cooling", 0.55, 0.78),
    ):  # fmt: skip
        shares[cause] = float(rng.uniform(least, most)) if cause in wrong else 1.0
    water = 20.0 + float(rng.normal(0, 1.2))
    if "cooling" in wrong:
        water = float(rng.uniform(28.0, 38.0))
    return World(
        machine,
        wrong,
        _offsets(machine, "alignment" in wrong, rng),
        dict(zip(corners, (float(gap) for gap in gaps), strict=True)),
        float(rng.choice([-1, 1]) * rng.uniform(1.1, 2.5)) if "focus" in wrong else float(rng.normal(0, 0.05)),
        float(rng.uniform(0.08, 0.2)) if "lens" in wrong else 0.003,
        shares,
        float(rng.uniform(1.3, 1.9)) if "material" in wrong else 1.0,
        (int(rng.integers(len(machine.stations))), float(rng.uniform(0.35, 0.7))) if "rail" in wrong else (0, 0.0),
        water,
        20.0 * (float(rng.uniform(0.6, 0.85)) if "supply" in wrong else 1.0),
        rng,
    )


def mended(world: World, cause: Wrong) -> World:
    """The machine once somebody saw to that cause; as it was where that was not what is wrong."""
    if cause not in world.wrong:
        return world
    sound = draw_world(world.machine, (), 0)
    changed = {
        "alignment": {"offsets": sound.offsets},
        "bed": {"gaps": sound.gaps},
        "focus": {"gauge_off": sound.gauge_off},
        "lens": {"absorbed": sound.absorbed},
        "rail": {"dip": sound.dip},
        "material": {"hardness": sound.hardness},
        "cooling": {"water": sound.water},
        "supply": {"current": sound.current},
    }.get(cause, {})
    left = tuple(other for other in world.wrong if other != cause)
    cured = {name: 1.0 if name == cause else share for name, share in world.shares.items()}
    return replace(world, wrong=left, shares=cured, **changed)  # type: ignore[arg-type]


def _offsets(machine: Machine, out: bool, rng: np.random.Generator) -> Array:
    """Two slopes and an offset, mm at the stations: 6 to 9 at the worst one, or within what nobody would touch."""
    legs = np.array([leg_lengths(machine, s.x, s.y) for s in machine.stations])
    grown = legs @ rng.normal(0, 1, (2, 2)) + 0.2 * rng.normal(0, 1, 2)
    worst = float(np.hypot(*grown.T).max())
    wanted = float(rng.uniform(6.5, 9.5)) if out else float(rng.uniform(0.1, 0.6))
    return np.asarray(grown * wanted / worst, dtype=np.float64)
