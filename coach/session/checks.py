"""Checks of what callers pass to a session: plain sentences instead of tracebacks."""

from datetime import datetime
from typing import Any, get_args

from coach.errors import InputError, OutOfReach, UnknownName
from coach.machine import Machine, Target
from coach.parts import DIRECTIONS, FARTHEST_AT_ONCE, PARTS, Part
from coach.session.events import DisturbedPart
from coach.shown import IN_MM, Wording
from coach.signs import visible
from coach.tuning import TUNING
from coach.units import finite_number

FARTHEST = 500.0
"""mm; no mark, shift or doubt is larger than this on a machine for one person."""


LEAST_SD, MOST_SD = TUNING.readings.least_sd, 100.0
"""mm, of a reading."""
LONGEST_NAME = 60
"""Characters of a point's name, as of every other name."""


def checked_when(at: datetime | None, since: datetime, now: datetime) -> datetime:
    """When something happened, `now` where nothing else is said; days alone are compared.  Raises OutOfReach."""
    if at is None:
        return now
    when = at.astimezone()
    if when.date() > now.date():
        raise OutOfReach(f"{when.date()} lies ahead", expected=f"{now.date()} or earlier")
    if when.date() < since.astimezone().date():
        first = since.astimezone().date()
        raise OutOfReach(
            f"{when.date()} lies before this session, which began on {first}",
            expected="a later day, or a session of its own for what was made then",
        )
    return min(when, now)


def checked_offset(what: str, value: Any, wording: Wording = IN_MM) -> float:
    """A finite number of mm; a refusal says lengths in that wording.  Raises InputError or OutOfReach."""
    number = finite_number(what, value, "mm", "1.2")
    if abs(number) > FARTHEST:
        raise OutOfReach(
            f"{what} is {wording.exact(number)}", expected=f"at most {wording.exact(FARTHEST)}", example="1.2"
        )
    return number


def checked_shift(what: str, value: Any, wording: Wording = IN_MM) -> float:
    """A shift in mm that one would make at once; a refusal says lengths in that wording.

    Raises InputError or OutOfReach.
    """
    number = checked_offset(what, value, wording)
    if abs(number) > FARTHEST_AT_ONCE:
        raise OutOfReach(
            f"{what} is {wording.exact(number)}",
            expected=f"at most {wording.exact(FARTHEST_AT_ONCE)} at once, then a test mark",
            example="1.2",
        )
    return number


def checked_sd(value: Any) -> float | None:
    """A doubt in mm that a reading can have, or None for the usual one.  Raises InputError."""
    if value is None:
        return None
    number = checked_offset("sd", value)
    if not LEAST_SD <= number <= MOST_SD:
        raise OutOfReach(f"sd is {number:g} mm", expected=f"{LEAST_SD:g} to {MOST_SD:g} mm", example="0.3")
    return number


def checked_lens_shift(up: float, right: float, back: float) -> None:
    """That the lens tube was moved to the side, by no more than a head has room for, mm.

    Raises InputError or OutOfReach.
    """
    if up:
        raise InputError(
            "Moving the lens up or down changes its focus, not where the beam passes it",
            expected="the lens right or back",
            example="lens right 0.3 mm",
        )
    for what, amount in (("right", right), ("back", back)):
        checked_shift(what, amount)


def checked_part(part: str, axis: str | None) -> Part:
    """A part that moving would centre the beam with, in that direction.  Raises UnknownName or InputError."""
    known = next((each for each in PARTS if each == part), None)
    if known is None:
        raise UnknownName(f"There is no part {part!r} to move", expected=f"one of: {', '.join(PARTS)}")
    if axis is not None and axis not in DIRECTIONS[known]:
        raise InputError(
            f"Moving the {known} {axis!r} does not centre the beam, so nobody is asked for it",
            expected=" or ".join(DIRECTIONS[known]),
            example=DIRECTIONS[known][0],
        )
    return known


def checked_disturbed(part: str) -> str:
    """A part that can be out, or be bumped.  Raises UnknownName."""
    if part not in (known := get_args(DisturbedPart)):
        raise UnknownName(f"There is no part {part!r} to be out or bumped", expected="one of: " + ", ".join(known))
    return part


def place(machine: Machine, station: str, x: float | None, y: float | None, target: Any) -> dict[str, Any]:
    """Where a pulse was made, as an event's fields.  Raises UnknownName, InputError or OutOfReach."""
    if target not in get_args(Target):
        raise InputError(f"The target {target!r} is not known", expected='"head", "mirror 2" or "mirror 1"')
    if (x is None) != (y is None):
        raise InputError("Only one of x and y was given", expected="both, in mm", example="x=300, y=200")
    if x is None or y is None:
        known = machine.station(station)
        return {"station": known.name, "x": known.x, "y": known.y, "target": target}
    if not isinstance(station, str) or not station.strip():
        raise InputError("The point has no name", expected="a short name", example='"P1"')
    if not station.strip().isprintable() or len(station.strip()) > LONGEST_NAME:
        what = f"The point's name is {visible(station[:LONGEST_NAME])!r}"
        raise InputError(what, expected=f"at most {LONGEST_NAME} visible characters", example='"P1"')
    where = {
        "x": checked_offset_on("x", x, machine.bed.width),
        "y": checked_offset_on("y", y, machine.bed.depth),
    }
    return {"station": station.strip(), **where, "target": target}


def checked_offset_on(what: str, value: Any, travel: float) -> float:
    """A position within the travel, mm.  Raises InputError or OutOfReach."""
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise InputError(f"{what} is {value!r}, which is not a number", expected="mm", example="300") from None
    if not 0 <= number <= travel:
        raise OutOfReach(f"{what} = {number:g} lies outside the travel", expected=f"0 to {travel:g} mm")
    return number
