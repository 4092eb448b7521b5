"""Keys of the person's own: which may be used, what they clash with, and how they are told.

They come on top of a command's own keys, so that what the help and the guide say stays true.
"""

import unicodedata
from collections.abc import Mapping
from typing import Any

from textual.keys import KEY_NAME_REPLACEMENTS, key_to_character

from coach.errors import InputError
from coach.tui.commands.command import Command, Commands

OwnKeys = Mapping[str, tuple[str, ...]]
"""Command name to keys as Textual names them."""

SAFE = frozenset({*(f"f{number}" for number in range(1, 10)), "f12"})
"""Keys without a letter that every terminal passes on."""
TAKEN = frozenset({"space", "plus", "minus", "full_stop", "comma", "slash", "colon", "quotation_mark", "apostrophe"})
"""Keys of numbers and lists, besides the digits."""
TERMINALS = frozenset({"left_square_bracket", "right_square_bracket"})
"""Keys that end up as parts of other keys."""

FORMERLY = {"palette": "commands"}
"""What a command was called in files of before, to its name."""


def commands_named(name: str) -> list[tuple[Command[Any], Commands]]:
    """The commands of that name, each with all the commands of its screen."""
    from coach.tui.commands import registry

    return [(command, screen) for screen in registry.ALL for command in screen if command.name == name]


def names() -> dict[str, str]:
    """Every command's name with its labels, in the order of the screens; commands of one name share their keys."""
    from coach.tui.commands import registry

    found: dict[str, list[str]] = {}
    for screen in registry.ALL:
        for command in screen:
            labels = found.setdefault(command.name, [])
            if command.label not in labels:
                labels.append(command.label)
    return {name: ", ".join(labels) for name, labels in found.items()}


def named(key: str) -> str:
    """A key as Textual names it, from what stands in the file: ";" is "semicolon"."""
    key = key if len(key) == 1 else key.strip().lower()
    if len(key) != 1 or key.isalnum():
        return key
    name = unicodedata.name(key, key).lower().replace("-", "_").replace(" ", "_")
    return KEY_NAME_REPLACEMENTS.get(name, name)


def said(key: str) -> str:
    """A key as a person reads it."""
    return key.upper() if key in SAFE else (key_to_character(key) or key.replace("_", " ")).upper()


def checked(key: str, name: str, own: OwnKeys) -> str:
    """The key, if it may be used for the command of that name.  Raises InputError with the reason."""
    expected = "a letter, F1 to F9, F12, or a sign that no number needs"
    known = commands_named(name)
    if not known:
        raise InputError(f"There is no command {name!r}", expected=", ".join(names()))
    key = named(key)
    letter = len(key) == 1 and key.isalpha()
    sign = len(key) > 1 and "+" not in key and _is_sign(key)
    if key in TAKEN or key.isdigit() or not (letter or sign or key in SAFE):
        raise InputError(f"{said(key)} is needed for numbers and lists, or is no key to rely on", expected=expected)
    if key in TERMINALS:
        raise InputError(f"{said(key)} is not passed on by every terminal", expected=expected)
    for _, screen in known:
        for command in screen:
            if key.lower() in {k.lower() for k in (*command.keys, *own.get(command.name, ()))}:
                raise InputError(f"{said(key)} means {command.label} already", expected="a key that is free")
    return key.lower() if letter else key


def _is_sign(key: str) -> bool:
    return len(said(key)) == 1 and said(key).isascii() and said(key).isprintable()


def usable(own: OwnKeys, file: str) -> tuple[OwnKeys, tuple[str, ...]]:
    """Those of the keys that may be used, and a sentence for each that may not."""
    good: dict[str, tuple[str, ...]] = {}
    problems = []
    for written, keys in own.items():
        name = FORMERLY.get(written, written)
        for key in keys:
            try:
                good[name] = (*good.get(name, ()), checked(key, name, good))
            except InputError as error:
                problems.append(f"{file}: keys.{written}: {error}")
    return good, tuple(problems)


def keymap(own: OwnKeys) -> dict[str, str]:
    """The same as Textual wants it: all keys of each command that has more of them, letters in both cases."""
    found: dict[str, str] = {}
    for name, keys in own.items():
        cases = [case for key in keys for case in dict.fromkeys((key, key.upper() if len(key) == 1 else key))]
        found |= {command.id(): ",".join((*command.keys, *cases)) for command, _ in commands_named(name)}
    return found


def shown(command: Command[Any], own: OwnKeys) -> str:
    """All keys of a command as a person reads them."""
    more = own.get(command.name, ())
    return f"{command.shown_keys}, also {' '.join(said(key) for key in more)}" if more else command.shown_keys
