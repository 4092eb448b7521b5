"""What somebody does next at a practice machine, whoever advises it."""

from dataclasses import dataclass

from coach.advice.advice import Advice, Cause, Kind
from coach.advice.facts import MirrorTurn, Shot


@dataclass(frozen=True)
class Action:
    """The next action; what does not belong to `kind` keeps its empty default."""

    kind: Kind
    stations: tuple[Shot, ...] = ()
    turns: tuple[MirrorTurn, ...] = ()
    part: str = ""
    up: float = 0.0
    right: float = 0.0
    back: float = 0.0
    cause: Cause = ""
    promised: float = float("nan")
    """mm, the worst offset that is expected where one is."""

    @classmethod
    def of(cls, advice: Advice) -> "Action":
        """What the coach advises."""
        a = advice
        return cls(a.kind, a.stations, a.turns, a.part, a.up, a.right, a.back, a.cause, a.now.worst)
