"""Signs as they may be shown: what would command a terminal made visible, and every sign in plain ASCII.

Names, notes and files are written by others.  Whatever of them is shown goes through `visible`: in the shell and in
plain lines where a line is written (`coach.cli.out`), on the full screen where a line is drawn (`coach.tui.signs`).
"""

import re
import unicodedata

from coach.shown import SPELLED

_SIGNS = str.maketrans({
    "−": "-", "–": "-", "·": ".", "…": ".", "×": "x", "°": "d", "±": "~", "✓": "+", "⚠": "!", "²": "2", "³": "3",
    "▲": "^", "▶": ">", "◀": "<", "▼": "v", "→": ">", "←": "<", "↑": "^", "↓": "v", "○": "o", "●": "*", "•": "*",
    "′": "'", "″": '"', "“": '"', "”": '"', "‘": "'", "’": "'", "≤": "<", "≥": ">", "\N{NO-BREAK SPACE}": " ",
    "↻": ">", "↺": "<", "█": "#", "▀": "#", "▄": "#", "▌": "#", "▐": "#", "░": ":", "▒": "%", "▓": "#",
})  # fmt: skip


UNKNOWN = "\N{REPLACEMENT CHARACTER}"
_COMMANDS = {number: chr(0x2400 + number) for number in range(0x20)} | {0x7F: "\N{SYMBOL FOR DELETE}", ord("\t"): " "}
"""The control characters that have a picture of their own (Unicode's block "Control Pictures"); a tab is a gap."""
_HIDDEN = re.compile(
    r"[\x00-\x09\x0b-\x1f\x7f-\x9f"  # controls (general category Cc) but the line feed
    r"\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"  # the property Bidi_Control: they turn the order of what follows
    r"\u2028\u2029\ud800-\udfff]"  # line and paragraph separators, halves of characters
)
"""As the Unicode Character Database lists them: PropList.txt, UnicodeData.txt (tests/test_signs.py compares)."""


def visible(text: str) -> str:
    """The text as it may be shown: every control, bidirectional and broken character a visible sign.

    Only line feeds stay: whoever shows several lines parts them so.
    """
    return text if text.isprintable() else _HIDDEN.sub(lambda found: _COMMANDS.get(ord(found[0]), UNKNOWN), text)


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
