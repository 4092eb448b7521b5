"""What can be set: each setting's words, and the value before and after the one it has."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from coach.errors import InputError
from coach.settings import LOOKS, SIGNS, TURNS_IN, UNITS, Settings, checked_steps
from coach.shown import UNIT_WORDS, Unit, amount_typed
from coach.tui.screens.hints import HINTS
from coach.units import parse_length

ASPECTS: tuple[float | None, ...] = (None, *(number / 10 for number in range(15, 27)))
"""Cells from half as high again as wide, to the slimmest that terminals have."""
SIGN_WORDS = {"auto": "as the terminal can", "unicode": "all signs", "ascii": "plain letters (ASCII) only"}

T = TypeVar("T")


@dataclass(frozen=True)
class Row:
    """One setting in the list."""

    key: str
    """As in `Settings`, or what else the row does."""
    label: str
    value: Callable[[Settings], str]
    """How it stands, in words."""
    turned: Callable[[Settings, int], Mapping[str, Any]] | None = None
    """What to change for the next (+1) or the former (−1) value; None: Enter opens something instead."""

    def words(self, settings: Settings) -> str:
        """The row as it is shown."""
        value = self.value(settings)
        return f"{self.label}: {value}" if value else self.label


def _next(values: Sequence[T], now: T, way: int) -> T:
    """The value after or before that one, round and round; from one that is not listed, the first."""
    return values[(values.index(now) + way) % len(values)] if now in values else values[0]


def steps_words(settings: Settings) -> str:
    """The crosshair's steps: "0.1, 0.5, 2 mm"."""
    unit = settings.unit
    return f"{', '.join(amount_typed(step, unit) for step in settings.steps)} {unit}"


def read_steps(typed: Mapping[str, str], unit: Unit) -> tuple[float, float, float]:
    """Three typed steps, in mm; `unit` is that of those without one.  Raises InputError."""
    steps = [round(parse_length(typed[step_key(name)], unit, f"the {name} step").mm, 4) for name in STEP_NAMES]
    if min(steps) <= 0:
        raise InputError("A step is more than nothing", expected="three lengths", example="0.1")
    return checked_steps(steps)


STEP_NAMES = ("fine", "middle", "coarse")


def step_key(name: str) -> str:
    """What the field of a step is called on its screen."""
    return f"{name}-step"


def _hints_words(settings: Settings) -> str:
    shown = len(set(settings.seen) & set(HINTS))
    return f"{'on' if settings.hints else 'off'}; {shown} of {len(HINTS)} were shown"


def _keys_words(settings: Settings) -> str:
    count = sum(len(keys) for keys in settings.keys.values())
    return f"{count} of your own" if count else "the usual ones"


ROWS = (
    Row("look", "Colours", lambda s: LOOKS[s.look], lambda s, way: {"look": _next(list(LOOKS), s.look, way)}),
    Row(
        "unit",
        "Lengths, shown and typed",
        lambda s: {"mm": "millimetres", "in": "inches"}[s.unit],
        lambda s, way: {"unit": _next(UNITS, s.unit, way)},
    ),
    Row(
        "turns_in",
        "Screw turns, said first",
        lambda s: {"minutes": "ticks of a clock's face", "fractions": "fractions of a turn"}[s.turns_in],
        lambda s, way: {"turns_in": _next(TURNS_IN, s.turns_in, way)},
    ),
    Row("steps", "Crosshair's steps", steps_words),
    Row("signs", "Signs", lambda s: SIGN_WORDS[s.signs], lambda s, way: {"signs": _next(SIGNS, s.signs, way)}),
    Row(
        "aspect",
        "A letter's cell, height by width",
        lambda s: "as the terminal says" if s.aspect is None else f"{s.aspect:g}",
        lambda s, way: {"aspect": _next(ASPECTS, s.aspect, way)},
    ),
    Row("hints", "Hints the first time", _hints_words, lambda s, way: {"hints": not s.hints}),
    Row("again", "Show every hint once more", lambda s: ""),
    Row("keys", "Keys", _keys_words),
)

STEPS_LEAD = "How far one key press moves the crosshair, in {unit}: fine, middle, coarse."


def steps_lead(unit: Unit) -> str:
    """What is asked for the steps."""
    return STEPS_LEAD.format(unit=UNIT_WORDS[unit])
