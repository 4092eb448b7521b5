"""How the coach fares in worlds that are not as it believes: a Markdown table for docs/benchmark.md.

    python tests/figures/misspecified.py [SESSIONS]     100 sessions a row unless told otherwise, seeds from 50000

Belief and practice bench share their numbers; here mounts, noises and shifts are off from what is believed.
"""

import sys
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[k]) for k in (1, 2)]

import _surroundings  # noqa: E402, F401  before numpy is loaded
import numpy as np  # noqa: E402
from worlds import WORLDS, Watched, World, ratio, watch  # noqa: E402

from coach.practice.score import ended_well  # noqa: E402
from coach.practice.zoo import case_named  # noqa: E402

FIRST_SEED = 50_000
COLUMNS = (
    "world", "ended well", "wrong done", "stops", "rounds", "pulses", "off tape", "false alarms", "NIS first",
    "NIS retest", "NIS later",
)  # fmt: skip


def row(world: World, watched: Watched) -> str:
    """One line of the table: shares of the sessions, medians and 95 % points, and NIS ratios (1 is honest)."""
    case, played = case_named("plain"), watched.played
    tolerance = case.machine(0).tolerance
    rounds, pulses = (np.percentile([getattr(p, name) for p in played], [50, 95]) for name in ("rounds", "pulses"))
    cells = (
        world.name,
        f"{np.mean([ended_well(case, p, tolerance) for p in played]):.0%}",
        f"{np.mean([p.end == 'done' and p.worst > tolerance for p in played]):.0%}",
        f"{np.mean([p.end == 'stop' for p in played]):.0%}",
        f"{rounds[0]:g} / {rounds[1]:.0f}",
        f"{pulses[0]:g} / {pulses[1]:.0f}",
        f"{np.mean([p.off_tape for p in played]):.2f}",
        f"{np.mean([p.cause in ('yaw', 'loose', 'station') for p in played]):.0%}",
        *(f"{ratio(marks):.2f}" for marks in (watched.first, watched.retest, watched.again)),
    )
    return "| " + " | ".join(cells) + " |"


def main() -> None:
    """The whole table."""
    sessions = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    print(f"| {' | '.join(COLUMNS)} |\n{'|---' * len(COLUMNS)}|", flush=True)
    with ProcessPoolExecutor() as pool:
        for world in WORLDS:
            together = Watched()
            for watched in pool.map(partial(watch, world), range(FIRST_SEED, FIRST_SEED + sessions), chunksize=4):
                together = together.and_(watched)
            print(row(world, together), flush=True)


if __name__ == "__main__":
    main()
