"""One station before and after, and what is written about all of them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from coach.shown import Wording

NONE = "–"

Offset = tuple[float, float]
"""(u, v) in mm."""


@dataclass(frozen=True)
class Compared:
    """One station: its first mark, and its newest or what is expected there; mm.  None: no mark."""

    name: str
    before: Offset | None = None
    after: Offset | None = None
    expected: Offset | None = None
    doubt: Offset = (0.0, 0.0)
    """Half axes of the expected mark's doubt, mm."""
    missed_before: bool = False
    """The first pulse left no mark on the tape."""
    missed_after: bool = False


def legend(stations: Sequence[Compared], adjusted: bool, wording: Wording) -> list[tuple[str, tuple[str, ...]]]:
    """What each shape is, with the largest offset among them; each in shorter and shorter wordings."""
    count = len(stations)
    rows = []
    before = [s.before for s in stations if s.before]
    after = [s.after for s in stations if s.after]
    waiting = [s for s in stations if s.expected]
    if adjusted:
        missed = any(s.missed_before for s in stations)
        rows.append(("before", _row("before", before, count, missed, wording)))
    missed = any(s.missed_after for s in stations)
    if after or missed or not waiting:
        rows.append(("after", _row("after" if adjusted else "marks", after, count, missed, wording)))
    if waiting:
        worst = max(waiting, key=lambda s: math.hypot(*(s.expected or (0, 0))))
        size, doubt = math.hypot(*(worst.expected or (0, 0))), max(worst.doubt)
        short = f"expected: worst {wording.amount(size)} ±{wording.length(doubt)}"
        rows.append(
            (
                "expected",
                (f"expected: worst {wording.length(size)}, doubt {wording.length(doubt)}", short, "expected"),
            )
        )
    return rows


def _row(word: str, marks: list[Offset], count: int, missed: bool, wording: Wording) -> tuple[str, ...]:
    if missed:
        return f"{word}: worst off the tape", f"{word}: off the tape", word
    if not marks:
        return f"{word}: no mark", word
    figure = f"{word}: worst {wording.length(max(math.hypot(*mark) for mark in marks))}"
    return (f"{figure} ({len(marks)} of {count})", figure, word) if len(marks) < count else (figure, word)


def figures(stations: Sequence[Compared], adjusted: bool, wording: Wording) -> list[str]:
    """A row for each station: its number, its name, how far out its mark was and is."""
    wide = max((len(s.name) for s in stations), default=0)
    rows = []
    for number, station in enumerate(stations, start=1):
        after = _size(station.after or station.expected, station.missed_after, wording)
        after += f" {wording.unit}" if station.after or station.expected else ""
        after += " expected" if station.expected else ""
        before = f"{_size(station.before, station.missed_before, wording):>4} → " if adjusted else ""
        rows.append(f"{number} {station.name:<{wide}} {before}{after}")
    return rows


def _size(offset: Offset | None, missed: bool, wording: Wording) -> str:
    return wording.amount(math.hypot(*offset)) if offset else "off" if missed else NONE
