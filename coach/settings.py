"""How the person likes the full-screen program: what `settings.toml` in the data folder keeps.

A file that is broken, a value that cannot be used or a key that is not known never stops the program: the value's
default stands in, and one sentence says so.  Writing changes only the values that were set.  Read with nothing but
the standard library, because it comes before the first picture.
"""

import contextlib
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Literal

from coach.errors import CoachError, InputError, Unreadable
from coach.shown import TurnsIn, Unit
from coach.toml_text import brief, read_toml

FILE = "settings.toml"
OLD_FILE = "screen.toml"
"""Where the colours alone were kept before; read where there is no `settings.toml` yet."""

LOOKS = {
    "coach-dark": "dark",
    "coach-light": "light",
    "coach-contrast": "high contrast, light",
    "ansi-dark": "the terminal's own colours, dark",
    "ansi-light": "the terminal's own colours, light",
}
"""Sets of colours to their names in words, in the order in which one follows the other."""
Signs = Literal["auto", "unicode", "ascii"]
SIGNS: tuple[Signs, ...] = ("auto", "unicode", "ascii")
UNITS: tuple[Unit, ...] = ("mm", "in")
TURNS_IN: tuple[TurnsIn, ...] = ("minutes", "fractions")
UNIT_NAMES: dict[str, Unit] = {"mm": "mm", "inch": "in", "in": "in"}
"""As the unit may stand in the file."""
COARSEST_STEP = 20.0
"""mm; further than any tape reaches."""
NARROWEST, WIDEST = 1.0, 3.0
"""A cell is at least as high as wide, and no terminal's is higher than this."""


@dataclass(frozen=True)
class Settings:
    """All settings, each with its default."""

    look: str = "coach-dark"
    unit: Unit = "mm"
    """How lengths are said, and what a typed length without a unit means."""
    turns_in: TurnsIn = "minutes"
    """What is said first of a screw turn: ticks of a clock's face ("minutes" in the file), or a fraction."""
    steps: tuple[float, float, float] = (0.1, 0.5, 2.0)
    """How far one key press moves the crosshair: fine, middle, coarse, mm."""
    signs: Signs = "auto"
    aspect: float | None = None
    """A cell's height by its width; None: the terminal is asked."""
    hints: bool = True
    seen: tuple[str, ...] = ()
    """Hints that were shown already, by key."""
    keys: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Keys of the person's own: command name to more keys for it."""


@dataclass(frozen=True)
class Loaded:
    """The settings of a data folder, and what could not be used, one sentence each."""

    settings: Settings
    problems: tuple[str, ...] = ()


def load(folder: Path) -> Loaded:
    """The settings kept in that data folder; never raises."""
    path, old = folder / FILE, folder / OLD_FILE
    try:
        if not path.exists():
            look = read_toml(old).get("look") if old.exists() else None
            return Loaded(Settings(look=look if isinstance(look, str) and look in LOOKS else Settings.look))
        table = read_toml(path)
    except Unreadable as error:
        where = f"{error.path}{'' if error.line is None else f', line {error.line}'}"
        return Loaded(Settings(), (f"{where}: it cannot be read ({error.reason}); the usual settings stand in.",))
    except OSError as error:
        return Loaded(Settings(), (f"{path}: it cannot be read ({error.strerror}); the usual settings stand in.",))
    return _settings(table, path)


def save(folder: Path, **changes: Any) -> None:
    """Keep these settings, named as in `Settings`; what else stands in the file stays.  Raises Unwritable.

    A file that cannot be read is kept beside the new one, with `.unread` behind its name.
    """
    from coach.files import locked, sweep, write_toml

    path = folder / FILE
    with locked(path):
        sweep(folder)
        table = _to_be_changed(path)
        for name, value in changes.items():
            key, write = KEPT[name]
            table[key] = write(value)
        write_toml(path, table)


def _to_be_changed(path: Path) -> dict[str, Any]:
    """What stands in the file; what cannot be read is moved out of the way."""
    if not path.exists():
        look = load(path.parent).settings.look
        return {} if look == Settings.look else {"look": look}
    try:
        return read_toml(path)
    except Unreadable:
        with contextlib.suppress(OSError):
            os.replace(path, path.with_name(f"{FILE}.unread"))
        return {}


def checked_steps(steps: Any) -> tuple[float, float, float]:
    """Three steps of the crosshair in mm.  Raises InputError."""
    fine = isinstance(steps, list | tuple) and len(steps) == 3 and all(_is_number(step) for step in steps)
    if not fine or not 0 < steps[0] < steps[1] < steps[2] <= COARSEST_STEP:
        raise InputError(
            "These are no three steps",
            expected=f"three lengths above nothing, each longer than the one before, none above {COARSEST_STEP:g} mm",
            example="0.1 0.5 2",
        )
    return float(steps[0]), float(steps[1]), float(steps[2])


def _settings(table: dict[str, Any], path: Path) -> Loaded:
    settings, problems = Settings(), []
    readers = {key: (name, _READ[name]) for name, (key, _) in KEPT.items()}
    for key, value in table.items():
        if key not in readers:
            known = ", ".join(readers)
            problems.append(
                f"{path}: the key '{brief(key)}' is not known here and was left alone; known are {known}."
            )
            continue
        name, read = readers[key]
        try:
            settings = replace(settings, **{name: read(value)})
        except CoachError as error:
            problems.append(f"{path}: '{key}' cannot be used, so the usual value stands in. {error}")
    return Loaded(settings, tuple(problems))


# -- one value each: from the file, checked ----------------------------------------------------


def _one_of(names: Mapping[str, Any]) -> Callable[[Any], Any]:
    def read(value: Any) -> Any:
        if not isinstance(value, str) or value not in names:
            raise InputError(
                f"It is {brief(repr(value))}", expected="one of " + ", ".join(f'"{name}"' for name in names)
            )
        return names[value]

    return read


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < float("inf")


def _aspect(value: Any) -> float | None:
    if value == "auto":
        return None
    if not _is_number(value) or not NARROWEST <= value <= WIDEST:
        raise InputError(
            f"It is {brief(repr(value))}", expected=f'"auto", or a number from {NARROWEST:g} to {WIDEST:g}'
        )
    return float(value)


def _switch(value: Any) -> bool:
    if not isinstance(value, bool):
        raise InputError(f"It is {brief(repr(value))}", expected="true or false")
    return value


def _names(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list) or not all(isinstance(name, str) for name in value):
        raise InputError(f"It is {brief(repr(value))}", expected="a list of names", example='["z", "f12"]')
    return tuple(value)


def _own_keys(value: Any) -> dict[str, tuple[str, ...]]:
    if not isinstance(value, dict):
        raise InputError(f"It is {brief(repr(value))}", expected="a table of commands", example='undo = ["z"]')
    return {command: _names(keys) for command, keys in value.items()}


_READ: dict[str, Callable[[Any], Any]] = {
    "look": _one_of({name: name for name in LOOKS}),
    "unit": _one_of(UNIT_NAMES),
    "turns_in": _one_of({name: name for name in TURNS_IN}),
    "steps": checked_steps,
    "signs": _one_of({name: name for name in SIGNS}),
    "aspect": _aspect,
    "hints": _switch,
    "seen": _names,
    "keys": _own_keys,
}

KEPT: dict[str, tuple[str, Callable[[Any], Any]]] = {
    "look": ("look", str),
    "unit": ("unit", lambda unit: "inch" if unit == "in" else "mm"),
    "turns_in": ("turns", str),
    "steps": ("crosshair_steps", list),
    "signs": ("signs", str),
    "aspect": ("cell_aspect", lambda aspect: "auto" if aspect is None else aspect),
    "hints": ("hints", bool),
    "seen": ("hints_seen", list),
    "keys": ("keys", lambda keys: {name: list(own) for name, own in keys.items()}),
}
"""Each setting's key in the file, and how its value is written there."""
