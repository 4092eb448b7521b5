"""What a session at a practice machine takes: pulses, rounds, moves and minutes, and how it ended."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from coach.advice.facts import MirrorTurn

PULSE_MINUTES = 1.5
"""A pulse with tape, walk and measuring."""
MIRROR_MINUTES, SCREW_MINUTES = 1.0, 0.5
"""Reaching a mirror, and every screw that is turned there."""
MOVE_MINUTES: Mapping[str, float] = {"mirror 1": 5.0, "mirror 2": 5.0, "head": 5.0, "tube": 20.0}
"""Moving a part, in one direction or in two."""


@dataclass(frozen=True)
class Played:
    """How one session went, judged on the machine's true state."""

    seed: int
    end: str
    """"done", "stop" or "given up"."""
    cause: str
    worst: float
    """mm, true largest station offset at the end."""
    promised: float
    """mm, the worst offset the adviser expected at the end."""
    rounds: int
    """Times that turning was advised."""
    shifts: int
    """Times that a part was moved."""
    pulses: int
    off_tape: int
    minutes: float = 0.0
    """At the machine, by the costs above."""
    tube_moves: int = 0
    smallest_move: float = float("inf")
    """mm, the least that a part was to be moved along any direction."""
    early_moves: int = 0
    """Moves made while a station that could be marked had no mark yet."""
    refused: int = 0
    """Moves that the owner had to refuse."""
    offered: tuple[str, ...] = ()
    """Causes of the stops after which the owner went on."""


@dataclass
class Tally:
    """Counts as the session goes on."""

    rounds: int = 0
    shifts: int = 0
    pulses: int = 0
    off_tape: int = 0
    minutes: float = 0.0
    tube_moves: int = 0
    smallest_move: float = float("inf")
    early_moves: int = 0
    refused: int = 0
    offered: list[str] = field(default_factory=list)

    def pulse(self) -> None:
        """One pulse, whatever it left."""
        self.pulses += 1
        self.minutes += PULSE_MINUTES

    def turn(self, turn: MirrorTurn) -> None:
        """Screws of one mirror."""
        self.minutes += MIRROR_MINUTES + SCREW_MINUTES * len(turn.screws)

    def move(self, part: str, along: Mapping[str, float], early: bool) -> None:
        """One part, by mm along one direction or two."""
        self.shifts += 1
        self.tube_moves += part == "tube"
        self.early_moves += early
        self.smallest_move = min(self.smallest_move, *(abs(mm) for mm in along.values()))
        self.minutes += MOVE_MINUTES[part]

    def played(self, seed: int, end: str, cause: str, worst: float, promised: float) -> Played:
        """The finished session."""
        return Played(
            seed,
            end,
            cause,
            worst,
            promised,
            self.rounds,
            self.shifts,
            self.pulses,
            self.off_tape,
            self.minutes,
            self.tube_moves,
            self.smallest_move,
            self.early_moves,
            self.refused,
            tuple(self.offered),
        )
