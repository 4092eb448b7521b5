"""Every pulse of a session with its dose, and what they tell of the next one that leaves nothing.

Nothing on the target has three rivals: not firing, too weak, and missed.  The first two do not hang on where the beam
is; how likely they are follows from the doses that have marked and those that have not.
"""

import math
from dataclasses import dataclass, replace
from operator import attrgetter
from typing import Literal

import numpy as np

from coach.belief.kalman import Array
from coach.belief.measurements import Sighting, Silence
from coach.machine import Machine
from coach.tuning.doses import Doses

Fired = Literal["mark", "nothing", "weak", "miss", "flare"]
"""What a pulse came to: "nothing" while nobody knows why, "weak" once it must have been so."""

SAME_PLACE = 1.0
"""mm: pulses closer together than this are at the same place."""
GRID = np.linspace(-6.0, 6.0, 241)
"""Deviations of the grid that sums over the threshold."""


@dataclass(frozen=True)
class Pulsed:
    """One pulse that was made."""

    sighting: Sighting
    came_to: Fired
    level: float
    """Logarithm of its dose over the one to begin with."""

    def at(self, other: Sighting) -> bool:
        """Whether that is the same place and target; tape or a card before it."""
        return same_place(self.sighting, other)


def same_place(one: Sighting, other: Sighting) -> bool:
    """Whether two pulses were made at one place of the head and on one target."""
    return one.target == other.target and math.hypot(one.x - other.x, one.y - other.y) < SAME_PLACE


def trail(pulses: tuple[Pulsed, ...], at: Sighting) -> tuple[Pulsed, ...]:
    """The newest pulses, at this place, of which nothing was seen: the steps made here so far."""
    made: list[Pulsed] = []
    for pulsed in reversed(pulses):
        if pulsed.came_to != "nothing" or not pulsed.at(at):
            break
        made.append(pulsed)
    return tuple(reversed(made))


def level_of(machine: Machine, pulses: tuple[Pulsed, ...], sighting: Sighting, doses: Doses) -> float:
    """Logarithm of a pulse's dose over the one to begin with; unknown ones are taken as told."""
    if sighting.ms is None and sighting.power is None and machine.pulse.timed is None:
        marked = next((p.level for p in reversed(pulses) if p.came_to == "mark"), 0.0)
        return marked + len(trail(pulses, sighting)) * math.log(doses.step)  # so many small steps were told
    usual = doses.finger if machine.pulse.timed is False else machine.pulse.ms or doses.ms
    begin = usual * (machine.pulse.power or doses.power)
    dose = (sighting.ms or usual) * (sighting.power or machine.pulse.power or doses.power)
    return math.log(dose / begin)


def remembered(machine: Machine, pulses: tuple[Pulsed, ...], sighting: Sighting, doses: Doses) -> tuple[Pulsed, ...]:
    """The pulses with this one; what it explains of those before it at its place is not open any more."""
    came: Fired = "mark" if not sighting.missed else "nothing" if sighting.unexplained else "miss"
    now = Pulsed(sighting, came, level_of(machine, pulses, sighting, doses))
    if came == "nothing":
        return (*pulses, now)
    open_here = trail(pulses, sighting)
    before = pulses[: len(pulses) - len(open_here)]
    return (*before, *(replace(p, came_to="weak" if came == "mark" else "miss") for p in open_here), now)


def in_one_round(
    before: tuple[Sighting, ...], newest: Sighting, pulses: tuple[Pulsed, ...], doses: Doses, *, by_hand: bool
) -> tuple[Sighting, ...]:
    """A round's sightings with the newest: what it explains, or repeats, left out; the open ones weighed anew."""
    if newest.silence is None and not any(map(attrgetter("silence"), before)):
        return (*before, newest)  # nearly always none is open: the thousandth mark costs hardly more than the first
    kept = (*(s for s in before if not (s.unexplained and same_place(s, newest))), newest)
    opened = [s for s in kept if s.unexplained]
    weighed = iter(silences(opened, pulses, doses, by_hand=by_hand))
    return tuple(replace(s, silence=next(weighed)) if s.unexplained else s for s in kept)


def silences(opened: list[Sighting], pulses: tuple[Pulsed, ...], doses: Doses, *, by_hand: bool) -> list[Silence]:
    """How likely each of these pulses leaves nothing on its target, given that those before it in the list did.

    The threshold at a place is t + e, t ~ N(threshold, threshold_sd²) for the machine and e ~ N(0, places_sd²)
    for the place.  A mark at level m says t + e < m, a pulse that was too weak t + e > m; summed over a grid of t.
    Of several pulses at one place the strongest counts, since what silences it silences the others; and a laser that
    does not fire, or a dose that is too low, silences them at every place alike.
    """
    if not opened:
        return []
    apart = math.hypot(doses.places_sd, doses.finger_sd) if by_hand else doses.places_sd
    threshold = doses.threshold + doses.threshold_sd * GRID
    known = np.exp(-0.5 * GRID**2)
    for pulsed in pulses:
        if pulsed.came_to == "mark":
            known = known * _normal_cdf((pulsed.level - threshold) / apart)
        elif pulsed.came_to == "weak":
            known = known * _normal_cdf((threshold - pulsed.level) / apart)
    known = known / known.sum()
    marked = any(p.came_to in ("mark", "flare") for p in pulses)
    dead, weak, so_far, found = (doses.not_firing if marked else doses.not_firing_first), 1.0, 1.0, []
    for sighting in opened:
        strongest = max(p.level for p in pulses if p.came_to == "nothing" and p.at(sighting))
        known = known * _normal_cdf((threshold - strongest) / apart)
        weak = (1 - dead) * float(known.sum())
        found.append(Silence(dead / so_far, weak / so_far))
        so_far = dead + weak
    return found


def _normal_cdf(z: Array) -> Array:
    return np.array([0.5 * math.erfc(-value / math.sqrt(2)) for value in z])
