"""Every sign in plain ASCII, for terminals that know no more and for people who want it so: one table for all."""

import unicodedata

from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from coach.shown import SPELLED

_SIGNS = str.maketrans({
    "−": "-", "–": "-", "·": ".", "…": ".", "×": "x", "°": "o", "±": "~", "✓": "+", "⚠": "!", "²": "2", "³": "3",
    "▲": "^", "▶": ">", "◀": "<", "▼": "v", "→": ">", "←": "<", "↑": "^", "↓": "v", "○": "o", "●": "*", "•": "*",
    "′": "'", "″": '"', "“": '"', "”": '"', "‘": "'", "’": "'", "≤": "<", "≥": ">", "\N{NO-BREAK SPACE}": " ",
    "█": "#", "▀": "#", "▄": "#", "▌": "#", "▐": "#", "░": ":", "▒": "%", "▓": "#",
})  # fmt: skip


def to_ascii(text: str) -> str:
    """The text in plain ASCII, as near as can be; fractions are written out."""
    for sign, plain in SPELLED.items():
        text = text.replace(sign, plain)
    return in_place(text)


def in_place(text: str) -> str:
    """The text in plain ASCII with every sign where it stood and as wide, for what is laid out already."""
    return text if text.isascii() else "".join(map(_plain, text.translate(_SIGNS)))


def _plain(sign: str) -> str:
    if sign.isascii():
        return sign
    name, width = unicodedata.name(sign, ""), cell_len(sign)
    if name.startswith("BOX DRAWINGS"):
        ways = {way for way in ("HORIZONTAL", "VERTICAL") if way in name}
        straight = not any(way in name for way in ("LEFT", "RIGHT", "UP", "DOWN", "DIAGONAL"))
        return {"HORIZONTAL": "-", "VERTICAL": "|"}[ways.pop()] if straight and len(ways) == 1 else "+"
    if "BLOCK" in name:
        return " " * width
    letter = unicodedata.normalize("NFKD", sign)[0]
    return letter if letter.isascii() and width == 1 else "?" * width


class PlainSigns(LineFilter):
    """Puts what stands on the screen into plain ASCII, whoever wrote it."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same segments, as wide as before, in ASCII."""
        return [Segment(in_place(text), style, control) for text, style, control in segments]
