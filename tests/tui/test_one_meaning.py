"""Each key means one thing, whatever screen or box is open: what a hand learned once is right everywhere."""

import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path
from string import ascii_lowercase, punctuation
from typing import Any, get_args

import pytest
from textual.binding import Binding
from textual.dom import DOMNode
from textual.keys import _character_to_key
from textual.screen import Screen

import coach.tui
from coach.tui.commands.meanings import Meaning
from coach.tui.commands.registry import ALL
from coach.tui.screens.finding import FindCommand
from coach.tui.screens.glance import GlanceScreen
from coach.tui.screens.help import HelpScreen

MEANINGS: tuple[tuple[str, Meaning, str], ...] = (
    ("F1", "help", "help"),
    ("F2", "go ahead", "what the screen is for: read back what is measured, change what is highlighted"),
    ("F3", "list", "the list of all that was entered"),
    ("F4", "back", "back to where you came from; nothing is lost"),
    ("F5", "one back", "takes the last entry back"),
    ("F6", "face", "the other face of the tape"),
    ("F7", "find", "all commands, to search in"),
    ("F8", "settings", "the settings"),
    ("F9", "unit", "millimetres or inches"),
    ("F12", "guess", "not known: it is guessed"),
    ("Tab", "next field", "the next field, or question"),
    ("Shift+Tab", "field before", "the field before, or the question"),
    ("PgUp", "page before", "the page before: of a list, of a text, or the way to measure before this one"),
    ("PgDn", "next page", "the next page: of a list, of a text, or the next way to measure"),
)
"""Keys that are no letters as a person reads them, their meaning, and the same in words."""
READ = {"Ins": "insert", "PgUp": "pageup", "PgDn": "pagedown", "Tab": "tab", "Shift+Tab": "shift+tab"}
"""Keys as a person reads them to what Textual calls them, where lower case is not enough."""
NOT_TO_TAKE = {"comma", "full_stop", "z"}
"""Parts of a number, and what the guide gives people for a key of their own."""
EVERYWHERE = {"enter", "space", "up", "down", "left", "right", "home", "end", *"0123456789"}
"""Keys of lists and fields: they take, and move, and are told once for all screens."""
OF_A_BOX: dict[str, Meaning] = {
    "accept": "go ahead",
    "dismiss": "back",
    "never_mind": "back",
    "page(1)": "next page",
    "page(-1)": "page before",
    "app.focus_next": "next field",
    "app.focus_previous": "field before",
}
"""What is bound in boxes, which have no commands."""
LEFT_AS_OPENED: dict[type[Screen[Any]], Meaning] = {HelpScreen: "help", GlanceScreen: "glance", FindCommand: "find"}
"""Boxes that the key that opened them closes too."""


def classes() -> Iterator[type[DOMNode]]:
    """Every screen, box and widget of the full-screen program."""
    for module in pkgutil.walk_packages(coach.tui.__path__, "coach.tui."):
        for found in vars(importlib.import_module(module.name)).values():
            if isinstance(found, type) and issubclass(found, DOMNode) and found.__module__ == module.name:
                yield found


def bound(node: type[DOMNode]) -> Iterator[tuple[str, str]]:
    """Each key of its own bindings, with the action."""
    for binding in vars(node).get("BINDINGS", ()):
        made = binding if isinstance(binding, Binding) else Binding(*binding)
        yield from ((key.strip(), made.action) for key in made.key.split(","))


def of_commands() -> dict[str, set[Meaning]]:
    """Each key of every command to all that it means."""
    found: dict[str, set[Meaning]] = {}
    for commands in ALL:
        for command in commands:
            for key in command.keys:
                found.setdefault(key, set()).add(command.means)
    return found


def test_a_key_of_a_command_means_one_thing() -> None:
    """Letters, signs, function keys, Tab and the paging keys: one meaning each on all screens."""
    taken = of_commands()
    free = sorted({*ascii_lowercase, *map(_character_to_key, punctuation)} - {*taken, *NOT_TO_TAKE})
    twice = {key: means for key, means in taken.items() if len(means) > 1}
    assert not set(taken) & {"z", "Z"}, "Z is left to people's own keys, as the guide has it"
    assert not twice, f"no command has {', '.join(free)}"


def test_what_the_guide_says_of_keys_is_what_they_do() -> None:
    """The table of meanings has every key that is no letter or sign, and every command's key does what it says."""
    told = {READ.get(key, key.lower()): means for key, means, _ in MEANINGS}
    plain = {key: means for key, means in of_commands().items() if len(key) > 1 and key not in EVERYWHERE}
    named = {key: means for key, means in plain.items() if key in READ.values() or key.lstrip("f").isdigit()}
    assert {key: {means} for key, means in told.items()} == {k: m for k, m in named.items() if k != "insert"}
    assert {means for _, means, _ in MEANINGS} <= set(get_args(Meaning))


@pytest.mark.parametrize("node", list(classes()), ids=lambda node: node.__name__)
def test_boxes_and_widgets_use_keys_as_the_commands_do(node: type[DOMNode]) -> None:
    """Whatever is bound outside the commands means the same, or is one of the keys of lists and fields."""
    known = of_commands()
    for key, action in bound(node):
        if action.startswith("command(") or key in EVERYWHERE or key.startswith("ctrl+"):
            continue
        if key in ("full_stop", "comma", "decimal"):
            continue  # parts of a number
        means = OF_A_BOX[action]
        opened = LEFT_AS_OPENED.get(node)  # type: ignore[call-overload]
        assert known.get(key, {means}) <= {means, opened}, key


def test_the_guide_has_the_table_of_meanings() -> None:
    """docs/guide.md lists the same keys with the same words."""
    guide = (Path(__file__).parents[2] / "docs" / "guide.md").read_text(encoding="utf-8")
    assert "| key | everywhere |\n|---|---|\n" + "".join(f"| {k} | {w} |\n" for k, _, w in MEANINGS) in guide
