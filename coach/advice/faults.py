"""Faults that the person took as they are."""

from coach.belief.belief import Belief

STAYING = frozenset({"yaw", "loose", "station", "coarse"})
"""Faults that stay where they are taken as they are; that a laser does fire is none."""


def faults_taken(belief: Belief) -> tuple[str, ...]:
    """The faults that the person took as they are, in the order of their names."""
    return tuple(sorted(belief.accepted & STAYING))
