"""Every sign in plain ASCII, for terminals that know no more and for people who want it so: one table for all."""

import unicodedata

from coach.shown import SPELLED

_SIGNS = str.maketrans({
    "−": "-", "–": "-", "·": ".", "…": ".", "×": "x", "°": "d", "±": "~", "✓": "+", "⚠": "!", "²": "2", "³": "3",
    "▲": "^", "▶": ">", "◀": "<", "▼": "v", "→": ">", "←": "<", "↑": "^", "↓": "v", "○": "o", "●": "*", "•": "*",
    "′": "'", "″": '"', "“": '"', "”": '"', "‘": "'", "’": "'", "≤": "<", "≥": ">", "\N{NO-BREAK SPACE}": " ",
    "↻": ">", "↺": "<", "█": "#", "▀": "#", "▄": "#", "▌": "#", "▐": "#", "░": ":", "▒": "%", "▓": "#",
})  # fmt: skip


def to_ascii(text: str) -> str:
    """The text in plain ASCII, as near as can be; fractions and degrees are written out."""
    for sign, plain in (SPELLED | {"°C": "C", "°": " deg"}).items():
        text = text.replace(sign, plain)
    return in_place(text)


def in_place(text: str) -> str:
    """The text in plain ASCII with every sign where it stood and as wide, for what is laid out already.

    A degree is a d: an o behind a number would be read as its last digit.
    """
    return text if text.isascii() else "".join(map(_plain, text.replace("°C", " C").translate(_SIGNS)))


def _columns(sign: str) -> int:
    """How many columns of a terminal one sign takes."""
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


def _plain(sign: str) -> str:
    if sign.isascii():
        return sign
    name, width = unicodedata.name(sign, ""), _columns(sign)
    if name.startswith("BOX DRAWINGS"):
        ways = {way for way in ("HORIZONTAL", "VERTICAL") if way in name}
        straight = not any(way in name for way in ("LEFT", "RIGHT", "UP", "DOWN", "DIAGONAL"))
        return {"HORIZONTAL": "-", "VERTICAL": "|"}[ways.pop()] if straight and len(ways) == 1 else "+"
    if "BLOCK" in name:
        return " " * width
    letter = unicodedata.normalize("NFKD", sign)[0]
    return letter if letter.isascii() and width == 1 else "?" * width
