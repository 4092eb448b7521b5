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
