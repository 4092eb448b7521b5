"""What no screw cures, told apart by the likelihood of each explanation."""

import numpy as np

from coach.advice.reasons import GantryYaws, NoScrews, OddStation, SomethingLoose
from coach.belief.belief import SAME_PLACE, Belief
from coach.belief.layout import A1_U, A2_U, YAW

StopReason = NoScrews | OddStation | SomethingLoose | GantryYaws


def stop_reason(belief: Belief) -> StopReason | None:
    """The cause that is all but certain, or None."""
    sure = belief.tuning.deciding.cause_sure
    if not belief.layout.screws:
        return NoScrews()
    station, chance = belief.odd_station
    if chance > sure and belief.adjustments and "station" not in belief.accepted:
        return OddStation(station, chance)
    if belief.cause("loose") > sure and "loose" not in belief.accepted and _repeats_disagree(belief):
        return SomethingLoose(belief.cause("loose"))
    if belief.cause("yaw") > sure and "yaw" not in belief.accepted:
        residual = yaw_residual(belief)
        if residual > belief.tuning.deciding.yaw_matters * belief.layout.machine.tolerance:
            return GantryYaws(belief.cause("yaw"), residual)
    return None


def _repeats_disagree(belief: Belief) -> bool:
    """Whether marks repeated at one place, without a touch between, lie farther apart than readings do."""
    sightings = [s for s in belief.round_sightings if s.target == "head" and not s.missed]
    for index, one in enumerate(sightings):
        for other in sightings[index + 1 :]:
            if np.hypot(one.x - other.x, one.y - other.y) < SAME_PLACE:
                apart = float(np.hypot(*(one.offset - other.offset)))
                if apart > belief.tuning.deciding.repeats_apart * float(np.hypot(one.sd, other.sd)):
                    return True
    return False


def yaw_residual(belief: Belief) -> float:
    """mm: what the believed yaw term leaves at the worst station after the best tilt and shift."""
    across = belief.layout.station_matrices[:, 0]
    others = np.stack([np.ones(len(across)), across[:, A1_U], across[:, A2_U]], axis=1)
    crosswise = across[:, YAW]
    left = crosswise - others @ np.linalg.lstsq(others, crosswise, rcond=None)[0]
    return float(np.abs(left).max() * abs(belief.settled.mixture.moments.mean[YAW]))
