"""Which tapes a sheet has room for, in the order in which they are pulsed, and how far off the middle is too far.

A sheet cannot answer.  So it begins with the pulse that the coach would ask for, goes on with the stations in the
order that leaves most room, and tells of each blank how far off all marks so far may lie for the next pulse to be as
sure of its target as any that the coach advises.  Whoever finds one farther off, or none, stops and asks the coach.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import product
from random import Random
from typing import assert_never

from coach.advice.advice import Shot
from coach.advice.decide import advise
from coach.advice.shots import Spot, candidates
from coach.belief.belief import Belief, Sighting, update
from coach.machine import Machine

HALVINGS = 5
"""So often the distance is halved: a 32nd of what can be read, finer than a ring that is drawn by hand."""
ALL_SIDES = 6
"""Marks up to which every way to lie to this side or that is tried."""
AXES = ((1.0, 0.0), (0.0, 1.0))


@dataclass(frozen=True)
class Blank:
    """One tape: where it is pulsed, and from how far off the next pulse is not to be made."""

    number: int
    """From 1, in the order of the sheet."""
    shot: Shot
    go_on: float | None
    """mm off the middle up to which this mark and those before may lie for the next pulse; None: no next."""


def blanks_of(machine: Machine, today: date) -> tuple[Blank, ...]:
    """The blanks of a machine's sheet, in their order: first what the coach would ask for, then a walk outwards."""
    start = Belief.initial(machine, today)
    made, limits = list(advise(start).stations[:1]), list[float | None]()
    left = [Shot(each.name, each.x, each.y) for each in machine.stations]
    while left := [shot for shot in left if not _done(shot, made)]:
        limit, following = _go_on(start, made, left[0]), left[0]
        for shot in left[1:]:
            if _is_sure(start, made, shot, limit):
                limit, following = _go_on(start, made, shot, limit), shot
        made.append(following)
        limits.append(limit)
    numbered = enumerate(zip(made, [*limits, None], strict=True), start=1)
    return tuple(Blank(number, shot, limit) for number, (shot, limit) in numbered)


def _done(shot: Shot, made: Sequence[Shot]) -> bool:
    return any((shot.x, shot.y, shot.target, shot.wide) == (m.x, m.y, m.target, m.wide) for m in made)


def _sighting(belief: Belief, shot: Shot, offset: tuple[float, float]) -> Sighting:
    u, v = offset
    sd = belief.tuning.readings.wide_sd if shot.wide else belief.tuning.readings.sd
    return Sighting(shot.name, shot.x, shot.y, shot.target, u, v, sd=sd, wide=shot.wide)


def _go_on(start: Belief, made: Sequence[Shot], following: Shot, least: float = 0.0) -> float:
    """How far off all marks made so far may lie, whichever way each, for the next pulse to stay on its target; mm.

    `least` is known to be near enough.
    """
    most = min(start.layout.machine.tape.readable(shot.target, shot.wide) for shot in made)
    for halving in range(HALVINGS + 1):
        far = (least + most) / 2 if halving else most
        if _is_sure(start, made, following, far):
            least = far
        else:
            most = far
    return least


def _is_sure(start: Belief, made: Sequence[Shot], following: Shot, far: float) -> bool:
    """Whether the next pulse may be advised with the marks so far off, across or along."""
    return all(_is_sure_along(start, made, following, far, axis) for axis in AXES)


def _is_sure_along(
    start: Belief, made: Sequence[Shot], following: Shot, far: float, axis: tuple[float, float]
) -> bool:
    """Whether the next pulse may be advised with the marks so far off along an axis, to whichever side each."""
    spot = Spot(following.name, following.x, following.y, following.target, following.wide)
    known: dict[tuple[int, ...], Belief] = {(): start}
    for sides in _sides(len(made)):
        for count, shot in enumerate(made, start=1):
            if sides[:count] not in known:
                offset = (far * sides[count - 1] * axis[0], far * sides[count - 1] * axis[1])
                known[sides[:count]] = update(known[sides[: count - 1]], _sighting(start, shot, offset))
        if not candidates(known[sides], [spot])[0].safe:
            return False
    return True


def _sides(count: int) -> Iterator[tuple[int, ...]]:
    """To which side each of so many marks may lie; mirrored it is the same. Of many marks a sample."""
    if count <= ALL_SIDES:
        yield from ((1, *others) for others in product((1, -1), repeat=count - 1))
        return
    sample = Random(count)
    yield from (tuple(sample.choice((1, -1)) for _ in range(count)) for _ in range(2 ** (ALL_SIDES - 1)))


def across(machine: Machine, shot: Shot) -> float:
    """Diameter of what the blank's circle stands for, mm: the head's opening, a mirror, or the wide card."""
    if shot.wide:
        return 2 * machine.tape.wide
    match shot.target:
        case "head":
            return machine.aperture.head
        case "mirror 1" | "mirror 2":
            return machine.path.diameter(int(shot.target[-1]))
        case _:
            assert_never(shot.target)
