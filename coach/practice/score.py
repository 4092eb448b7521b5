"""The score of a case: shares and quantiles over many seeds, run on all cores."""

from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

import numpy as np

from coach.practice.case import Case
from coach.practice.peers import Peer, the_coach
from coach.practice.play import play_case
from coach.practice.tally import Played
from coach.practice.zoo import case_named

HARMLESS = 2.0
"""mm: so far out an opening of 16 mm loses less than a thousandth of a beam of w = 3.5 mm (docs/model.md)."""
FALSE = ("coarse", "loose", "station")
"""Causes of stops that a machine without such a fault should not end with."""


@dataclass(frozen=True)
class Score:
    """One cell block of the benchmark table."""

    case: Case
    sessions: int
    within: float
    """Share of the sessions ended as "done" whose true worst offset is within tolerance."""
    good: float
    """Share of all sessions that ended as the case asks: within tolerance, honest stop, or right cause."""
    stops: float
    rounds: tuple[float, float]
    """Median and 95 %."""
    pulses: tuple[float, float]
    off_tape: float
    false_alarms: float
    """Share that ended by naming yaw or a loose part."""
    minutes: tuple[float, float]
    tube_moves: float
    """Per session."""
    smallest_move: float
    """mm, the least in any session; infinite where nothing was moved."""
    early_moves: float
    """Per session: moves before every station that could be marked was tried."""
    false_stops: dict[str, float]
    """Cause to the share of sessions that stopped for it without that fault."""


def run_case(name: str, seeds: Sequence[int], peer: Peer = the_coach, workers: int | None = None) -> list[Played]:
    """All sessions of a case, in the order of the seeds."""
    one = partial(_play_named, name, peer=peer)
    if workers == 1:
        return [one(seed) for seed in seeds]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(one, seeds, chunksize=8))


def _play_named(name: str, seed: int, peer: Peer) -> Played:
    return play_case(case_named(name), seed, peer)


def score(case: Case, played: Sequence[Played]) -> Score:
    """What the sessions of a case come to."""
    limit = case.machine(0).tolerance
    done = [p for p in played if p.end == "done"]
    within = [p.worst <= limit + case.slack for p in done]
    return Score(
        case=case,
        sessions=len(played),
        within=float(np.mean(within)) if done else float("nan"),
        good=float(np.mean([ended_well(case, p, limit) for p in played])),
        stops=float(np.mean([p.end == "stop" for p in played])),
        rounds=_spread([p.rounds for p in played]),
        pulses=_spread([p.pulses for p in played]),
        off_tape=float(np.mean([p.off_tape for p in played])),
        false_alarms=float(np.mean([p.cause in ("yaw", "loose") for p in played])),
        minutes=_spread([p.minutes for p in played]),
        tube_moves=float(np.mean([p.tube_moves for p in played])),
        smallest_move=min(p.smallest_move for p in played),
        early_moves=float(np.mean([p.early_moves for p in played])),
        false_stops={
            cause: float(np.mean([cause == p.cause or cause in p.offered for p in played]))
            for cause in FALSE
            if cause != case.aims.cause
        },
    )


def _spread(values: Sequence[float]) -> tuple[float, float]:
    """Median and 95 %."""
    middle, high = np.percentile(values, [50, 95])
    return float(middle), float(high)


def ended_well(case: Case, played: Played, tolerance: float) -> bool:
    """Whether a session ended as its case asks."""
    aims = case.aims
    if aims.cause:
        return played.cause == aims.cause
    if aims.untouched and (played.rounds or played.shifts):
        return False
    if played.end == "stop" and played.cause == "coarse":
        return aims.or_stop or (aims.or_leave and played.worst <= HARMLESS)
    return played.end == "done" and played.worst <= tolerance + case.slack
