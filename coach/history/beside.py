"""What a visit found and left as figures, one visit's and any two beside each other."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from coach.history.beam import BeamState, middle, passes, worst
from coach.history.series import comparable
from coach.history.visits import Visit
from coach.history.words import share_words
from coach.shown import Wording

SLOPES = (("Leg 1, right", 0), ("Leg 1, up", 1), ("Leg 2, right", 2), ("Leg 2, up", 3))
CENTRE = (("Centre, right", 0), ("Centre, up", 1))
CUT = "Cut speed"
NOTHING = "–"
SEEN = 0.001
"""A loss below it is said to be less than this: figures and doubts of nothing would claim too much."""


@dataclass(frozen=True)
class Row:
    """One figure of a visit: as it was found, as it was left."""

    what: str
    found: str
    left: str


def worst_words(visit: Visit, wording: Wording) -> tuple[str, str]:
    """How far off the worst station was when it was found and left; "" where that cannot be told."""
    states = (visit.found, visit.left)
    found, left = ("" if state is None else wording.length(worst(visit.machine, state)) for state in states)
    return found, left


def rows(visit: Visit, wording: Wording) -> tuple[Row, ...]:
    """Slopes, centre, the worst station, the power that passes there, the cut speed; each with its doubt."""
    told = [_row(name, visit, partial(_slope, at=at)) for name, at in SLOPES]
    told += [_row(name, visit, partial(_centre, visit, at=at, wording=wording)) for name, at in CENTRE]
    told.append(_row("Worst station", visit, lambda state: wording.length(worst(visit.machine, state))))
    told.append(_row("Passes there", visit, partial(_passes, visit)))
    cut = [NOTHING if each is None else f"{each.speed:.1f} ± {2 * each.doubt:.1f} mm/s"
           for each in (visit.cut_found, visit.cut_left)]  # fmt: skip
    return (*told, Row(CUT, cut[0], cut[1]))


def two_beside(first: Visit, second: Visit, wording: Wording) -> tuple[tuple[str, ...], ...]:
    """Both visits' figures in rows: what, found and left of each, and from what the first left to what the second
    found; no such change where the beam's path was described otherwise, or the cuts are of two sheets."""
    pairs = zip(rows(first, wording), rows(second, wording), strict=True)
    changes = _changes(first, second, wording)
    return tuple(
        (one.what, one.found, one.left, other.found, other.left, changes.get(one.what, NOTHING))
        for one, other in pairs
    )


def why_not(first: Visit, second: Visit) -> str:
    """Why no change of the beam is told between two visits; "" where it is."""
    if first is second:
        return "These are one and the same visit."
    if not comparable(first.machine, second.machine):
        return "The beam's path was described otherwise then (bed, gaps or side): slopes cannot be compared."
    if first.left is None or second.found is None:
        return "In one of them fewer than three places were marked before any adjustment: nothing can be compared."
    return ""


def _changes(first: Visit, second: Visit, wording: Wording) -> dict[str, str]:
    told: dict[str, str] = {}
    if not why_not(first, second):
        assert first.left is not None
        assert second.found is not None
        apart = BeamState(second.found.mean - first.left.mean, second.found.cov + first.left.cov)
        told = {name: _slope(apart, at) for name, at in SLOPES}
        told |= {name: _centre(second, apart, at, wording) for name, at in CENTRE}
    before, after = first.cut_left, second.cut_found
    if before is not None and after is not None and first is not second and not after.not_compared(before):
        told[CUT] = share_words(after.log - before.log, float(np.hypot(after.sd, before.sd)))
    return told


def _row(name: str, visit: Visit, said: Callable[[BeamState], str]) -> Row:
    found, left = (NOTHING if state is None else said(state) for state in (visit.found, visit.left))
    return Row(name, found, left)


def _slope(state: BeamState, at: int) -> str:
    value, doubt = float(state.mean[at]), 2 * float(np.sqrt(state.cov[at, at]))
    digits = f"{abs(value):.1f}"
    sign = "" if float(digits) == 0 else "+" if value > 0 else "−"
    return f"{sign}{digits} ± {doubt:.1f} mrad"


def _centre(visit: Visit, state: BeamState, at: int, wording: Wording) -> str:
    mean, cov = middle(visit.machine, state)
    return f"{wording.signed(float(mean[at]))} ± {wording.length(2 * float(np.sqrt(cov[at, at])))}"


def _passes(visit: Visit, state: BeamState) -> str:
    share, sd = passes(visit.machine, state)
    return f"{100 * share:.1f} ± {200 * sd:.1f} %" if share < 1 - SEEN else "more than 99.9 %"


@dataclass(frozen=True)
class Beside:
    """Two visits, the earlier first: their figures in tables of a terminal's width, and why no change is told."""

    heads: tuple[tuple[str, ...], ...]
    tables: tuple[tuple[tuple[str, ...], ...], ...]
    reason: str


def beside(one: Visit, other: Visit, wording: Wording) -> Beside:
    """What the earlier left against what the later found, then what the one found and the other left."""
    first, second = sorted((one, other), key=lambda visit: visit.begun)
    table = two_beside(first, second, wording)
    then, now = str(first.on), str(second.on)
    return Beside(
        (("What", f"{then} left", f"{now} found", "change"), ("What", f"{then} found", f"{now} left")),
        (tuple((row[0], row[2], row[3], row[5]) for row in table), tuple((row[0], row[1], row[4]) for row in table)),
        why_not(first, second),
    )


def beside_lines(told: Beside) -> tuple[str, ...]:
    """The same as lines of text."""
    lines: list[str] = []
    for heads, table in zip(told.heads, told.tables, strict=True):
        lines += [*lined((heads, *table)), ""]
    return (*lines[:-1], *(("", told.reason) if told.reason else ()))


def beside_sentences(told: Beside) -> tuple[str, ...]:
    """The same where lines are read aloud: each figure with what it is of."""
    lines = [
        f"{row[0]}: " + "; ".join(f"{head}: {cell}" for head, cell in zip(heads[1:], row[1:], strict=True)) + "."
        for heads, table in zip(told.heads, told.tables, strict=True)
        for row in table
    ]
    lines = [line.replace(f": {NOTHING}", ": not known") for line in lines]
    return (*lines, *((told.reason,) if told.reason else ()))


def widths(table: Sequence[Sequence[str]]) -> list[int]:
    """The widest cell of each column."""
    return [max(len(row[k]) for row in table) for k in range(len(table[0]))]


def lined(table: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """A table as lines of text, its columns aligned."""
    wide = widths(table)
    return tuple("  ".join(cell.ljust(w) for cell, w in zip(row, wide, strict=True)).rstrip() for row in table)
