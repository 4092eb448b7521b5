"""What no screw cures, told apart by the likelihood of each explanation."""

from dataclasses import dataclass

import numpy as np

from coach.advice.advice import Cause
from coach.belief.belief import Belief
from coach.belief.layout import YAW
from coach.shown import show_length

SURE = 0.95
MATTERS = 0.4
"""Share of the tolerance that the yaw alone must take at some station to be a reason to stop."""


@dataclass(frozen=True)
class Stop:
    """Why turning is not worth it, and what to look at."""

    cause: Cause
    why: str
    look_at: tuple[str, ...]


def stop_cause(belief: Belief) -> Stop | None:
    """The cause that is all but certain, or None."""
    if not belief.layout.screws:
        return Stop("no screws", "This machine's profile has no screws to turn.", ("the machine's profile",))
    place, chance = belief.odd_place
    if chance > SURE:
        return Stop(
            "station",
            f"The marks at {place} agree with each other but with none of the others ({chance:.0%} sure): "
            "the machine itself stands off there.",
            (f"the rails and the gantry at {place}: dirt, a dent, a bump", "the belts and bearings there"),
        )
    if belief.cause("loose") > SURE:
        return Stop(
            "loose",
            f"The marks jump about more than any reading does ({belief.cause('loose'):.0%} sure): "
            "something moves between pulses, most likely mirror 2 in its mount.",
            ("mirror 2's mount and its lock nuts", "the gantry's bearings and belts", "the head's play"),
        )
    if belief.cause("yaw") > SURE:
        residual = yaw_residual(belief)
        if residual > MATTERS * belief.layout.machine.tolerance:
            return Stop(
                "yaw",
                f"The four corners disagree crosswise ({belief.cause('yaw'):.0%} sure): the gantry yaws as "
                f"it travels, which alone leaves {show_length(residual)} at a corner whatever the screws do.",
                ("the gantry's squareness to its rails", "both drive belts' tension", "a bent or dirty rail"),
            )
    return None


def yaw_residual(belief: Belief) -> float:
    """mm: what the believed yaw term leaves at the worst station after the best tilt and shift."""
    rows = belief.layout.station_rows
    bank = belief.settled
    yaw = float(bank.weights @ bank.gaussian.mean[:, YAW])
    others = np.stack([np.ones(len(rows)), rows[:, 0, 4], rows[:, 0, 6]], axis=1)
    crosswise = rows[:, 0, YAW]
    left = crosswise - others @ np.linalg.lstsq(others, crosswise, rcond=None)[0]
    return float(np.abs(left).max() * abs(yaw))
