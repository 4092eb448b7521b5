"""Prints how soon the program stands and ends, against the smallest app of its toolkit; asserts nothing.

    python tests/figures/starting.py [ROUNDS]

All are started in turn over a pseudo-terminal of 100 by 30, and the medians are held against each other: read the
ratios.  Where other work shares the machine the processor's own time tells more than the clock.
"""

import compileall
import contextlib
import math
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from terminal import Stuck, Terminal, bare_app

from coach.practice.begun import begun
from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.index import survey
from coach.session.session import Session
from coach.session.summary import SUMMARY
from coach.shown import IN_MM
from coach.steps.current import current_step

ROUNDS, PRESSES = 5, 5
"""How many starts of each program, and presses of each key, are timed."""
STANDS = 0.5
"""s without a picture, after which what is asked stands."""
LATER = 60_000_000_000
"""ns after which what was just written is read from the index."""
BENCH = Practice(seed=1)
PRACTICE = ("practice", "--seed", str(BENCH.seed))


@dataclass(frozen=True)
class Start:
    """One start, ms by the clock from the call on; `busy`: ms of the processor until the first words stood."""

    words: float
    whole: float
    busy: float
    question: float = 0.0
    """Until something can be answered."""
    key: float = 0.0
    """From a key to the last of what it brings."""
    left: float = 0.0
    """From the key that leaves, pressed as soon as anything stands, to the program's end."""


def first_question() -> str:
    """The first thing that can be said in practice."""
    return current_step(begun(BENCH), IN_MM).choices[0].label


def started(argv: Sequence[str], question: str = "") -> Start:
    """One start; the keys open another screen and close it."""
    terminal, key = Terminal(argv, 30, 100), math.nan
    try:
        words, whole, busy = terminal.first_paint()
        asked = terminal.until(question) if question else whole
        while terminal.read(STANDS):
            pass
        with contextlib.suppress(Stuck):  # on a busy machine a key may come too early to be heard; the others tell
            key = statistics.median(terminal.key(key) for key in [b"?", b"q"] * PRESSES)
        return Start(words, whole, busy, asked, key)
    finally:
        terminal.close()


def left(argv: Sequence[str]) -> Start:
    """One start that is left with Ctrl+Q as soon as its first words stand."""
    terminal = Terminal(argv, 30, 100)
    try:
        words, whole, busy = terminal.first_paint()
        return Start(words, whole, busy, left=terminal.ended(b"\x11"))
    finally:
        terminal.close()


def coach(*words: str, folder: str) -> list[str]:
    """The command of the program on that data folder."""
    return [sys.executable, "-m", "coach", *words, "--data", folder]


def one_round(question: str) -> dict[str, Start]:
    """Each program once."""
    found = {"bare": started(bare_app()), "bare, left": left(bare_app())}
    for name, words, asked in (("home", (), ""), ("practice", PRACTICE, question)):
        for suffix in ("", ", left"):
            with tempfile.TemporaryDirectory() as folder:
                argv = coach(*words, folder=folder)
                found[name + suffix] = left(argv) if suffix else started(argv, asked)
    with tempfile.TemporaryDirectory() as folder:
        Session.start(demo_machine()).keep_new(Path(folder))
        survey(Path(folder), (SUMMARY,), now=lambda: time.time_ns() + LATER)
        found["a session"] = started(coach("open", folder=folder), question)
    return found


def line(what: str, ms: float, than: str, base: float) -> None:
    """One figure and its ratio."""
    print(f"{what:<58}{ms:9.0f} ms  {ms / base:8.2f} × {than} ({base:.0f} ms)", flush=True)


def screen_figures(rounds: int = ROUNDS) -> None:
    """The full screen against a bare Textual app, started in turn."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # whoever installs the program has its byte code
    compileall.compile_dir(Path(__file__).resolve().parents[2] / "coach", quiet=2)
    question = first_question()
    all_rounds = [one_round(question) for _ in range(rounds)]

    def median(name: str, figure: str) -> float:
        taken = [value for each in all_rounds if not math.isnan(value := getattr(each[name], figure))]
        return statistics.median(taken) if taken else math.nan

    for name in ("home", "practice", "a session"):
        line(f"{name}: first words", median(name, "words"), "a bare app", median("bare", "words"))
        line(f"{name}: the processor's time until then", median(name, "busy"), "a bare app", median("bare", "busy"))
        line(f"{name}: whole screen", median(name, "whole"), "a bare app", median("bare", "whole"))
    for name in ("practice", "a session"):
        line(
            f"{name}: until its first question stands",
            median(name, "question"),
            "a bare app",
            median("bare", "whole"),
        )
    for name in ("home", "practice", "a session"):
        line(f"{name}: key to repaint, help and back", median(name, "key"), "a bare screen", median("bare", "key"))
    for name in ("home", "practice"):
        line(f"{name}: left at once", median(f"{name}, left", "left"), "a bare app", median("bare, left", "left"))


if __name__ == "__main__":
    try:
        screen_figures(int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS)
    except Stuck as trouble:
        print(f"no figures, {trouble}")
