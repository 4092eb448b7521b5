"""Four ways to say where a mark lies: what each asks for, and the reading that follows from the entries.

The entries are plain text by name, exactly what is kept as the session's draft.
"""

import contextlib
import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import cast

from coach.advice.advice import Shot
from coach.errors import InputError
from coach.machine import Machine
from coach.reading.clock import from_clock, parse_clock
from coach.reading.crosshair import Crosshair, from_crosshair
from coach.reading.face import Face
from coach.reading.gaps import GapsTo, from_gaps
from coach.reading.model import Reading
from coach.reading.offsets import Tool, from_offsets
from coach.units import Unit, parse_length, parse_number

Entries = dict[str, str]
Steps = tuple[float, float, float]
STEPS: Steps = (0.1, 0.5, 2.0)
"""How far one key press usually moves the crosshair, mm."""
NUMBER = '0123456789.,-+−/ "″'
CLOCK = "0123456789.,:/ "


@dataclass(frozen=True)
class WayField:
    """One number to type: the entry's name, its label, and the characters that belong in it."""

    key: str
    label: str
    allowed: str = NUMBER
    positive: bool = True
    """Whether less than nothing makes no sense."""


@dataclass(frozen=True)
class Way:
    """One way to measure."""

    key: str
    label: str
    fields: tuple[WayField, ...] = ()

    @property
    def has_unit(self) -> bool:
        """Whether lengths are typed."""
        return bool(self.fields)


CROSSHAIR = Way("crosshair", "Crosshair")
GAPS = Way(
    "gaps",
    "Gaps",
    (
        WayField("left", "Left gap"),
        WayField("right", "Right gap"),
        WayField("top", "Top gap"),
        WayField("bottom", "Bottom gap"),
        WayField("mark", "Mark's width"),
    ),
)
OFFSETS = Way(
    "offsets",
    "Offsets",
    (WayField("across", "To the right", positive=False), WayField("along", "Up", positive=False)),
)
HOUR = WayField("hour", "Hour, 12 is up", CLOCK)
BY_CLOCK = Way("clock", "Clock", (WayField("distance", "Distance"), HOUR))
WAYS = (CROSSHAIR, GAPS, OFFSETS, BY_CLOCK)

OPTIONS: dict[str, tuple[str, ...]] = {
    "face": ("outer", "sticky"),
    "unit": ("mm", "in"),
    "to": ("edge", "centre"),
    "tool": ("callipers", "ruler"),
}
"""What can be switched, the usual first."""


def ways_for(shot: Shot) -> tuple[Way, ...]:
    """The ways that fit the tape: gaps need an opening of known size."""
    return WAYS if shot.target == "head" else tuple(way for way in WAYS if way is not GAPS)


def option(entries: Mapping[str, str], name: str) -> str:
    """How an option stands."""
    value = entries.get(name, "")
    return value if value in OPTIONS[name] else OPTIONS[name][0]


def begun(entries: Mapping[str, str], unit: Unit, steps: Steps = STEPS) -> Entries:
    """The entries of a measurement that begins, with the unit and the crosshair's step said where they are not yet.

    What is kept as a draft then means the same whatever the person's settings are by the time it is read again.
    """
    return {"unit": unit, "step": f"{steps[1]:g}", **entries}


def crosshair_of(entries: Mapping[str, str]) -> Crosshair:
    """The crosshair as the entries have it; what cannot be read is in the middle."""
    values = {"cross_u": 0.0, "cross_v": 0.0, "step": STEPS[1]}
    for name in values:
        with contextlib.suppress(InputError):
            values[name] = parse_number(entries[name]) if entries.get(name) else values[name]
    return Crosshair(values["cross_u"], values["cross_v"], values["step"])


def with_crosshair(entries: Mapping[str, str], crosshair: Crosshair) -> Entries:
    """The entries with the crosshair elsewhere."""
    place = {"cross_u": f"{crosshair.u:g}", "cross_v": f"{crosshair.v:g}", "step": f"{crosshair.step:g}"}
    return {**entries, **place}


def next_step(entries: Mapping[str, str], way: int, steps: Steps = STEPS) -> Entries:
    """The entries with the crosshair's next coarser (+1) or finer (−1) step."""
    crosshair = crosshair_of(entries)
    nearest = min(range(len(steps)), key=lambda index: abs(steps[index] - crosshair.step))
    step = steps[min(max(nearest + way, 0), len(steps) - 1)]
    return with_crosshair(entries, replace(crosshair, step=step))


def opening_of(machine: Machine, shot: Shot) -> float:
    """Diameter of what the drawing of the tape shows, mm."""
    return machine.aperture.head if shot.target == "head" else 2 * machine.tape.mirror2_radius


def reading_of(entries: Mapping[str, str], way: Way, machine: Machine, shot: Shot) -> Reading:
    """The reading that the entries make.  Raises InputError with the sentence to show."""
    face = cast(Face, option(entries, "face"))
    unit = cast(Unit, option(entries, "unit"))
    given = {field.key: entries.get(field.key, "") for field in way.fields}
    if way.key == "crosshair":
        if "cross_u" not in entries:
            raise InputError(
                "The cross was not moved yet",
                expected="the arrow keys to put it on the mark; if the mark is in the very middle, there and back",
            )
        return from_crosshair(crosshair_of(entries), opening_of(machine, shot), face=face)
    if way.key == "gaps":
        return from_gaps(
            aperture_diameter=machine.aperture.head,
            left=given["left"],
            right=given["right"],
            top=given["top"],
            bottom=given["bottom"],
            to=cast(GapsTo, option(entries, "to")),
            mark_diameter=given["mark"],
            unit=unit,
            face=face,
        )
    if way.key == "offsets":
        tool = cast(Tool, option(entries, "tool"))
        return from_offsets(given["across"], given["along"], unit=unit, tool=tool, face=face)
    return from_clock(given["distance"], given["hour"], unit=unit, face=face)


def is_filled(entries: Mapping[str, str], way: Way) -> bool:
    """Whether all that the way needs stands there; the mark's width is needed only where a gap is missing."""
    return all(entries.get(field.key, "").strip() for field in way.fields if field.key != "mark")


def faulty_field(entries: Mapping[str, str], way: Way) -> str | None:
    """The first field that cannot be used by itself, else the first empty one; None where all could be used."""
    for field in way.fields:
        text = entries.get(field.key, "").strip()
        try:
            if text and field is HOUR:
                parse_clock(text)
            elif text and parse_length(text, cast(Unit, option(entries, "unit"))).mm < 0 and field.positive:
                return field.key
        except InputError:
            return field.key
    empty = [field.key for field in way.fields if not entries.get(field.key, "").strip()]
    return empty[0] if empty else None


def entries_from(typed: Mapping[str, str]) -> Entries:
    """The entries that made a reading, from what it says was typed; {} where that is not known."""
    names = {
        "gaps": {"mark_diameter": "mark", **{side: side for side in ("left", "right", "top", "bottom")}},
        "offsets": {"right": "across", "up": "along"},
        "clock": {"distance": "distance", "clock": "hour"},
        "crosshair": {"right": "cross_u", "up": "cross_v", "step": "step"},
    }.get(typed.get("method", ""))
    if names is None:
        return {}
    entries = {key: typed[key] for key in OPTIONS if key in typed}
    entries |= {new: typed[old] for old, new in names.items() if old in typed}
    if typed["method"] == "crosshair":
        entries |= {key: entries[key].removesuffix(" mm") for key in names.values() if key in entries}
    return {"way": typed["method"], **entries}


def manner_from(typed: Mapping[str, str]) -> Entries:
    """How a reading was taken, without its numbers: the way, the face, the unit and the tool."""
    if typed.get("method") not in {way.key for way in WAYS}:
        return {}
    return {"way": typed["method"], **{key: typed[key] for key in OPTIONS if key in typed}}


def inside_words(reading: Reading, machine: Machine, shot: Shot) -> str:
    """Where on the tape that is."""
    away = math.hypot(reading.u, reading.v)
    readable = machine.tape.radius if shot.target == "head" else machine.tape.mirror2_radius
    if away > readable:
        return "beyond the tape"
    if shot.target != "head":
        return "on mirror 2's tape"
    if away <= machine.tolerance:
        return "inside the tolerance"
    return "inside the imprint" if away <= machine.aperture.head / 2 else "outside the imprint, on the tape"
