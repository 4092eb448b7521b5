"""The counts of docs/reliability.md: what must hold whatever happens, tried so many times.

    python tests/figures/reliability.py [--share 0.1] [NAME …]      all, or those named; a share of the usual counts

Each line: what was done, how often, and how often it did not hold.  Exit status 1 where anything did not hold.
"""

import argparse
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parents[2])]

import _surroundings  # noqa: E402, F401
import killed  # noqa: E402
import odd_terminals  # noqa: E402
from contradicting import ASKED  # noqa: E402
from extremes import played  # noqa: E402
from extremes_below import played_below  # noqa: E402
from interrupted import interrupted, started  # noqa: E402
from machines import make_machine  # noqa: E402

from coach import Session  # noqa: E402
from coach.errors import Changed, CoachError  # noqa: E402
from coach.session.document import read  # noqa: E402
from coach.session.store import Store  # noqa: E402

WRITERS, EACH, MOST_TRIES, PATIENCE = 8, 25, 400, 120
SLOWEST, STEEPEST = 1.0, 3.0
"""s of this process's own time, in which every damaged file is told; times that twice the entries may take."""
Count = Callable[[int, Path], int]
"""So many tries in a folder of their own; how many did not hold."""


def writers(tries: int, folder: Path) -> int:
    """Notes of eight writers at once on one file, 25 on each."""
    return sum(_written(min(EACH, tries - begun), folder) for begun in range(0, tries, EACH))


def _written(notes: int, folder: Path) -> int:
    path = Session.start(make_machine()).keep_new(folder)
    kept: list[str] = []

    def note(number: int) -> None:
        for _ in range(MOST_TRIES):
            try:
                Session.resume(path).note(f"note {number}")
            except Changed:
                continue
            kept.append(f"note {number}")
            return

    with ThreadPoolExecutor(WRITERS) as pool:
        list(pool.map(note, range(notes)))
    return len(set(kept) - {event.text for event in read(path).events}) + (notes - len(kept))


def _shell(folder: Path, *words: str) -> subprocess.Popen[str]:
    call = [sys.executable, "-m", "coach", "--data", str(folder), *words]
    return subprocess.Popen(call, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)


def shells(tries: int, folder: Path) -> int:
    """Notes typed in four shells at once, each of its own process; acknowledged ones that are not there."""
    path = Session.start(make_machine()).keep_new(folder)
    kept = []
    for first in range(0, tries, 4):
        running = {number: _shell(folder, "note", str(path), f"n{number}") for number in range(first, first + 4)}
        kept += [f"n{number}" for number, one in running.items() if one.wait(PATIENCE) == 0]
    return len(set(kept) - {event.text for event in read(path).events}) + (-(-tries // 4) * 4 - len(kept))


def signals(tries: int, folder: Path) -> int:
    """SIGTERM or SIGHUP at a random byte of the full screen's start; terminals not given back, mistakes told."""
    chance, bad = random.Random(1), 0
    for number in range(tries):
        after = chance.choice((0, 1, chance.randrange(26_000), chance.randrange(26_000)))
        which = chance.choice((signal.SIGTERM, signal.SIGHUP))
        bad += not interrupted(started(folder / str(number)), which, after_bytes=after).in_order
    return bad


def damaged(tries: int, folder: Path) -> int:
    """A session's file cut anywhere, with bits turned, with pieces twice: neither read nor told in time."""
    chance, bad = random.Random(1), 0
    session = Session.start(make_machine())
    for place in session.machine.stations:
        session.mark(place.name, u=1.0, v=0.5, typed={"left": "4,2"})
    path = folder / "a.toml"
    session.save(path)
    whole = path.read_bytes()
    for _ in range(tries):
        hurt = bytearray(whole[: chance.randrange(len(whole))] if chance.random() < 0.3 else whole)
        for _ in range(chance.choice((0, 1, 1, 8))):
            if hurt:
                hurt[chance.randrange(len(hurt))] ^= 1 << chance.randrange(8)
        if chance.random() < 0.3:
            start, piece = chance.randrange(len(whole)), chance.randrange(200)
            at = chance.randrange(len(hurt) + 1)
            hurt[at:at] = whole[start : start + piece]
        path.write_bytes(hurt)
        begun = time.process_time()
        try:
            Session.load(path)
        except CoachError as error:
            bad += str(path) not in str(error)
        except Exception:
            bad += 1
        bad += time.process_time() - begun > SLOWEST or path.read_bytes() != hurt
    return bad


def begun_at_once(tries: int, folder: Path) -> int:
    """Sessions of one name begun in the same second, eight at a time; files that two of them share."""
    with ThreadPoolExecutor(WRITERS) as pool:
        paths = list(pool.map(lambda _: Session.start(make_machine()).keep_new(folder), range(tries)))
    return tries - len({*paths} & {found.path for found in Store(folder).sessions()})


def extremes(tries: int, folder: Path) -> int:
    """Machines at the edge of what a profile may say, with contradictory marks: belief or advice out of bounds."""
    bad = 0
    for seed in range(tries):
        try:
            played(seed)
        except Exception as error:
            print(f"    seed {seed}: {type(error).__name__} {error}", flush=True)
            bad += 1
    return bad


def terminals(tries: int, folder: Path) -> int:
    """Storms of sizes, pastes of 10,000 characters, stops, keys in a rush, then a signal: not restored, or broken."""
    bad = 0
    for seed in range(tries):
        data = folder / str(seed)
        fine = odd_terminals.restored(odd_terminals.tried(seed, data))
        try:
            fine &= all(found.content is not None for found in Store(data).sessions())
        except OSError:
            fine = False
        bad += not fine
    return bad


def below(tries: int, folder: Path) -> int:
    """The same below mirror 3, with cuts, doses and answers that contradict each other."""
    bad = 0
    for seed in range(tries):
        try:
            played_below(seed)
        except Exception as error:
            print(f"    seed {seed}: {type(error).__name__} {error}", flush=True)
            bad += 1
    return bad


def growth(tries: int, folder: Path) -> int:
    """Advice and verdicts from so many entries, and from half as many: where that takes more than thrice as long."""
    bad = 0
    for what, (make, ask) in ASKED.items():
        seconds = []
        for number in (tries // 2, tries):
            session = Session(make(number)._doc)  # as it comes from its file
            begun = time.process_time()
            ask(session)
            seconds.append(time.process_time() - begun)
        ratio = seconds[1] / max(seconds[0], 1e-3)
        print(
            f"    {what}: {seconds[1]:.2f} s of {tries} entries, {ratio:.1f} times that of half as many", flush=True
        )
        bad += ratio > STEEPEST
    return bad


COUNTS: dict[str, tuple[Count, int]] = {
    "writers": (writers, 1000),
    "shells": (shells, 200),
    "begun-at-once": (begun_at_once, 500),
    "kills-screen": (killed.on_the_screen, 300),
    "kills-lines": (killed.in_lines, 400),
    "kills-shell": (killed.in_the_shell, 300),
    "signals": (signals, 100),
    "terminals": (terminals, 100),
    "damaged": (damaged, 5000),
    "growth": (growth, 5000),
    "extremes": (extremes, 60),
    "extremes-below": (below, 60),
}


def main() -> int:
    """Make the counts and print them."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--share", type=float, default=1.0)
    parser.add_argument("names", nargs="*", choices=[[], *COUNTS], metavar="NAME")
    given = parser.parse_args()
    failed = 0
    for name in given.names or COUNTS:
        count, usual = COUNTS[name]
        tries = max(4, round(usual * given.share))
        with tempfile.TemporaryDirectory() as folder:
            bad = count(tries, Path(folder))
        print(f"| {name} | {tries} | {bad} |", flush=True)
        failed += bad
    return 1 if failed else 0


if __name__ == "__main__":
    os.environ.setdefault("TERM", "xterm-256color")
    sys.exit(main())
