"""How many pulses and rounds are probably left: what to tell a person who asks "how long still?".

Means over 399 sessions of the practice machines of the "plain" kind, seeds 12000 to 12399 (docs/benchmark.md);
not promises.
"""

from coach.advice.advice import Left, Outlook
from coach.belief.belief import Belief

ROUNDS_AFTER_FAILURE = 3.5
"""Rounds of adjusting, shifts counted, that a machine out of tolerance takes from there, on average."""
MARKS_BETWEEN = 1.4
"""Marks between two rounds of adjusting."""
EXTRA = 0.3
"""Marks beyond one at each station when the last round is confirmed."""


def remaining(belief: Belief, now: Outlook, unmarked: int) -> Left:
    """Expected pulses and rounds until "done", with `unmarked` stations lacking a mark in this round."""
    stations = len(belief.layout.machine.stations)
    failure = 1.0 - now.chance
    rounds = failure * ROUNDS_AFTER_FAILURE
    first = unmarked if belief.adjustments == 0 else min(unmarked, 1)
    confirming = stations + EXTRA + MARKS_BETWEEN * (ROUNDS_AFTER_FAILURE - 1.0)
    return Left(now.chance * unmarked + failure * (first + confirming), rounds)
