"""Prints how long lists and starts take with 20, 200 and 2,000 visits of a hundred entries, side by side in one run.

    python tests/figures/many_figures.py [COUNT …]

Processor seconds and peak memory of whole processes, medians; the ratio is to the fewest visits.  Making the folders
takes some minutes.  Asserts nothing.
"""

import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parents[2])]

import _surroundings  # noqa: E402, F401
from many import filled  # noqa: E402
from terminal import Terminal, bare_app  # noqa: E402

TIMES = 3
WAYS = {
    "list, every file read": ("list",),
    "list": ("list",),
    "list march practice": ("list", "march", "practice"),
    "note last": ("note", "last", "dust"),
    "due": ("due",),
}
HOME = """
import sys, time
from datetime import datetime
from pathlib import Path
from coach.tui.screens.home_rows import read_listing
read_listing(Path(sys.argv[1]), datetime.now().astimezone())
"""
MEASURED = """
import os, resource, subprocess, sys
before = resource.getrusage(resource.RUSAGE_CHILDREN)
subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, check=True)
after = resource.getrusage(resource.RUSAGE_CHILDREN)
print(after.ru_utime + after.ru_stime, after.ru_maxrss / 1000)
"""


def measured(*argv: str) -> tuple[float, float]:
    """Processor seconds and peak MB of a process."""
    said = subprocess.run([sys.executable, "-c", MEASURED, *argv], capture_output=True, text=True, check=True).stdout
    seconds, megabytes = map(float, said.split())
    return seconds, megabytes


def median(*argv: str) -> tuple[float, float]:
    """The median of several."""
    several = [measured(*argv) for _ in range(TIMES)]
    return statistics.median(each[0] for each in several), max(each[1] for each in several)


def first_screen(argv: list[str], words: str, key: bytes) -> tuple[float, ...]:
    """ms to the first words, to these words, and from the key to the end; medians of several starts."""
    rows = []
    for _ in range(TIMES):
        terminal = Terminal(argv, 40, 100)
        try:
            first = terminal.first_paint()[0]
            rows.append((first, terminal.until(words), terminal.ended(key)))
        finally:
            terminal.close()
    return tuple(statistics.median(each) for each in zip(*rows, strict=True))


def main() -> None:
    """All figures."""
    counts = [int(word) for word in sys.argv[1:]] or [20, 200, 2000]
    with tempfile.TemporaryDirectory() as folder:
        data = {count: filled(Path(folder) / str(count), count) for count in counts}
        fewest: dict[str, float] = {}
        for what, words in {**WAYS, "first screen's rows": ()}.items():
            for count, where in data.items():
                index = where / ".sessions.index"
                call = [sys.executable, "-m", "coach", "--data", str(where), *words]
                if not words:
                    call = [sys.executable, "-c", HOME, str(where)]
                elif what.endswith("read"):
                    index.unlink(missing_ok=True)
                seconds, megabytes = measured(*call) if what.endswith("read") else median(*call)
                base = fewest.setdefault(what, seconds)
                ratio = f"{seconds / base:8.2f} ×"
                print(f"{what:<26}{count:>6} visits{seconds:9.2f} s{megabytes:8.0f} MB{ratio}", flush=True)
        bare = statistics.median(Terminal(bare_app()).first_paint()[0] for _ in range(TIMES))
        for count, where in data.items():
            call = [sys.executable, "-m", "coach", "--data", str(where)]
            first, stands, ended = first_screen(call, "Resume", b"q")
            print(f"first words {count:>6} visits{first:9.0f} ms{first / bare:6.2f} × a bare app ({bare:.0f} ms); "
                  f"the list {stands:.0f} ms; left {ended:.0f} ms after Q", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
