"""What a key means: the same on every screen, so that a hand that learned it once is right everywhere.

A test collects the keys of all screens and boxes and holds each to one of these.
"""

from typing import Literal

Meaning = Literal[
    "help",
    "go ahead",
    "list",
    "back",
    "one back",
    "face",
    "find",
    "search",
    "settings",
    "unit",
    "guess",
    "next field",
    "field before",
    "page before",
    "next page",
    "glance",
    "note",
    "look",
    "detail",
    "finer",
    "coarser",
    "hours",
    "parts",
    "share",
    "take up",
    "bumped",
    "report",
]

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
