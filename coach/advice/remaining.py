"""How many pulses and rounds are probably left: what to tell a person who asks "how long still?".

Means over practice machines (docs/benchmark.md), not promises.
"""

from coach.advice.facts import Left, Outlook
from coach.belief.belief import Belief


def remaining(belief: Belief, now: Outlook) -> Left:
    """Expected pulses and rounds until "done"."""
    costs, unmarked = belief.tuning.costs, len(belief.unmarked())
    failure = 1.0 - now.chance
    anew = (
        belief.adjustments == 0 or belief.disturbed
    )  # of a turn one mark shows that it failed, of a knock none does
    first = unmarked if anew else min(unmarked, 1)
    stations = len(belief.layout.machine.stations)
    between = costs.marks_between * (costs.rounds_after_failure - 1.0)
    confirming = stations + costs.marks_extra + between
    return Left(now.chance * unmarked + failure * (first + confirming), failure * costs.rounds_after_failure)
