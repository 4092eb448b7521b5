"""Ending well: every station is centred, or the machine is at its best with a fault that was taken as it is."""

from coach.advice import mirrors, reasons
from coach.advice.advice import Advice
from coach.advice.facts import Outlook
from coach.advice.faults import faults_taken
from coach.advice.offset_cost import worst_cost
from coach.belief.belief import Belief


def centred(belief: Belief, now: Outlook) -> Advice:
    """Every station is within the tolerance; where nothing was turned or moved, the alignment was not the trouble.

    Before that, where it is not sure that mirrors 1 and 2 are well hit: a mark there, or what it costs.
    """
    first = mirrors.before_done(belief, now)
    if first is not None:
        return first
    tolerance, at_edge = belief.layout.machine.tolerance, mirrors.left_at_edge(belief)
    reason = reasons.AllCentred(tolerance, now.chance, turned=belief.rounds > 0, at_edge=at_edge)
    return Advice("done", reason, now, reachable=now.worst)


def best_there_is(belief: Belief, now: Outlook) -> Advice | None:
    """Done with a fault that the person took as it is, once nothing further helps; None where none was."""
    faults = faults_taken(belief)
    if not faults:
        return None
    tolerance = belief.layout.machine.tolerance
    reason = reasons.BestThereIs(faults, now.worst, tolerance, *worst_cost(belief), turned=belief.rounds > 0)
    return Advice("done", reason, now, reachable=now.worst)
