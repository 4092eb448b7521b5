"""One more mark, or adjust?  Every station has its mark, and it is still open whether all are within tolerance."""

import numpy as np

from coach.advice.confirmation import confirmation_probability
from coach.advice.facts import Outlook
from coach.advice.outlook import station_risks
from coach.advice.shots import Candidate, candidate
from coach.belief.belief import Belief

TRIED = (1, 2, 4, 6)
"""How many marks more at one station are weighed."""


def closest_call(belief: Belief, now: Outlook) -> Candidate | None:
    """The station that is hardest to tell from one beyond the tolerance, if another mark there may settle it."""
    shooting = belief.tuning.shooting
    if now.chance < shooting.open_call or _extra(belief) >= shooting.most_extra:
        return None
    risks = station_risks(belief.layout, belief.settled)
    for index in np.argsort(-risks * (1 - risks)):
        station = belief.layout.machine.stations[int(index)]
        read = [sighting for sighting in belief.marks_at(station.x, station.y) if not sighting.missed]
        close = risks[index] * (1 - risks[index]) > shooting.close_call
        if close and len(read) < shooting.most_at_one_station:
            again = candidate(belief, station.name, station.x, station.y)
            if again.safe:
                return again
    return None


def worth_a_mark(belief: Belief, again: Candidate, adjusting: float) -> bool:
    """Whether marks there are likely enough to end the job to come before adjusting, which takes so many minutes."""
    names = [station.name for station in belief.layout.machine.stations]
    station, pulse = names.index(again.shot.name), belief.tuning.costs.pulse
    for count in (n for n in TRIED if n <= belief.tuning.shooting.most_extra - _extra(belief)):
        if confirmation_probability(belief, belief.settled, [station] * count) * adjusting > count * pulse:
            return True
    return False


def _extra(belief: Belief) -> int:
    return len(belief.round_sightings) - len(belief.layout.machine.stations)
