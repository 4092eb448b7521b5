"""The plain mode as a person uses it who listens: answers that follow from the lines said so far."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from coach.plain.run import run
from coach.session.document import Practice

Listener = Callable[[list[str]], str | None]
"""From the lines since the last answer to the next answer; None: the person leaves the keyboard."""
MOST_ANSWERS = 600


@dataclass
class Spoken:
    """What was said, and how it ended."""

    lines: list[str] = field(default_factory=list)
    status: int = -1

    @property
    def text(self) -> str:
        """All of it, line breaks as spaces."""
        return " ".join(self.lines)


def talk(folder: Path, listener: Listener, **options: Any) -> Spoken:
    """A conversation with a listener; `options` as `run` takes them."""
    said = Spoken()
    heard = 0

    def answers() -> Iterator[str]:
        nonlocal heard
        for _ in range(MOST_ANSWERS):
            new, heard = said.lines[heard:], len(said.lines)
            answer = listener(new)
            if answer is None:
                return
            yield answer
        raise AssertionError(said.lines[-40:])

    said.status = run(folder, said.lines.append, answers(), echo=True, **options)
    return said


def in_turn(*answers: str) -> Listener:
    """These answers, whatever is asked."""
    remaining = iter(answers)
    return lambda lines: next(remaining, None)


def sensible(lines: list[str]) -> str:
    """What somebody answers who follows the coach and reads the bench's callipers."""
    text = " ".join(lines)
    if "How is it measured?" in text:
        return "offsets"
    if "Left gap in mm" in text:
        return "other"
    if "To the right in mm" in text:
        return offsets_of(next(line for line in reversed(lines) if line.startswith("Bench:")))
    if "It is doubtful: keep it, with more doubt" in text:
        return "4"
    if "Leave it so all the same." in text:
        return "1"
    if "Lock nuts tight" in text:
        return "Finish"
    return ""


def offsets_of(bench: str) -> str:
    """The mark's offset, right and up, from what the bench's callipers say."""
    if "from the centre" in bench:
        (right, way), (up, rise) = re.findall(r"([0-9.]+) mm (right|left|up|down)", bench)
        return f"{'-' if way == 'left' else ''}{right}; {'-' if rise == 'down' else ''}{up}"
    left, right, top, bottom = (float(gap) for gap in re.findall(r"[0-9]+\.[0-9]", bench))
    return f"{(left - right) / 2:.2f}; {(bottom - top) / 2:.2f}"


def after(steps: int, then: Listener, before: Listener = sensible) -> Listener:
    """So many answers of one listener, then those of another."""
    count = 0

    def listen(lines: list[str]) -> str | None:
        nonlocal count
        count += 1
        return before(lines) if count <= steps else then(lines)

    return listen


def stored(folder: Path) -> Path:
    """The one session in the folder."""
    (path,) = (folder / "sessions").glob("*.toml")
    return path


FINE = Practice(kind="fine", seed=3)
ALIGNED = Practice(kind="aligned", seed=5)


def until(title: str, *answers: str) -> Listener:
    """Sensible answers until a step of that title, then these, then nobody is there any more."""
    then = in_turn(*answers)
    there = False

    def listen(lines: list[str]) -> str | None:
        nonlocal there
        there = there or any(line.startswith(f"Step: {title}") for line in lines)
        return then(lines) if there else sensible(lines)

    return listen
