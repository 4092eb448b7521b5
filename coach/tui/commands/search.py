"""Which commands fit some typed words."""

from collections.abc import Iterable
from typing import Any

from coach.tui.commands.command import Command, Commands


def possible(commands: Commands, screen: Any) -> Commands:
    """Those that do something on their screen now, in its order; the list itself is none of them."""
    return tuple(command for command in commands if command.name != "commands" and command.possible(screen))


def fitting(commands: Iterable[Command[Any]], typed: str) -> Commands:
    """Those whose label or sentence has every typed word: the better the label fits, the earlier."""
    words = typed.casefold().split()
    ranked = [(_rank(command, words), command) for command in commands]
    found = sorted((each for each in ranked if each[0] is not None), key=lambda each: each[0] or 0)
    return tuple(command for _, command in found)


def _rank(command: Command[Any], words: list[str]) -> int | None:
    """0 where the label begins so, 1 where it has all words, 2 where they are said of it; None: not meant."""
    label, about = command.label.casefold(), command.about.casefold()
    if all(word in label for word in words):
        return 0 if label.startswith(" ".join(words)) else 1
    return 2 if all(word in label or word in about for word in words) else None
