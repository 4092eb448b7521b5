"""Changes the program in small wrong ways, one at a time, and looks whether the tests notice.  Not run in CI.

    python tests/mutants [WORD …]          the mutations whose meaning or file has one of the words, or all
    python tests/mutants --list [WORD …]   what they are

Each is made in a copy of the tree, never in the tree itself, and only the tests that are named for it are run.
"survived" means that a claim is missing; "stale" that its text no longer stands in the file: write it anew.
"""

import argparse
import itertools
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from queue import SimpleQueue

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
sys.path.insert(0, str(HERE.parent))

from mutants import all_mutations  # noqa: E402
from mutants.mutation import Mutation  # noqa: E402

WORKERS = 2
PATIENCE = 180.0
"""Seconds for the tests of one mutation; a mutation that hangs them is noticed."""
PASSED, FAILED = 0, 1
"""Exit states of pytest; any other says that the tests could not be run."""
LATER = itertools.count(int(time.time()))
"""Seconds, each of them once."""


class Copies:
    """Copies of the tree, one for each worker."""

    def __init__(self, folder: Path) -> None:
        self._free: SimpleQueue[Path] = SimpleQueue()
        for number in range(WORKERS):
            self._free.put(_copied(folder / str(number)))

    @contextmanager
    def one(self) -> Iterable[Path]:
        """One that nobody else uses meanwhile."""
        tree = self._free.get()
        try:
            yield tree
        finally:
            self._free.put(tree)


def _copied(to: Path) -> Path:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    for name in filter(None, listed.split("\0")):
        if (ROOT / name).is_file():
            (to / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, to / name)
    return to


def run(tree: Path, tests: Iterable[str]) -> tuple[int, str]:
    """Pytest's exit state over the tests of that tree, and what it said; FAILED when they hang."""
    call = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "--no-header", *tests]
    environment = {**os.environ, "PYTHONPATH": str(tree)}
    try:
        done = subprocess.run(
            call, cwd=tree, env=environment, capture_output=True, text=True, check=False, timeout=PATIENCE
        )
    except subprocess.TimeoutExpired:
        return FAILED, "hung"
    return done.returncode, done.stdout[-2000:] + done.stderr[-2000:]


def _write(path: Path, text: str) -> None:
    """At a time of its own: what was compiled of another text counts by seconds and size alone."""
    path.write_text(text, encoding="utf-8")
    later = next(LATER)
    os.utime(path, (later, later))


def verdict(copies: Copies, change: Mutation) -> tuple[str, float, str]:
    """killed, survived, stale or broken; seconds; and what was said where nothing was expected to be."""
    begun = time.monotonic()
    with copies.one() as tree:
        path = tree / change.file
        text = path.read_text(encoding="utf-8") if path.is_file() else ""
        if text.count(change.old) != 1:
            return "stale", 0.0, f"its text stands {text.count(change.old)} times in {change.file}"
        _write(path, text.replace(change.old, change.new))
        try:
            state, said = run(tree, change.tests)
        finally:
            _write(path, text)
    found = {PASSED: "survived", FAILED: "killed"}.get(state, "broken")
    return found, time.monotonic() - begun, "" if found == "killed" else said


def sound(copies: Copies, chosen: list[Mutation]) -> bool:
    """Whether the tests pass on the tree as it is: else nothing can be told."""
    tests = sorted({test for change in chosen for test in change.tests})
    with copies.one() as tree:
        state, said = run(tree, tests)
    if state != PASSED:
        print(f"The tests do not pass on the tree as it is, so that nothing can be told:\n{said}")
    return state == PASSED


def main() -> int:
    """0 when every mutation was killed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("words", nargs="*", metavar="WORD")
    parser.add_argument("--list", action="store_true", help="print the mutations and stop")
    given = parser.parse_args()
    words = [word.lower() for word in given.words]
    chosen = [c for c in all_mutations() if not words or any(w in f"{c.meaning} {c.file}".lower() for w in words)]
    if given.list:
        print(*(f"{change.file}: {change.meaning}" for change in chosen), sep="\n")
        return 0
    counts: dict[str, int] = {}
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder, ThreadPoolExecutor(WORKERS) as pool:
        copies = Copies(Path(folder))
        if not sound(copies, chosen):
            return 2
        for change, (found, seconds, said) in zip(
            chosen, pool.map(lambda change: verdict(copies, change), chosen), strict=True
        ):
            counts[found] = counts.get(found, 0) + 1
            print(f"{found:<9}{seconds:5.1f} s  {change.file}: {change.meaning}", flush=True)
            if found in ("stale", "broken"):
                print("          " + said.strip().replace("\n", "\n          "), flush=True)
    print(f"{len(chosen)} mutations: " + ", ".join(f"{count} {found}" for found, count in sorted(counts.items())))
    return 0 if set(counts) <= {"killed"} else 1


if __name__ == "__main__":
    raise SystemExit(main())
