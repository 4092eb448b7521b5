"""Checks of what callers say of a pulse: its dose, and the mark's width and shape."""

from collections.abc import Mapping
from typing import Any, TypedDict, get_args

from coach.errors import InputError, OutOfReach
from coach.machine import LONGEST_PULSE, SHORTEST_PULSE
from coach.session.events import Shape
from coach.units import finite_number

WIDEST = 30.0
"""mm; no single pulse makes a wider mark."""


class Dose(TypedDict):
    """How a pulse was made: ms, per cent and layers of tape, as far as they are known."""

    ms: float | None
    power: float | None
    layers: int | None


def fired(ms: Any, power: Any, layers: Any) -> dict[str, Any]:
    """The dose of a pulse as an event's fields.  Raises InputError or OutOfReach."""
    return {"ms": checked_ms(ms), "power": checked_power(power), "layers": checked_layers(layers)}


def checked_ms(value: Any) -> float | None:
    """How long a pulse was, ms, or None.  Raises InputError, also for what was probably meant in seconds."""
    if value is None:
        return None
    number = finite_number("The pulse's time", value, "ms", "70")
    if number <= 0:
        raise OutOfReach(f"A pulse of {number:g} ms cannot be", expected="more than 0 ms", example="70")
    if number < SHORTEST_PULSE:
        raise OutOfReach(
            f"A pulse of {number:g} ms is shorter than any: in seconds it would be {number * 1000:g} ms",
            expected=f"{SHORTEST_PULSE:g} to {LONGEST_PULSE:g} ms",
            example="70",
        )
    if number > LONGEST_PULSE:
        raise OutOfReach(
            f"A pulse of {number:g} ms is beyond the ceiling",
            expected=f"at most {LONGEST_PULSE:g} ms; if it was so long, enter it without its time",
            example="70",
        )
    return number


def checked_power(value: Any) -> float | None:
    """The power that was set, per cent, or None.  Raises InputError or OutOfReach."""
    if value is None:
        return None
    number = finite_number("The power", value, "per cent", "12")
    if not 0 < number <= 100:
        expected = "more than 0 and at most 100 per cent"
        raise OutOfReach(f"A power of {number:g} % cannot be", expected=expected, example="12")
    return number


def checked_layers(value: Any) -> int | None:
    """Layers of tape, or None.  Raises InputError."""
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 20:
        raise InputError(f"{value!r} layers of tape cannot be", expected="a whole number from 1 to 20", example="2")
    return value


def seen(width: Any, shape: Any) -> Mapping[str, Any]:
    """The mark's width (mm) and shape as an event's fields.  Raises InputError or OutOfReach."""
    if shape not in get_args(Shape):
        raise InputError(f"The shape {shape!r} is not known", expected="one of: " + ", ".join(get_args(Shape)))
    if width is None:
        return {"width": None, "shape": shape}
    number = finite_number("The mark's width", width, "mm", "1.8")
    if not 0 < number <= WIDEST:
        raise OutOfReach(
            f"A mark {number:g} mm wide cannot be", expected=f"more than 0, at most {WIDEST:g} mm", example="1.8"
        )
    return {"width": number, "shape": shape}
