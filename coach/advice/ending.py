"""Ending well: every station is centred, or the machine is at its best with a fault that was taken as it is."""

from coach.advice import reasons
from coach.advice.advice import Advice
from coach.advice.facts import Outlook
from coach.advice.offset_cost import worst_cost
from coach.belief.belief import Belief


def centred(belief: Belief, now: Outlook) -> Advice:
    """Every station is within the tolerance; where nothing was turned or moved, the alignment was not the trouble."""
    reason = reasons.AllCentred(belief.layout.machine.tolerance, now.chance, turned=belief.rounds > 0)
    return Advice("done", reason, now, reachable=now.worst)


def best_there_is(belief: Belief, now: Outlook) -> Advice | None:
    """Done with a fault that the person took as it is, once nothing further helps; None where none was."""
    if not belief.accepted:
        return None
    tolerance = belief.layout.machine.tolerance
    faults = tuple(sorted(belief.accepted))
    reason = reasons.BestThereIs(faults, now.worst, tolerance, *worst_cost(belief), turned=belief.rounds > 0)
    return Advice("done", reason, now, reachable=now.worst)
