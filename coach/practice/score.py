"""The score of a case: shares and quantiles over many seeds, run on all cores."""

from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

import numpy as np

from coach.practice.peers import Peer, the_coach
from coach.practice.play import Played, play_case
from coach.practice.zoo import Case, case_named


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
    tolerance = case.machine(0).tolerance
    done = [p for p in played if p.end == "done"]
    within = [p.worst <= tolerance for p in done]
    rounds = np.percentile([p.rounds for p in played], [50, 95])
    pulses = np.percentile([p.pulses for p in played], [50, 95])
    return Score(
        case=case,
        sessions=len(played),
        within=float(np.mean(within)) if done else float("nan"),
        good=float(np.mean([ended_well(case, p, tolerance) for p in played])),
        stops=float(np.mean([p.end == "stop" for p in played])),
        rounds=(float(rounds[0]), float(rounds[1])),
        pulses=(float(pulses[0]), float(pulses[1])),
        off_tape=float(np.mean([p.off_tape for p in played])),
        false_alarms=float(np.mean([p.cause in ("yaw", "loose") for p in played])),
    )


def ended_well(case: Case, played: Played, tolerance: float) -> bool:
    """Whether a session ended as its case asks."""
    if case.aims.cause:
        return played.cause == case.aims.cause
    if case.aims.or_stop and played.end == "stop" and played.cause == "coarse":
        return True
    return played.end == "done" and played.worst <= tolerance
