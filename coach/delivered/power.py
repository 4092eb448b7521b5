"""The power that reaches each station over that which reaches the first, from doses of pulses and widths of marks.

A pulse of energy E in a beam of radius w leaves a mark of diameter D by Liu's law; the energy that just marks is

    ln E_th = ln E − D² / (2·w²)                     J. M. Liu, Opt. Lett. 7, 196 (1982) (memory)

and goes as w²/P: the same tape chars at the same fluence 2·P·t/(π·w²).  So ln P = 2·ln w − ln E_th + a number that
all stations share.  How wide the beam is nobody measured: beams are drawn of what usual tubes send out, weighed by
how well their widths agree with the marks (two doses at one place give w there), and grown along the legs.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coach.optics.gaussian import CO2_WAVELENGTH_UM, beam_radius
from coach.optics.marking import threshold
from coach.tuning.belief import Beam
from coach.tuning.doses import Doses

Array = NDArray[np.float64]
Interval = tuple[float, float, float]
"""Low, value, high: 19 in 20 lie between the first and the last."""
DRAWS = 4000


@dataclass(frozen=True)
class Place:
    """What pulses of one setting, on the same tape, left at one station."""

    along: float
    """Way of the beam from mirror 1, m."""
    wide: tuple[tuple[float, float], ...]
    """Dose, in any measure that is proportional to the energy, and diameter, mm, of each mark that was measured."""
    blank: float | None = None
    """The largest dose that left nothing …"""
    marked: float | None = None
    """… and the smallest that marked: asked where no width was measured."""

    @property
    def tells(self) -> bool:
        """Whether anything is known of the dose that just marks here."""
        return bool(self.wide) or (self.blank is not None and self.marked is not None and self.blank < self.marked)


@dataclass(frozen=True)
class Delivered:
    """One station beside the first: ratios, 1 where both get the same."""

    needed: Interval
    """The dose that just marks."""
    power: Interval
    """The power that gets there."""
    grown: float
    """What the growth of a usual beam makes of the dose by itself."""


@dataclass(frozen=True, eq=False)
class _Drawn:
    """Draws at one station, shape (DRAWS,)."""

    log_dose: Array
    """ln E_th."""
    log_radius: Array
    likelihood: Array
    """Its logarithm: how well the widths here agree with that beam."""


def delivered(places: Mapping[str, Place], beam: Beam, doses: Doses) -> dict[str, Delivered]:
    """Station to what gets there; without stations that say nothing, and empty where fewer than two say anything.

    The first is the one nearest the tube.
    """
    known = {name: place for name, place in places.items() if place.tells}
    if len(known) < 2:
        return {}
    rng = np.random.default_rng(1)
    waist = beam.waist * np.exp(doses.waist_share * rng.standard_normal(DRAWS))
    m2 = np.maximum(1.0, beam.m2 + doses.m2_sd * rng.standard_normal(DRAWS))
    drawn = {name: _drawn(place, waist, m2, doses, rng) for name, place in known.items()}
    first = min(known, key=lambda name: known[name].along)
    logs = sum(each.likelihood for each in drawn.values())
    chosen = _resampled(np.asarray(logs, dtype=np.float64))
    return {name: _over(drawn[name], drawn[first], chosen, _grown(known[name], known[first], beam)) for name in known}


def _drawn(place: Place, waist: Array, m2: Array, doses: Doses, rng: np.random.Generator) -> _Drawn:
    spread = np.exp(doses.radius_share * rng.standard_normal(DRAWS))
    # Kogelnik & Li's w(z) as `beam_radius` has it, for all draws at once
    grown = waist * np.hypot(1.0, place.along * CO2_WAVELENGTH_UM * m2 / (math.pi * waist**2))
    radius = np.asarray(grown * spread, dtype=np.float64)
    if not place.wide:
        assert place.blank is not None
        assert place.marked is not None
        between = rng.uniform(math.log(place.blank), math.log(place.marked), DRAWS)
        noise = doses.tape_sd * rng.standard_normal(DRAWS)
        return _Drawn(between + noise, np.log(radius), np.zeros(DRAWS))
    energy, width = (np.array(column)[:, None] for column in zip(*place.wide, strict=True))
    single = np.log(threshold(energy, width, radius))
    weight = 1.0 / ((width * doses.width_sd / radius**2) ** 2 + doses.tape_sd**2)
    total = weight.sum(axis=0)
    mean = (weight * single).sum(axis=0) / total
    misfit = (weight * (single - mean) ** 2).sum(axis=0)
    likelihood = 0.5 * (np.log(weight).sum(axis=0) - np.log(total) - misfit)
    return _Drawn(mean + rng.standard_normal(DRAWS) / np.sqrt(total), np.log(radius), likelihood)


def _resampled(logs: Array) -> NDArray[np.intp]:
    """Rows, each as often as its weight says, at even steps."""
    weight = np.exp(logs - logs.max())
    even = (np.arange(DRAWS) + 0.5) / DRAWS
    return np.asarray(np.searchsorted(np.cumsum(weight) / weight.sum(), even).clip(max=DRAWS - 1), dtype=np.intp)


def _over(here: _Drawn, first: _Drawn, chosen: NDArray[np.intp], grown: float) -> Delivered:
    needed = (here.log_dose - first.log_dose)[chosen]
    power = 2 * (here.log_radius - first.log_radius)[chosen] - needed
    return Delivered(_interval(needed), _interval(power), grown)


def _grown(here: Place, first: Place, beam: Beam) -> float:
    radii = [beam_radius(place.along, beam.waist, m2=beam.m2) for place in (here, first)]
    return (radii[0] / radii[1]) ** 2


def _interval(logs: Array) -> Interval:
    low, middle, high = np.exp(np.quantile(logs, np.array(COVERED)))
    return float(low), float(middle), float(high)


COVERED: Sequence[float] = (0.025, 0.5, 0.975)
"""Where an interval ends, and its value: 19 in 20."""
