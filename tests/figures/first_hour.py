"""A stranger's first hour: the wheel alone, outside of the tree, in surroundings as bare as can be made here.

    python tests/figures/first_hour.py [--python /usr/bin/python3] [WORD …]      all places, or those with these words

Builds the wheel from the files that git knows, installs it as isolating installers do (an environment in a hidden
folder, one link to `coach` in a folder on PATH, called from elsewhere), and in each place: its version, what it finds
around it, practice in plain lines, the full screen on a pseudo terminal until its first question, one entry, left and
resumed.  Exit status 1 where anything did not hold.  As root on Linux all places can be made.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

sys.path[:0] = [str(Path(__file__).resolve().parents[1]), str(Path(__file__).resolve().parents[2])]

from _surroundings import ROOT  # noqa: E402
from bare_places import Place, places  # noqa: E402
from on_a_screen import Ended, Hand  # noqa: E402

from coach import Session  # noqa: E402
from coach.steps.gates import GATES  # noqa: E402

PATIENCE = 120.0
MISTAKES = ("Traceback", "mistake of its own", "Exception", "Error:")
UNKEPT = ("cannot be made", "cannot be written to", "may not look into", "no home folder")
"""What is said where nothing can be kept."""
ENTRIES = 2
"""Gates that are answered in plain lines."""


def installed(folder: Path, python: str) -> Path:
    """The wheel in an environment in a hidden folder; returns the folder with the one link."""
    hidden, source = folder / ".hidden" / "coach", folder / "source"
    names = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    source.mkdir()
    packed = subprocess.run(["tar", "c", "--null", "-T", "-"], cwd=ROOT, input=names, capture_output=True, check=True)
    subprocess.run(["tar", "x", "-C", str(source)], input=packed.stdout, check=True)
    bare = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}

    def pip(*words: str) -> None:
        subprocess.run([hidden / "bin" / "pip", *words], env=bare, check=True, stderr=subprocess.DEVNULL)

    subprocess.run([python, "-m", "venv", hidden], env=bare, check=True)
    pip("wheel", "-q", "--no-deps", "-w", str(folder / "wheel"), str(source))
    pip("install", "-q", *map(str, (folder / "wheel").glob("*.whl")))
    (folder / "bin").mkdir()
    (folder / "bin" / "coach").symlink_to(hidden / "bin" / "coach")
    return folder / "bin"


def wrong_there(place: Place, path: Path) -> Iterator[str]:
    """What did not hold in that place, with the coach in the folder `path`."""
    around = {**place.around, "PATH": f"{path}:/usr/bin:/bin"}

    def called(*words: str, typed: str = "") -> tuple[int, str]:
        call = [*place.before, "coach", *words]
        ended = subprocess.run(call, env=around, cwd="/", input=typed, capture_output=True, text=True,
                               errors="replace", timeout=PATIENCE)  # fmt: skip
        return ended.returncode, ended.stdout + ended.stderr

    def judged(what: str, fine: bool, said: str) -> Iterator[str]:
        if not fine or any(words in said for words in MISTAKES):
            yield f"{what}: {said[-300:]!r}"

    kept = place.data is not None
    status, said = called("--version")
    yield from judged("version", status == 0, said)
    status, said = called("surroundings")
    yield from judged("surroundings", status == (0 if kept else 2) and (kept or _unkept(said)), said)
    status, said = called("practice", "--plain", "--seed", "3", typed="1\n" * ENTRIES)
    yield from judged("plain lines", said.count("Saved.") == ENTRIES if kept else _unkept(said), said)
    with Hand([*place.before, "coach", "practice", "--seed", "4"], around) as hand:
        ended = hand.first_entry()
    yield from judged("full screen", _in_order(ended, place), ended.said)
    if not (kept and place.screens):
        return
    with Hand([*place.before, "coach", "open", "last-practice"], around) as hand:
        ended = hand.looked()
    yield from judged("resumed", _in_order(ended, place), ended.said)
    yield from judged("files", *_files(place.data))


def _unkept(said: str) -> bool:
    return any(words in said for words in UNKEPT)


def _in_order(ended: Ended, place: Place) -> bool:
    if not place.screens:
        return ended.status == 2 and "--plain" in ended.said
    if place.data is None:
        return ended.status == 2 and _unkept(ended.said)
    return ended.cooked and ended.status == 0 and ended.found


def _files(data: Path) -> tuple[bool, str]:
    """Whether the entries that were made are there: those of plain lines, and one on the screen."""
    sessions = [Session.load(path) for path in (data / "sessions").glob("*.toml")]
    gates = sorted(sum(event.kind == "gate" for event in session.events) for session in sessions)
    return gates == [1, ENTRIES], f"gates kept: {gates} of {len(GATES)}"


def main() -> int:
    """Make the places and print what held in each."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument(
        "--python", default="/usr/bin/python3" if Path("/usr/bin/python3").exists() else sys.executable
    )
    parser.add_argument("words", nargs="*", metavar="WORD")
    given, failed = parser.parse_args(), 0
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made).resolve()
        folder.chmod(0o755)
        path = installed(folder, given.python)
        for place in places(folder):
            if given.words and not any(word in place.name for word in given.words):
                continue
            found = [] if place.impossible else list(wrong_there(place, path))
            answer = f"left out: {place.impossible}" if place.impossible else "; ".join(found) or "held"
            print(f"| {place.name} | {place.told} | {answer} |", flush=True)
            failed += len(found)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
