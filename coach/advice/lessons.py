"""What the marks taught, as facts: expected against seen, and how a screw differs from its geometry."""

from dataclasses import dataclass

import numpy as np

from coach.belief.belief import Belief
from coach.belief.kalman import Array
from coach.belief.layout import PER_SCREW
from coach.belief.learned import responses_of
from coach.belief.measurements import Sighting
from coach.machine import Drive
from coach.optics.mounts import screw_responses

CHI_SQUARE_95 = 5.991
"""Upper 0.95 point for two degrees of freedom (NIST/SEMATECH handbook §1.3.6.7.4, from memory)."""
TOLD = 0.15
"""A screw's size must differ from its geometry by at least this part to be worth a sentence …"""
SURE_BY = 2.0
"""… and by this many standard deviations."""
VAGUE_FROM = 0.5
"""Share of the target's readable radius from which two deviations of what was expected say nothing beforehand."""
SETTLED = 0.95
"""Probability from which the drive counts as known."""


@dataclass(frozen=True)
class Retest:
    """A new mark, or a miss, beside what was believed just before it; mm."""

    station: str
    expected_u: float
    expected_v: float
    expected_sd: float
    seen: tuple[float, float] | None
    """None where no mark was on the target."""
    as_expected: bool
    vague: bool = False
    """The expectation was so wide that no mark on the target could have contradicted it."""


@dataclass(frozen=True)
class DriveLearned:
    """Which way a mirror's screws drive, and what the profile said."""

    mirror: int
    push: bool
    said: Drive


@dataclass(frozen=True)
class ResponseLearned:
    """A screw moves the mark `ratio` times as far as its geometry says, give or take `give`."""

    mirror: int
    screw: str
    ratio: float
    """To one decimal, as it is said: a lesson is new when it would be said differently."""
    give: float
    """Two standard deviations of the ratio."""


Lesson = DriveLearned | ResponseLearned


def retest(before: Belief, sighting: Sighting) -> Retest:
    """How a new mark, or a miss, compares with the belief held just before it."""
    mark = before.expected(sighting.x, sighting.y, sighting.target, sighting.sd)
    if sighting.u is None or sighting.v is None:
        return Retest(sighting.station, mark.u, mark.v, mark.sd, None, as_expected=False)
    good = mark.distance(sighting.u, sighting.v) < CHI_SQUARE_95
    vague = 2 * mark.sd > VAGUE_FROM * before.layout.machine.tape.readable(sighting.target, sighting.wide)
    return Retest(sighting.station, mark.u, mark.v, mark.sd, (sighting.u, sighting.v), good, vague)


def lessons(belief: Belief) -> tuple[Lesson, ...]:
    """What is known by now about drives and screws that the profile did not say."""
    found: list[Lesson] = []
    for mirror in sorted({screw.mirror for screw in belief.layout.screws}):
        screws = belief.layout.of_mirror(mirror)
        turned = [belief.last_direction[belief.layout.screws.index(screw)] != 0 for screw in screws]
        if not any(turned):
            continue
        found += _drive_lesson(belief, mirror)
        mean, cov = responses_of(belief.layout, belief.settled, mirror)
        nominal = screw_responses(belief.layout.machine.mount(mirror), belief.layout.machine.path.side)
        for index, screw in enumerate(screws):
            part = slice(PER_SCREW * index, PER_SCREW * index + 2)
            if turned[index]:
                found += _response_lesson(mirror, screw.name, nominal[index, :2], mean[part], cov[part, part])
    return tuple(found)


def _drive_lesson(belief: Belief, mirror: int) -> list[Lesson]:
    said = belief.layout.machine.mount(mirror).drive
    push = belief.drive_push(mirror)
    found = "push" if push > SETTLED else "pull" if push < 1 - SETTLED else ""
    return [DriveLearned(mirror, found == "push", said)] if found and found != said else []


def _response_lesson(mirror: int, screw: str, nominal: Array, mean: Array, cov: Array) -> list[Lesson]:
    """Compares the size of the response along its own direction with the geometry's."""
    size = float(np.hypot(*nominal))
    along = mean / np.hypot(*mean)
    ratio = float(np.hypot(*mean)) / size
    sd = float(np.sqrt(along @ cov @ along)) / size
    if abs(ratio - 1) < max(TOLD, SURE_BY * sd):
        return []
    return [ResponseLearned(mirror, screw, round(ratio, 1), round(2 * sd, 1))]
