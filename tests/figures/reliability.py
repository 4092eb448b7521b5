"""The counts of docs/reliability.md: what must hold whatever happens, tried so many times.

    python tests/figures/reliability.py [--share 0.1] [NAME …]      all, or those named; a share of the usual counts
    python tests/figures/reliability.py --seeds 150 300 kills-screen   the tries numbered so: runs add up

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
Count = Callable[[range, Path], int]
"""The tries of these numbers, in a folder of their own; how many did not hold.  Chance is seeded with the number."""


def writers(tries: range, folder: Path) -> int:
    """Notes of eight writers at once on one file, 25 on each."""
    return sum(_written(len(tries[begun : begun + EACH]), folder) for begun in range(0, len(tries), EACH))


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


def shells(tries: range, folder: Path) -> int:
    """Notes typed in four shells at once, each of its own process; acknowledged ones that are not there."""
    path = Session.start(make_machine()).keep_new(folder)
    kept = []
    for first in range(0, len(tries), 4):
        running = {number: _shell(folder, "note", str(path), f"n{number}") for number in tries[first : first + 4]}
        kept += [f"n{number}" for number, one in running.items() if one.wait(PATIENCE) == 0]
    return len(set(kept) - {event.text for event in read(path).events}) + (len(tries) - len(kept))


def signals(tries: range, folder: Path) -> int:
    """SIGTERM or SIGHUP at a random byte of the full screen's start; terminals not given back, mistakes told."""
    bad = 0
    for number in tries:
        chance = random.Random(number)
        after = chance.choice((0, 1, chance.randrange(26_000), chance.randrange(26_000)))
        which = chance.choice((signal.SIGTERM, signal.SIGHUP))
        ended = interrupted(started(folder / str(number)), which, after_bytes=after)
        bad += _told(number, ended.in_order, f"{which.name} after {after} bytes: status {ended.status}")
    return bad


def _told(number: int, fine: bool, what: str) -> bool:
    """Whether it did not hold; if so, it is told which try that was."""
    if not fine:
        print(f"    seed {number}: {what}", flush=True)
    return not fine


def damaged(tries: range, folder: Path) -> int:
    """A session's file cut anywhere, with bits turned, with pieces twice: neither read nor told in time."""
    chance, bad = random.Random(tries.start + 1), 0
    session = Session.start(make_machine())
    for place in session.machine.stations:
        session.mark(place.name, u=1.0, v=0.5, typed={"left": "4,2"})
    path = folder / "a.toml"
    session.save(path)
    whole = path.read_bytes()
    for _ in tries:
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


def begun_at_once(tries: range, folder: Path) -> int:
    """Sessions of one name begun in the same second, eight at a time; files that two of them share."""
    with ThreadPoolExecutor(WRITERS) as pool:
        paths = list(pool.map(lambda _: Session.start(make_machine()).keep_new(folder), tries))
    return len(tries) - len({*paths} & {found.path for found in Store(folder).sessions()})


def extremes(tries: range, folder: Path) -> int:
    """Machines at the edge of what a profile may say, with contradictory marks: belief or advice out of bounds."""
    return sum(_raised(played, seed) for seed in tries)


def below(tries: range, folder: Path) -> int:
    """The same below mirror 3, with cuts, doses and answers that contradict each other."""
    return sum(_raised(played_below, seed) for seed in tries)


def _raised(play: Callable[[int], object], seed: int) -> bool:
    try:
        play(seed)
    except Exception as error:
        return _told(seed, False, f"{type(error).__name__} {error}")
    return False


def terminals(tries: range, folder: Path) -> int:
    """Storms of sizes, pastes of 10,000 characters, stops, keys in a rush, then a signal: not restored, or broken."""
    bad = 0
    for seed in tries:
        data = folder / str(seed)
        ended = odd_terminals.tried(seed, data)
        fine, what = odd_terminals.restored(ended), f"status {ended.status}, at last {ended.output[-200:]!r}"
        try:
            unread = [found.path.name for found in Store(data).sessions() if found.content is None]
        except OSError as error:
            unread = [str(error)]
        bad += _told(seed, fine and not unread, f"{what}; not read: {unread}")
    return bad


def growth(tries: range, folder: Path) -> int:
    """So many entries made, and what follows from them asked: where that takes over thrice as long as of half."""
    bad = 0
    for what, (make, ask) in ASKED.items():
        seconds = [_entered_and_asked(make, ask, number) for number in (len(tries) // 2, len(tries))]
        for deed, half, whole in zip(("entered", "asked"), *seconds, strict=True):
            ratio = whole / max(half, 1e-3)
            print(f"    {what}, {deed}: {half:.2f} s, {whole:.2f} s, {ratio:.1f} times", flush=True)
            bad += ratio > STEEPEST
    return bad


def _entered_and_asked(
    make: Callable[[int], Session], ask: Callable[[Session], object], number: int
) -> tuple[float, float]:
    """s of the processor for making so many entries, and for what is asked of them as they come from a file."""
    begun = time.process_time()
    made = make(number)
    entered = time.process_time()
    ask(Session(made._doc))
    return entered - begun, time.process_time() - entered


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
    parser.add_argument(
        "--seeds", type=int, nargs=2, metavar=("FIRST", "END"), help="numbers of the tries, END excluded"
    )
    parser.add_argument("names", nargs="*", choices=[[], *COUNTS], metavar="NAME")
    given = parser.parse_args()
    failed = 0
    for name in given.names or COUNTS:
        count, usual = COUNTS[name]
        tries = range(*given.seeds) if given.seeds else range(max(4, round(usual * given.share)))
        with tempfile.TemporaryDirectory() as folder:
            bad = count(tries, Path(folder))
        print(f"| {name} | {len(tries)} | {bad} |", flush=True)
        failed += bad
    return 1 if failed else 0


if __name__ == "__main__":
    os.environ.setdefault("TERM", "xterm-256color")
    sys.exit(main())
