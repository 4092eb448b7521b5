"""The figures that a check with covers shut may come with: what each is, in which unit, and within which bounds."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, get_args

from coach.errors import InputError, OutOfReach, UnknownName
from coach.triage.causes import CHECKS, CheckName
from coach.units import given_number

Result = Literal["good", "bad", "not checked"]
RESULTS: tuple[Result, ...] = get_args(Result)
CORNERS = ("front_left", "front_right", "back_left", "back_right")


@dataclass(frozen=True)
class Figure:
    """One figure: what it is, its unit and its bounds."""

    about: str
    unit: str
    low: float
    high: float
    example: str


_GAP = {name: Figure(f"gap head to bed, {name.replace('_', ' ')}", "mm", 0.0, 200.0, "5.2") for name in CORNERS}

FIGURES: dict[CheckName, dict[str, Figure]] = {
    "focus": {
        "along": Figure("way up the ramp board from the gauge's height to the thinnest line", "mm",
                        -200.0, 200.0, "8"),
        "off": Figure("or its height above the gauge's, a tenth of that way", "mm", -20.0, 20.0, "0.8"),
    },
    "bed": _GAP,
    "lens": {
        "moved": Figure("how far the thinnest line moved once the lens was warm", "mm", 0.0, 20.0, "0.4"),
        "watts": Figure("power of the tube", "W", 5.0, 500.0, "60"),
    },
    "water": {
        "celsius": Figure("temperature of the water", "°C", -10.0, 80.0, "21"),
        "room": Figure("temperature of the room", "°C", -20.0, 55.0, "22"),
        "humidity": Figure("relative humidity of the room", "%", 1.0, 100.0, "55"),
    },
    "tube": {
        "current": Figure("current at the usual setting", "mA", 0.5, 200.0, "18"),
        "usual": Figure("current that it used to be", "mA", 0.5, 200.0, "20"),
        "rated": Figure("current that the tube is rated for", "mA", 0.5, 200.0, "25"),
        "hours": Figure("hours of the tube", "h", 0.0, 50000.0, "900"),
    },
    "extraction": {}, "material": {}, "mirrors": {}, "rail": {}, "supply": {},
}  # fmt: skip
CALLED = {
    "along": "up the board", "off": "above the gauge", "moved": "moved when warm", "watts": "tube",
    "celsius": "water", "room": "room", "humidity": "humidity",
    "current": "current", "usual": "used to be", "rated": "rated", "hours": "tube's hours",
    **{name: name.replace("_", " ") for name in CORNERS},
}  # fmt: skip
"""What stands before each figure where there is no room for a sentence."""
RAMP = 20.0 / 200.0
"""Rise of the ramp board: 20 mm over 200 mm."""
RAMP_READ = 0.3
"""mm by which a height read beside the board may differ from the way up it."""


def checked_check(name: Any, result: Any, figures: Mapping[str, Any]) -> tuple[CheckName, Result, dict[str, float]]:
    """A check as it was entered.  Raises UnknownName, InputError or OutOfReach."""
    known = next((each for each in CHECKS if each == name), None)
    if known is None:
        raise UnknownName(f"There is no check {name!r}", expected="one of: " + ", ".join(CHECKS))
    said = next((each for each in RESULTS if each == result), None)
    if said is None:
        raise UnknownName(f"A check cannot end as {result!r}", expected="one of: " + ", ".join(RESULTS))
    read = {key: checked_figure(known, key, value) for key, value in figures.items() if value is not None}
    if read and said == "not checked":
        raise InputError(f"{known} was not checked, and yet has figures", expected="good or bad with figures")
    return known, said, read


def agreeing_check(name: Any, result: Any, figures: Mapping[str, Any]) -> tuple[CheckName, Result, dict[str, float]]:
    """The same as it is entered now: the focus told in two ways has to be one focus.  Raises InputError too."""
    known, said, read = checked_check(name, result, figures)
    if "along" in read and "off" in read:
        height = abs(read["along"]) * RAMP
        if abs(height - abs(read["off"])) > RAMP_READ:
            raise InputError(
                f"{read['along']:g} mm up the board is {height:g} mm of height, not {read['off']:g} mm",
                expected="one of the two: the way up the board, or the height",
            )
    return known, said, read


def checked_figure(check: CheckName, key: str, value: Any) -> float:
    """One figure in its unit.  Raises UnknownName, InputError or OutOfReach."""
    figure = FIGURES[check].get(key)
    if figure is None:
        known = ", ".join(FIGURES[check]) or "none"
        raise UnknownName(f"The check of {check} has no figure {key!r}", expected=f"one of: {known}")
    number = given_number(f"The {figure.about}", value, figure.unit, figure.example)
    if not (math.isfinite(number) and figure.low <= number <= figure.high):
        raise OutOfReach(
            f"The {figure.about} is {number:g} {figure.unit}",
            expected=f"{figure.low:g} to {figure.high:g} {figure.unit}",
            example=figure.example,
        )
    return number
