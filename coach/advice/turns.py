"""Turns as they are said: grouped by mirror."""

from coach.advice.facts import MirrorTurn
from coach.belief.kalman import Array
from coach.belief.layout import Layout


def as_mirror_turns(layout: Layout, turns: Array) -> tuple[MirrorTurn, ...]:
    """The turns that are not zero, grouped by mirror."""
    grouped: dict[int, dict[str, float]] = {}
    for screw, amount in zip(layout.screws, turns, strict=True):
        if amount != 0:
            grouped.setdefault(screw.mirror, {})[screw.name] = float(amount)
    return tuple(MirrorTurn(mirror, screws) for mirror, screws in grouped.items())
