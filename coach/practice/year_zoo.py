"""Practice years: `python -m coach.practice.year_zoo --years 200` prints the table of docs/benchmark.md."""

import argparse
import math
import os
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial

if __name__ == "__main__":
    for _library in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):  # many small matrices: one thread a process
        os.environ.setdefault(_library, "1")

import numpy as np

from coach.history.forecast import Forecast
from coach.history.found import PartDrift, named
from coach.history.of_machine import History, of_visits
from coach.history.visits import visit_of
from coach.practice.year_visits import BEGAN, live
from coach.practice.year_world import CREEPERS, LOOKED_AHEAD, Creeper, Year, draw_year
from coach.practice.zoo import MOUNT_SHAPES, zoo_machine


@dataclass(frozen=True)
class Played:
    """One year, and what its history said at its end."""

    creeper: Creeper
    crept: float
    """How far it really crept over the visits that say something of it: mrad of the plate's tilt, or mm."""
    sd: float
    """One standard deviation of it in the weighted fit in which every part is free to drift."""
    named: tuple[str, ...]
    """At the year's end."""
    wrongly: bool
    """Whether at any visit of the year a part was named that does not creep."""
    ahead: bool
    """Whether there was a forecast."""
    covered: bool
    """Whether its interval held the day on which the tolerance was really left."""
    dated: bool
    """Whether the interval had two dates."""
    width: float
    """Days between them."""

    @property
    def right(self) -> bool:
        """Whether what creeps, and nothing else, was named."""
        return self.named == (self.creeper,)

    @property
    def wrong(self) -> bool:
        """Whether anything else was."""
        return any(part != self.creeper for part in self.named)

    @property
    def doubts(self) -> float:
        """By how many doubts it really crept; a doubt is two standard deviations, as always where one is said."""
        return self.crept / (2 * self.sd) if self.creeper != "none" else 0.0


def play_year(creeper: Creeper, seed: int) -> Played:
    """One year, looked at after every visit."""
    shape, side = tuple(MOUNT_SHAPES)[seed % 3], "left" if seed // 3 % 2 == 0 else "right"
    machine = zoo_machine(shape, side)  # type: ignore[arg-type]
    year = draw_year(machine, seed, creeper)
    lived = live(year)
    visits = [visit_of(document.title, document, cuts=False) for document in lived.documents]
    looks = [
        of_visits(machine.name, visits[:count], None, BEGAN + timedelta(days=lived.days[count - 1], hours=2))
        for count in range(3, len(visits) + 1)
    ]
    end = looks[-1]
    mine = next((part for part in end.parts if part.part == creeper), None)
    day = lived.days[-1]
    true = year.leaves(day, lived.turned)
    wrongly = any(part.part != creeper for look in looks for part in named(look.parts))
    return Played(
        creeper,
        _crept(year, mine, day),
        mine.plain_size_sd if mine is not None else math.inf,
        tuple(part.part for part in named(end.parts)),
        wrongly,
        *_judged(end, true),
    )


def _crept(year: Year, mine: PartDrift | None, day: int) -> float:
    if mine is None or mine.since is None:
        return 0.0
    since = (mine.since - BEGAN.date()).days
    return float(year.creep[day] - year.creep[since])


def _judged(end: History, true: float) -> tuple[bool, bool, bool, float]:
    ahead = end.forecast
    if ahead is None or true == 0.0:
        return False, False, False, math.inf
    low, high = _days(ahead, ahead.soonest), _days(ahead, ahead.latest)
    dated = math.isfinite(low) and math.isfinite(high)
    return True, low <= true <= high, dated, high - low if dated else math.inf


def _days(ahead: Forecast, day: date | None) -> float:
    return float((day - ahead.made).days) if day is not None else math.inf


def run_years(creeper: Creeper, seeds: Sequence[int], workers: int | None = None) -> list[Played]:
    """All years of a kind, in the order of the seeds."""
    one = partial(play_year, creeper)
    if workers == 1:
        return [one(seed) for seed in seeds]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(one, seeds, chunksize=4))


COLUMNS = (
    "what creeps", "years", "crept two doubts", "of these named right", "crept one doubt", "of these right / wrong",
    "all: right / wrong", "a wrong name at any visit", "forecast held", "with two dates", "held", "days between",
)  # fmt: skip
HEADER = (f"| {' | '.join(COLUMNS)} |", "|---" * len(COLUMNS) + "|")


def row(name: str, played: Sequence[Played]) -> str:
    """One line of the table."""
    ahead = [each for each in played if each.ahead]
    dated = [each for each in ahead if each.dated]
    two, one = ([each for each in played if each.doubts > doubts] for doubts in (2, 1))
    cells = (
        name,
        str(len(played)),
        str(len(two)),
        _share([each.right for each in two]),
        str(len(one)),
        f"{_share([each.right for each in one])} / {_share([each.wrong for each in one])}",
        f"{_share([each.right for each in played])} / {_share([each.wrong for each in played])}",
        _share([each.wrongly for each in played]),
        _share([each.covered for each in ahead]),
        str(len(dated)),
        _share([each.covered for each in dated]),
        f"{np.median([each.width for each in dated]):.0f}" if dated else "–",
    )
    return f"| {' | '.join(cells)} |"


def _share(of: Sequence[bool]) -> str:
    return f"{np.mean(of):.1%}" if of else "–"


def play_years(years: int, first_seed: int, say: Callable[[str], None], workers: int | None = None) -> list[Played]:
    """Play them, what creeps in turn, and say the table as it grows."""
    for line in HEADER:
        say(line)
    everything: list[Played] = []
    for number, creeper in enumerate(CREEPERS):
        seeds = range(first_seed + number, first_seed + years, len(CREEPERS))
        if seeds:
            played = run_years(creeper, seeds, workers)
            everything += played
            say(row(creeper, played))
    say(row("all", everything))
    say(f"\n{years} years, seeds from {first_seed}; looked ahead {LOOKED_AHEAD} days.")
    return everything


def main() -> int:
    """Parse the arguments and play."""
    parser = argparse.ArgumentParser(prog="python -m coach.practice.year_zoo", description=__doc__)
    parser.add_argument("--years", type=int, default=200, help="years in all (default 200)")
    parser.add_argument("--first-seed", type=int, default=0, help="first seed (default 0)")
    parser.add_argument("--workers", type=int, help="processes (default: one for each processor)")
    given = parser.parse_args()
    if given.years < len(CREEPERS) or given.first_seed < 0:
        parser.error(f"years from {len(CREEPERS)}, seeds from 0")
    play_years(given.years, given.first_seed, lambda line: print(line, flush=True), given.workers)
    return 0


if __name__ == "__main__":
    sys.exit(main())
