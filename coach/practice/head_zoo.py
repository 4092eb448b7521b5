"""The zoo of heads: `python -m coach.practice.head_zoo` prints the table of docs/benchmark.md."""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

if __name__ == "__main__":
    for _library in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):  # many small matrices: one thread a process
        os.environ.setdefault(_library, "1")

import numpy as np

from coach.head.advice import HeadAdvice
from coach.head.outlook import HeadOutlook
from coach.machine import Machine
from coach.practice.head_bench import HeadBench
from coach.practice.head_kinds import ROUGH_KINDS
from coach.practice.zoo import MOUNT_SHAPES, zoo_machine
from coach.session.session import Session

MOST_STEPS = 80
"""A session that is not at an end by then counts as given up."""


@dataclass(frozen=True)
class HeadCase:
    """One row: what a practice head hides, and what its profile says of mirror 3's screws."""

    name: str
    kind: str
    drive: str = "push"
    measured: bool = False
    """Whether the profile says how far the lens hangs below mirror 3."""


HEAD_CASES = (
    HeadCase("head", "head"),
    HeadCase("measured", "head", measured=True),
    HeadCase("unknown-drive", "head", drive="unknown"),
    HeadCase("mirror", "head-mirror"),
    HeadCase("lens", "head-lens"),
    HeadCase("nozzle", "head-nozzle"),
    HeadCase("nearly", "head-nearly"),
    HeadCase("aligned", "head-aligned"),
)
ROUGH_CASES = tuple(HeadCase(kind, kind) for kind in ROUGH_KINDS)
PART_OUT = {"head-mirror": "mirror 3", "head-lens": "lens", "head-nozzle": "nozzle"}
"""Kind to what is out there."""


@dataclass(frozen=True)
class HeadPlayed:
    """How one session ended."""

    end: str
    cause: str
    good: bool
    good_before: bool
    """Whether it was good before anything was done …"""
    needless: int
    """… and how often something good was adjusted."""
    rounds: int
    pulses: int
    named: str
    """The part that was named first, or ""."""
    lean: float
    nozzle: float
    beside: tuple[float, float]
    """How far lean and nozzle truly are from what is believed at the end, in stated doubts, the larger axis each."""


def head_machine(case: HeadCase, seed: int) -> Machine:
    """Every shape and either side in turn."""
    shape, side = tuple(MOUNT_SHAPES)[seed % 3], "left" if seed // 3 % 2 == 0 else "right"
    table = zoo_machine(shape, side).to_table()  # type: ignore[arg-type]
    points = [{"name": n, "x": x, "y": y, "kind": kind} for n, x, y, kind in MOUNT_SHAPES[shape]]
    table["mounts"].append({"mirror": 3, "pitch": 0.7, "drive": case.drive, "points": points})
    lens = {"focal": 50.8, "nozzle_distance": 8.0, "nozzle": 2.5}
    table["lens"] = lens | ({"mirror_distance": 60.0 + 7.0 * (seed % 5)} if case.measured else {})
    return Machine.model_validate(table)


def play_head(case: HeadCase, seed: int) -> HeadPlayed:
    """One session from the first mark to its end."""
    machine = head_machine(case, seed)
    bench, session = HeadBench(machine, seed, case.kind), Session.start(machine)
    pulses, named, end, cause, needless, before = 0, "", "given up", "", 0, bench.good()
    for _ in range(MOST_STEPS):
        advice = session.head_advice()
        named = named or (advice.suspect if advice.kind in ("turn", "shift", "stop") else "")
        if advice.cause in ("nozzle", "lens") and cause != advice.cause:
            cause = advice.cause
            bench.reseat(key=_key(session))
            session.mended(cause)
            continue
        if advice.kind in ("done", "stop"):
            end, cause = advice.kind, advice.cause
            break
        if advice.kind == "shoot":
            pulses += 1
            shoot(session, bench, advice)
        else:
            needless += bench.good() and not session.head_belief.adjusting
            _adjust(session, bench, advice)
    rounds = session.head_belief.rounds
    lean, nozzle = float(np.hypot(*bench.lean())), float(np.hypot(*bench.at_nozzle()))
    beside = _beside(session.head_advice().now, bench)
    return HeadPlayed(end, cause, bench.good(), before, needless, rounds, pulses, named, lean, nozzle, beside)


def _beside(now: HeadOutlook, bench: HeadBench) -> tuple[float, float]:
    pairs = ((bench.lean(), now.lean, now.lean_sd), (bench.at_nozzle(), now.nozzle, now.nozzle_sd))
    lean, nozzle = (
        max(abs(t - b) / sd for t, b, sd in zip(true, believed, doubt, strict=True))
        for true, believed, doubt in pairs
    )
    return lean, nozzle


def _key(session: Session) -> int:
    return len(session.events) + 1


def shoot(session: Session, bench: HeadBench, advice: HeadAdvice) -> None:
    """One pulse; a mark that misses the card because nothing comes through is told of as such at the nozzle."""
    key = _key(session)
    if advice.target == "bed":
        lowered = min(advice.lowered, bench.lowers)
        seen = bench.bed_mark(lowered, lens=advice.lens, key=key)
        if seen is not None:
            session.bed_mark(*seen, lowered=lowered, lens=advice.lens)
            return
    at_nozzle = bench.nozzle_mark(key=key)
    if at_nozzle is None:
        session.nozzle_mark()
    else:
        session.nozzle_mark(at_nozzle[0], at_nozzle[1], cut=at_nozzle[2])


def _adjust(session: Session, bench: HeadBench, advice: HeadAdvice) -> None:
    key = _key(session)
    if advice.turns:
        bench.turn(advice.turns[0].screws, key=key)
        session.turn(3, advice.turns[0].screws)
    elif advice.part == "lens":
        bench.move_lens(advice.right, advice.back, key=key)
        session.shift("lens", right=advice.right, back=advice.back)
    else:
        bench.move_head(advice.up, advice.back, key=key)
        session.shift("head", up=advice.up, back=advice.back)


def run_heads(case: HeadCase, seeds: Sequence[int], workers: int | None = None) -> list[HeadPlayed]:
    """All sessions of a case, in the order of the seeds."""
    one = partial(play_head, case)
    if workers == 1:
        return [one(seed) for seed in seeds]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(one, seeds, chunksize=8))


WITHIN = 2.24
"""Deviations within which two axes both lie in 95 of 100: 0.9747² (normal distribution, derived)."""
COLUMNS = (
    "case", "sessions", "good at the end", "good in two rounds", "good at done", "stops", "rounds", "pulses",
    "adjusted though good", "within doubt: lean / nozzle", "named right / wrong",
)  # fmt: skip
HEADER = (f"| {' | '.join(COLUMNS)} |", "|---" * len(COLUMNS) + "|")


def row(case: HeadCase, played: Sequence[HeadPlayed]) -> str:
    """One line of the table."""
    done = [p.good for p in played if p.end == "done"]
    rounds, pulses = [p.rounds for p in played], [p.pulses for p in played]
    before = [p.rounds > 0 for p in played if p.good_before]
    lean, nozzle = (np.mean([p.beside[k] <= WITHIN for p in played]) for k in range(2))
    cells = (
        case.name,
        str(len(played)),
        f"{np.mean([p.good for p in played]):.1%}",
        f"{np.mean([p.good and p.rounds <= 2 for p in played]):.0%}",
        f"{np.mean(done):.1%}" if done else "–",
        f"{np.mean([p.end != 'done' for p in played]):.1%}",
        f"{np.median(rounds):g} / {np.percentile(rounds, 95):.1f}",
        f"{np.median(pulses):g} / {np.percentile(pulses, 95):.1f}",
        f"{sum(before)} of {len(before)}",
        f"{lean:.0%} / {nozzle:.0%}",
        _named(case, played),
    )
    return f"| {' | '.join(cells)} |"


def _named(case: HeadCase, played: Sequence[HeadPlayed]) -> str:
    out = PART_OUT.get(case.kind)
    named = [p.named for p in played if p.named]
    right, wrong = (sum((name == out) is good for name in named) / len(played) for good in (True, False))
    return f"{right:.0%} / {wrong:.0%}" if out else "–"


def play_heads(cases: Sequence[HeadCase], sessions: int, first_seed: int, say: Callable[[str], None]) -> None:
    """Play every case, and say the table as it grows."""
    for line in HEADER:
        say(line)
    for case in cases:
        say(row(case, run_heads(case, range(first_seed, first_seed + sessions))))
    say(f"\n{sessions} sessions a row, seeds from {first_seed}.")


def main() -> int:
    """Parse the arguments and play."""
    parser = argparse.ArgumentParser(prog="python -m coach.practice.head_zoo", description=__doc__)
    parser.add_argument("--sessions", type=int, default=200, help="sessions for each row (default 200)")
    parser.add_argument("--first-seed", type=int, default=0, help="first seed (default 0)")
    parser.add_argument("--rough", action="store_true", help="the rougher worlds in place of the usual ones")
    cases = (*HEAD_CASES, *ROUGH_CASES)
    names = [case.name for case in cases]
    parser.add_argument("cases", nargs="*", metavar="CASE", help=f"cases to play, any of: {', '.join(names)}")
    given = parser.parse_args()
    unknown = [name for name in given.cases if name not in names]
    if unknown or given.sessions < 1 or given.first_seed < 0:
        parser.error(f"unknown case {unknown[0]!r}" if unknown else "sessions from 1, seeds from 0")
    usual = ROUGH_CASES if given.rough else HEAD_CASES
    chosen = [case for case in cases if case.name in given.cases] or usual
    play_heads(chosen, given.sessions, given.first_seed, lambda line: print(line, flush=True))
    return 0


if __name__ == "__main__":
    sys.exit(main())
