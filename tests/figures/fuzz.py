"""Every parser under inputs without end: docs/reliability.md keeps the counts.

    python tests/figures/fuzz.py [--inputs 10000000] [--seed 1] [PARSER …]      all, or those named
    python tests/figures/fuzz.py --guided [--inputs 100000] PARSER …            led by what each input reached

The inputs are shared out: what is typed is read in microseconds and gets most of them, a file needs a millisecond.
With --guided atheris (installed by itself) looks for inputs that lead to lines of the coach not reached yet.
Each line: the parser, how many inputs, how many of them were read, how many did not hold, and the slowest in ms.
Exit status 1 where anything did not hold.
"""

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parents[2])]

import _surroundings  # noqa: E402, F401

USUAL = 10_000_000
WEIGHTS = {"reading by gaps": 0.2, "argument": 0.1, "machine's answer": 0.1, "session replayed": 0.003}
"""Of the inputs to a quick parser, as many for these; other files `FILE`."""
FILE = 0.03


def shares(names: list[str], inputs: int) -> dict[str, int]:
    """How many inputs each of the parsers gets."""
    weights = {name: WEIGHTS.get(name, FILE if name.endswith("file") else 1.0) for name in names}
    whole = sum(weights.values())
    return {name: max(100, round(inputs * weight / whole)) for name, weight in weights.items()}


def main() -> int:
    """Make the counts and print them."""
    given = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    given.add_argument("--inputs", type=int, default=USUAL)
    given.add_argument("--seed", type=int, default=1)
    given.add_argument("--guided", action="store_true")
    given.add_argument("names", nargs="*", metavar="PARSER")
    asked = given.parse_args()
    quick = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=quick if quick.is_dir() else None) as folder:
        return guided(asked, Path(folder)) if asked.guided else counted(asked, Path(folder))


def counted(asked: argparse.Namespace, folder: Path) -> int:
    """So many inputs, the same for the same seed."""
    from fuzzed_parsers import heavier_parsers, typed_parsers
    from fuzzing import fuzzed, inputs_for

    parsers = typed_parsers(folder) | heavier_parsers(folder)
    chosen = asked.names or list(parsers)
    failed = whole = 0
    print("| parser | inputs | of them read | did not hold | slowest, ms |\n|---|---|---|---|---|", flush=True)
    for name, number in shares(chosen, asked.inputs).items():
        begun = time.monotonic()
        count = fuzzed(parsers[name], inputs_for(parsers[name], number, asked.seed))
        row = f"| {name} | {count.inputs} | {count.read} | {len(count.failures)} | {1000 * count.slowest:.0f} |"
        print(row, flush=True)
        print(f"    {time.monotonic() - begun:.0f} s", *count.failures, sep="\n    ", file=sys.stderr, flush=True)
        failed, whole = failed + len(count.failures), whole + count.inputs
    print(f"| all | {whole} | | {failed} | |")
    return 1 if failed else 0


def guided(asked: argparse.Namespace, folder: Path) -> int:
    """Inputs that grow towards lines not reached yet; ends by itself at the first that does not hold."""
    import atheris

    with atheris.instrument_imports(include=["coach", "tomllib", "argparse"]):
        from fuzzed_parsers import heavier_parsers, typed_parsers
    from fuzzing import fuzzed

    parsers = typed_parsers(folder) | heavier_parsers(folder)
    (name,) = asked.names
    corpus = folder / "corpus"
    corpus.mkdir()
    for number, seed in enumerate(parsers[name].seeds):
        (corpus / str(number)).write_bytes(seed.encode("utf-8", "surrogatepass"))

    def one(data: bytes) -> None:
        count = fuzzed(parsers[name], [data.decode("utf-8", "replace")])
        if count.failures:
            raise AssertionError(count.failures)

    atheris.Setup([sys.argv[0], f"-runs={asked.inputs}", f"-seed={asked.seed}", "-max_len=4000", str(corpus)], one)
    atheris.Fuzz()
    return 0


if __name__ == "__main__":
    os.environ.setdefault("TERM", "xterm-256color")
    sys.exit(main())
