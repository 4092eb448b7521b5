"""The visits of a practice year as session documents: what their owner would have typed, with its dates.

Simplified, and said so in docs/benchmark.md: each visit marks every station once, nobody asks for advice; an
alignment is told as "the machine was touched", without its turns, and five marks after it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np

from coach.optics.trace import at_mirror2
from coach.practice.year_world import DAYS, Turned, Year, aligned
from coach.session.document import Document
from coach.session.events import EVENT

BEGAN = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)
GAPS = (18, 46)
"""Days between two visits."""
READ = 0.2
"""mm, how well this owner reads a mark …"""
SLIPS, SLIP = 0.015, (1.5, 4.0)
"""… and how often, and by how much, wrongly."""
AT_MIRROR_2 = 0.7
"""Share of rounds in which mirror 2's own opening is marked too, with the gantry at the front."""
TOUCHED_FROM = (0.8, 1.1)
"""Of the tolerance: from there on the owner aligns."""
LADDER = 1.1
SHEET, PLACE = 0.025, 0.03
"""Relative, of the speed at which a sheet is cut through: sheet from sheet, place from place."""
MATERIAL = "ply 4 mm, lot 1"


@dataclass(frozen=True, eq=False)
class Lived:
    """A year's sessions, and how its last visit left the machine."""

    documents: tuple[Document, ...]
    days: tuple[int, ...]
    turned: Turned
    """By the last visit's end."""


def live(year: Year) -> Lived:
    """All visits of that year."""
    rng = np.random.default_rng((year.seed, 12))
    turned, documents, days, before = Turned.nothing(), [], [], -1
    for number, day in enumerate(_days(rng)):
        events = _Events(day)
        _tell(year, events, before, day)
        worst = _mark(year, events, day, turned, rng)
        if number == 0 or worst > rng.uniform(*TOUCHED_FROM) * year.machine.tolerance:
            turned = aligned(year, day, turned, rng)
            events.add("disturbed", part="machine")
            _mark(year, events, day, turned, rng)
        _cut(year, events, day, rng)
        events.add("finish")
        documents.append(Document(title=f"Visit {number + 1}", created=events.began, machine=year.machine,
                                  events=tuple(events.all)))  # fmt: skip
        days.append(day)
        before = day
    return Lived(tuple(documents), tuple(days), turned)


def _days(rng: np.random.Generator) -> Iterator[int]:
    day = 0
    while day <= DAYS:
        yield day
        day += int(rng.integers(*GAPS))


class _Events:
    """A session's entries, a minute apart."""

    def __init__(self, day: int) -> None:
        self.began = BEGAN + timedelta(days=day)
        self.all: list[Any] = []

    def add(self, kind: str, **fields: Any) -> None:
        number = len(self.all) + 1
        at = self.began + timedelta(minutes=number)
        self.all.append(EVENT.validate_python({"id": number, "at": at, "kind": kind, **fields}))


def _tell(year: Year, events: _Events, before: int, day: int) -> None:
    """What the owner says befell the machine since the last visit."""
    if year.bump is not None and before < year.bump <= day:
        if year.bumped == "machine":
            events.add("answer", question="moved", answer="bumped")
        else:
            events.add("disturbed", part=year.bumped)
    if year.new_tube is not None and before < year.new_tube <= day:
        events.add("answer", question="changed", answer="tube")
    for mirror in (mirror for out, mirror in year.taken_out if before < out <= day):
        events.add("care", optic=f"mirror {mirror}", result="clean", taken_out=True)
    if any(before < cleaned <= day for cleaned in year.cleaned):
        events.add("care", optic="lens", result="clean")


def _mark(year: Year, events: _Events, day: int, turned: Turned, rng: np.random.Generator) -> float:
    """A mark at every station; the worst as read, mm."""
    true = year.offsets(year.state(day, turned, year.warm(day)))
    read = true + rng.normal(0, READ, true.shape)
    for row in read:
        if rng.random() < SLIPS:
            row[int(rng.integers(2))] += rng.choice([-1, 1]) * rng.uniform(*SLIP)
    read = np.round(read, 1)
    for station, (u, v) in zip(year.machine.stations, read, strict=True):
        events.add("mark", station=station.name, x=station.x, y=station.y, u=float(u), v=float(v))
    if rng.random() < AT_MIRROR_2:
        front = min(year.machine.stations, key=lambda station: station.y)
        at = np.round(at_mirror2(year.state(day, turned, year.warm(day)), front.y) + rng.normal(0, READ, 2), 1)
        place = {"station": front.name, "x": front.x, "y": front.y, "target": "mirror 2"}
        events.add("mark", **place, u=float(at[0]), v=float(at[1]))
    return float(np.hypot(*read.T).max())


def _cut(year: Year, events: _Events, day: int, rng: np.random.Generator) -> None:
    """The fastest line that falls through at every station."""
    sheet = rng.normal(0, SHEET)
    for station in year.machine.stations:
        limit = 20.0 * year.light[day] * np.exp(sheet + rng.normal(0, PLACE))
        step = int(np.floor(np.log(limit / 5.0) / np.log(LADDER)))
        low, high = (round(5.0 * LADDER**number, 2) for number in (step, step + 1))
        events.add("cut", station=station.name, fastest=low, next=high, material=MATERIAL)
