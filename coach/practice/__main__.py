"""`python -m coach.practice`: prints the benchmark table of docs/benchmark.md."""

import argparse
import os
import sys

for _library in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):  # many small matrices: one thread a process
    os.environ.setdefault(_library, "1")


def main() -> int:
    """Parse the arguments and play."""
    from coach.practice.table import play_all
    from coach.practice.zoo import CASES, KIND_CASES, STANDARD_CASES

    names = [case.name for case in CASES]
    parser = argparse.ArgumentParser(prog="python -m coach.practice", description=__doc__)
    parser.add_argument("--sessions", type=int, default=200, help="sessions for each row (default 200)")
    parser.add_argument("--first-seed", type=int, default=0, help="first seed (default 0)")
    parser.add_argument("--only", choices=("kind", "standard"), help="machines that behave, or rough ones")
    parser.add_argument("cases", nargs="*", metavar="CASE", help=f"cases to play (default all: {', '.join(names)})")
    given = parser.parse_args()
    unknown = [name for name in given.cases if name not in names]
    if unknown or given.sessions < 1 or given.first_seed < 0:
        parser.error(f"unknown case {unknown[0]!r}" if unknown else "sessions from 1, seeds from 0")
    world = {None: CASES, "kind": KIND_CASES, "standard": STANDARD_CASES}[given.only]
    chosen = [case for case in world if not given.cases or case.name in given.cases]
    play_all(chosen, given.sessions, given.first_seed, lambda line: print(line, flush=True))
    return 0


if __name__ == "__main__":
    sys.exit(main())
