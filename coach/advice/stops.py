"""What no screw cures, told apart by the likelihood of each explanation."""

import numpy as np

from coach.advice.reasons import GantryYaws, NoScrews, OddStation, SomethingLoose
from coach.belief.belief import Belief
from coach.belief.layout import A1_U, A2_U, YAW
from coach.belief.pulses import SAME_PLACE

MOST_COMPARED = 60
"""Marks of a round; five stations twelve times."""
StopReason = NoScrews | OddStation | SomethingLoose | GantryYaws


def stop_reason(belief: Belief) -> StopReason | None:
    """The cause that is all but certain, or None."""
    sure = belief.tuning.deciding.cause_sure
    if not belief.layout.screws:
        return NoScrews()
    station, chance = belief.odd_station
    repeats = _repeats(belief)
    agree = all(apart < limit for name, apart, limit in repeats if name == station)
    if chance > sure and belief.adjustments and agree and "station" not in belief.accepted:
        return OddStation(station, chance)
    jumps = any(apart > limit for _, apart, limit in repeats)
    if belief.cause("loose") > sure and jumps and "loose" not in belief.accepted:
        return SomethingLoose(belief.cause("loose"))
    if belief.cause("yaw") > sure and "yaw" not in belief.accepted:
        residual = yaw_residual(belief)
        if residual > belief.tuning.deciding.yaw_matters * belief.layout.machine.tolerance:
            return GantryYaws(belief.cause("yaw"), residual)
    return None


def unproven_loose(belief: Belief) -> bool:
    """Whether a part is all but certainly loose by the scatter of the marks; two at one place have to say so."""
    return belief.cause("loose") > belief.tuning.deciding.cause_sure and "loose" not in belief.accepted


def _repeats(belief: Belief) -> list[tuple[str, float, float]]:
    """Each two marks of this round at one place: the place, how far apart they lie and how far readings would, mm.

    Of the newest marks: among hundreds of pairs some lie far apart by chance.
    """
    marks = [s for s in belief.round_sightings if s.target == "head" and not s.missed][-MOST_COMPARED:]
    apart = belief.tuning.deciding.repeats_apart
    return [
        (one.station, float(np.hypot(*(one.offset - other.offset))), apart * float(np.hypot(one.sd, other.sd)))
        for index, one in enumerate(marks)
        for other in marks[index + 1 :]
        if np.hypot(one.x - other.x, one.y - other.y) < SAME_PLACE
    ]


def yaw_residual(belief: Belief) -> float:
    """mm: what the believed yaw term leaves at the worst station after the best tilt and shift."""
    across = belief.layout.station_matrices[:, 0]
    others = np.stack([np.ones(len(across)), across[:, A1_U], across[:, A2_U]], axis=1)
    crosswise = across[:, YAW]
    left = crosswise - others @ np.linalg.lstsq(others, crosswise, rcond=None)[0]
    return float(np.abs(left).max() * abs(belief.settled.mixture.moments.mean[YAW]))
