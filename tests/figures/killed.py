"""SIGKILL at random instants of real use: full screen, plain lines, shell.  Is all that was told still there?

Each program is forked from this one, which has loaded the coach already: what is killed is its work, not its start.
"""

import os
import pty
import random
import select
import shutil
import signal
import struct
import sys
import termios
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from fcntl import ioctl
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import NoReturn

import coach.cli.changes
import coach.cli.plain
import coach.tui.app
import coach.tui.screens.measure  # noqa: F401 (loaded once, before the forks)
from coach import Session
from coach.cli.main import main
from coach.practice.demo import demo_machine
from coach.steps.gates import GATES

AT_ONCE, NOTES = 6, 10
PATIENCE, AGAIN = 120.0, 1.5
"""Seconds for a whole try, and until a key that came too early is pressed once more."""
THERE_AND_BACK = "\x1b[C\x1b[D"
"""The arrow keys (xterm control sequences): the crosshair was moved, and stands in the middle."""


@dataclass(frozen=True)
class Stage:
    """What stands on the screen, how many entries it says are made, and what is pressed."""

    words: str
    kept: int
    keys: str = ""


def _stages() -> Iterator[Stage]:
    made = len(GATES)
    yield from (Stage(gate.confirm, number) for number, gate in enumerate(GATES))
    for _ in range(3):
        yield Stage("There, fresh tape", made)
        yield Stage("Fire the practice bench", made + 1)
        yield Stage("Read back", made + 2, THERE_AND_BACK)
        yield Stage("Yes, keep it", made + 2)
        made += 3


STAGES = tuple(_stages())


def on_the_screen(tries: range, folder: Path) -> int:
    """A practice job on a pseudo terminal, led as far as chance says and killed within moments of a key."""
    return _each(tries, folder, _screen_killed)


def in_lines(tries: range, folder: Path) -> int:
    """A practice job in plain lines, killed within 50 ms of what it says."""
    return _each(tries, folder, _lines_killed)


def in_the_shell(tries: range, folder: Path) -> int:
    """Notes typed one after another into one session, ten in each, every call killed at any moment of its time."""
    return _each(tries[::NOTES], folder, _notes_killed)


def _each(tries: range, folder: Path, kill: Callable[[Path, int], int]) -> int:
    told = bad = 0
    with ProcessPoolExecutor(AT_ONCE, mp_context=get_context("fork")) as pool:
        for kept, fine in pool.map(partial(_tried, kill, folder), tries):
            told, bad = told + kept, bad + (not fine)
    print(f"    {told} entries were acknowledged before", flush=True)
    return bad + (told == 0)


def _tried(kill: Callable[[Path, int], int], folder: Path, seed: int) -> tuple[int, bool]:
    """How many entries were told before a kill, and whether every file loads and all of them are there."""
    data = folder / str(seed)
    try:
        told = kill(data, seed)
        events = [event for path in (data / "sessions").glob("*.toml") for event in Session.load(path).events]
        return told, sum(event.kind != "opened" for event in events) >= told
    except Exception as error:
        print(f"    {seed}: {type(error).__name__} {error}", flush=True)
        return 0, False
    finally:
        shutil.rmtree(data, ignore_errors=True)


def _notes_killed(data: Path, seed: int) -> int:
    path = Session.start(demo_machine()).keep_new(data)
    chance, kept, usual = random.Random(seed), list[str](), 1.0
    for number in range(NOTES):
        begun = time.monotonic()
        program = Program.started(["--data", str(data), "note", str(path), f"n{number}"])
        until, said = chance.uniform(0.1, 1.3) * usual, b""
        while time.monotonic() - begun < until and not said:
            said = program.heard(0.001)
        usual = 0.7 * usual + 0.3 * (time.monotonic() - begun) if said else 1.3 * usual  # so that some come through
        kept += [f"n{number}"] if (said + program.killed()).endswith(b"\n") else []
        there = {getattr(event, "text", "") for event in Session.load(path).events}
        if not set(kept) <= there:
            raise RuntimeError(f"{set(kept) - there} are not there")
    return len(kept)


def _lines_killed(data: Path, seed: int) -> int:
    chance, end = random.Random(seed), time.monotonic() + PATIENCE
    program = Program.started(["--data", str(data), "practice", "--plain", "--seed", "3"])
    program.type("1\n" * 40)
    wanted, output = chance.randrange(12), b""
    while output.count(b"Saved.") < wanted and time.monotonic() < end:  # entries, then some moments into the next
        output += program.heard(0.005)
    time.sleep(chance.uniform(0.0, 0.05))
    return (output + program.killed()).count(b"Saved.")


def _screen_killed(data: Path, seed: int) -> int:
    """Pressed on from stage to stage until the one at which it is killed; how many entries were told."""
    chance, end = random.Random(seed), time.monotonic() + PATIENCE
    program = Program.started(["--data", str(data), "practice", "--kind", "fine", "--seed", "3"], screen=True)
    last, told, presses, output = chance.randrange(len(STAGES)), 0, 0, b""
    for number, stage in enumerate(STAGES[: last + 1]):
        pressed = 0.0
        while stage.words.encode() not in output:
            output += program.heard(0.02)
            if number and time.monotonic() - pressed > AGAIN:  # at first, and where it came too early
                program.type(STAGES[number - 1].keys + "\r "[presses % 2])
                pressed, presses = time.monotonic(), presses + 1
            if time.monotonic() > end:
                program.killed()
                raise RuntimeError(f"{stage.words!r} never stood there: {output[-300:]!r}")
        output, told = output.rpartition(stage.words.encode())[2], stage.kept
    program.type(STAGES[last].keys + "\r "[presses % 2])
    time.sleep(chance.uniform(0.0, 0.3))
    output += program.killed()
    following = STAGES[min(last + 1, len(STAGES) - 1)]
    return following.kept if following.words.encode() in output else told


@dataclass(frozen=True)
class Program:
    """The coach in a process of its own, and this end of what it is typed to and says."""

    pid: int
    typed: int
    said: int

    @classmethod
    def started(cls, words: Sequence[str], *, screen: bool = False) -> "Program":
        """Begin it on pipes, or on a pseudo terminal of 80x24."""
        if screen:
            ours, theirs = pty.openpty()
            ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
            program, inner, others = (ours, ours), (theirs, theirs, theirs), (ours,)
        else:
            (reads, types), (hears, says) = os.pipe(), os.pipe()
            program, inner, others = (types, hears), (reads, says, os.open(os.devnull, os.O_WRONLY)), (types, hears)
        sys.stdout.flush()
        pid = os.fork()
        if pid == 0:
            _run(words, inner, others)
        for handle in set(inner):
            os.close(handle)
        return cls(pid, *program)

    def type(self, keys: str) -> None:
        """Press these keys."""
        os.write(self.typed, keys.encode())

    def heard(self, patience: float) -> bytes:
        """What it said since, waiting so many seconds for more."""
        output = b""
        while select.select([self.said], [], [], patience)[0]:
            try:
                piece = os.read(self.said, 65536)
            except OSError:  # its terminal ended with it
                break
            if not piece:
                break
            output += piece
        return output

    def killed(self) -> bytes:
        """SIGKILL, and what it had said before."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        output = self.heard(0.0)
        for handle in {self.typed, self.said}:
            os.close(handle)
        return output


def _run(words: Sequence[str], inner: tuple[int, int, int], others: Sequence[int]) -> NoReturn:
    """In the forked process: the program on its own standard streams; never returns."""
    try:
        os.setsid()
        for handle, number in zip(inner, (0, 1, 2), strict=True):
            os.dup2(handle, number)
        if os.isatty(0):
            ioctl(0, termios.TIOCSCTTY, 0)
        for handle in others:
            os.close(handle)
        for number, (name, mode) in enumerate((("stdin", "r"), ("stdout", "w"), ("stderr", "w"))):
            stream = open(number, mode, encoding="utf-8", closefd=False)  # noqa: SIM115
            setattr(sys, name, stream)
            setattr(sys, f"__{name}__", stream)
        os._exit(main(words))
    finally:
        os._exit(9)
