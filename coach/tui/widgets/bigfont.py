"""Our own block letters, five pixels high, and how a text is set in them.

Each glyph is drawn once, as five rows of pixels.  Large, a pixel is two columns wide and one row high,
with its corners smoothed in half blocks; small, it is one column and half a row.  Without Unicode a
pixel is "##" or "#".  A text that has a character without a glyph, or no room, is set in plain letters.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, partial
from typing import Literal

from coach.shown import SPELLED

Size = Literal["large", "small", "plain"]
SIZES: tuple[Size, ...] = ("large", "small")
Pixels = tuple[str, ...]
"""Rows of "#" and "."."""

_DRAWN = """
A .#. #.# ### #.# #.#|B ##. #.# ##. #.# ##.|C .## #.. #.. #.. .##|D ##. #.# #.# #.# ##.|E ### #.. ##. #.. ###
F ### #.. ##. #.. #..|G .### #... #.## #..# .###|H #.# #.# ### #.# #.#|I # # # # #|J ..# ..# ..# #.# .#.
K #..# #.#. ##.. #.#. #..#|L #.. #.. #.. #.. ###|M #...# ##.## #.#.# #...# #...#|N #..# ##.# #.## #..# #..#
O .##. #..# #..# #..# .##.|P ##. #.# ##. #.. #..|Q .##. #..# #..# #.## .###|R ##. #.# ##. #.# #.#
S .## #.. .#. ..# ##.|T ### .#. .#. .#. .#.|U #.# #.# #.# #.# ###|V #...# #...# .#.#. .#.#. ..#..
W #...# #.#.# #.#.# #.#.# .#.#.|X #...# .#.#. ..#.. .#.#. #...#|Y #.# #.# .#. .#. .#.|Z ### ..# .#. #.. ###
0 ### #.# #.# #.# ###|1 .#. ##. .#. .#. ###|2 ### ..# ### #.. ###|3 ### ..# .## ..# ###|4 #.# #.# ### ..# ..#
5 ### #.. ### ..# ###|6 ### #.. ### #.# ###|7 ### ..# ..# .#. .#.|8 ### #.# ### #.# ###|9 ### #.# ### ..# ###
+ ... .#. ### .#. ...|− ... ... ### ... ...|- ... ... ### ... ...|. . . . . #|, .. .. .. .# #.|: . # . # .
/ ..# ..# .#. #.. #..|° ### #.# ### ... ...|% #.# ..# .#. #.. #.#|= ... ### ... ### ...|× ... #.# .#. #.# ...
± .#. ### .#. ... ###|! # # # . #|? ### ..# .#. ... .#.|( .# #. #. #. .#|) #. .# .# .# #.|' # # . . .|· . . # . .
→ ..#.. ...#. ##### ...#. ..#..|; . # . # #|< ..# .#. #.. .#. ..#|> #.. .#. ..# .#. #..
m ..... ##.#. #.#.# #.#.# #.#.#|↻ .##.# #..## #.### #.... .###.|↺ #.##. ##..# ###.# ....# .###.
"""

GLYPHS: dict[str, Pixels] = {
    entry[0]: tuple(entry[2:].split()) for line in _DRAWN.split("\n") for entry in line.split("|") if entry
} | {" ": ("..",) * 5}
"""Character to its five rows.  Capitals stand for small letters too, except the m of a unit."""

_SHARP = tuple(GLYPHS[sign] for sign in "+±1")
"""Signs that smoothing would make into a lump."""

_WAYS = ("↻ clockwise", "↺ counterclockwise")
"""The shorter and the longer direction of a turn."""
_UNIT = re.compile(r"\bmm\b")
"""The one small m; elsewhere a letter is a capital."""
WITHOUT_SIGNS = {"↻ ": "", "↺ ": ""}
_NUMBER = re.compile(r"[-+−±]?\d+(?:[.,/:]\d+)*[%°]?")


@dataclass(frozen=True)
class Setting:
    """A text as it was set: the size that was taken, its lines, and the rows to show."""

    size: Size
    lines: tuple[str, ...]
    rows: tuple[str, ...]


def spelled(text: str, *, ascii_only: bool = False) -> str:
    """The text in characters that have glyphs, as far as they do: capitals, fractions written out.

    With "#" alone the sign of a direction is a lump, and the word beside it says the same: it is left out.
    """
    for sign, plain in (SPELLED | (WITHOUT_SIGNS if ascii_only else {})).items():
        text = text.replace(sign, plain)
    kept = {place for unit in _UNIT.finditer(text) for place in range(*unit.span())}
    return "".join(letter if place in kept else letter.upper() for place, letter in enumerate(text))


def set_text(
    text: str, width: int, height: int | None = None, *, ascii_only: bool = False, largest: Size = "large"
) -> Setting:
    """The text in the largest size in which all of its words fit into the width (and the lines into the height).

    Lines break between words only; in plain letters a word that is wider than the space breaks too, but not
    within a number as long as the number itself fits.  Both directions of a turn get the same size: the one that
    the longer of them allows.  `largest`: no larger letters than these.
    """
    width = max(width, 1)
    letters = spelled(text, ascii_only=ascii_only)
    if all(letter in GLYPHS or letter == "\n" for letter in letters) and letters.strip():
        longest = spelled(text.replace(*_WAYS), ascii_only=ascii_only)
        for size in SIZES[SIZES.index(largest) :]:
            needed = _block_height(longest, width, size, ascii_only)
            if needed is None or (height is not None and needed > height):
                continue
            lines = _wrapped(letters, width, partial(text_width, size=size))
            rows = None if lines is None else _block_rows(lines, size, ascii_only)
            if lines is not None and rows is not None and (height is None or len(rows) <= height):
                return Setting(size, lines, rows)
    plain = _plain(letters if ascii_only else text, width)
    return Setting("plain", plain, plain)


def text_width(text: str, size: Size) -> int:
    """Columns that a text takes on one line."""
    if size == "plain" or not text:
        return len(text)
    pixels = sum(len(GLYPHS[letter][0]) for letter in text)
    return (2 * pixels if size == "large" else pixels) + len(text) - 1


_WORDS = re.compile(r"[0-9.,/]+ (?:MIN|MM|IN)\b\S*|[↺↻] \S+|[XY] [+−-]?[0-9]\S*|\S+", re.IGNORECASE)
"""What stays on one line: a word, a number with its unit, a direction with its sign, an axis with its number."""
_SINGLE = re.compile(r"\S+")
"""The same where not even plain letters have room for more than a word."""


def _wrapped(
    text: str, width: int, measure: Callable[[str], int], words: re.Pattern[str] = _WORDS
) -> tuple[str, ...] | None:
    """Greedy lines of whole words, or None when a word is wider than the line."""
    lines = []
    for paragraph in text.split("\n"):
        line = ""
        for word in words.findall(paragraph):
            if measure(word) > width:
                return None
            longer = f"{line} {word}" if line else word
            if line and measure(longer) > width:
                lines.append(line)
                longer = word
            line = longer
        lines.append(line)
    return tuple(lines)


def _block_height(letters: str, width: int, size: Size, ascii_only: bool) -> int | None:
    """Rows that a text takes in block letters; None where a word is wider than the line."""
    lines = _wrapped(letters, width, partial(text_width, size=size))
    return None if lines is None else len(_block_rows(lines, size, ascii_only))


def _plain(text: str, width: int) -> tuple[str, ...]:
    broken = "\n".join(
        " ".join(piece for word in line.split(" ") for piece in _pieces(word, width)) for line in text.split("\n")
    )
    return _wrapped(broken, width, len) or _wrapped(broken, width, len, _SINGLE) or ("",)


def _pieces(word: str, width: int) -> list[str]:
    """A word cut into parts that fit, around its numbers rather than through them."""
    pieces = []
    while len(word) > width:
        cut = width
        for number in _NUMBER.finditer(word):
            if 0 < number.start() < cut < number.end():
                cut = number.start()
        pieces.append(word[:cut])
        word = word[cut:]
    return [*pieces, word]


def _block_rows(lines: tuple[str, ...], size: Size, ascii_only: bool) -> tuple[str, ...]:
    """The rows of all lines, with one empty row between two lines; small ones have half a row below them already."""
    rows: list[str] = []
    for line in lines:
        rows += [""] if rows and (size == "large" or ascii_only) else []
        rows += _line_rows(line, size, ascii_only)
    return tuple(rows)


def _line_rows(line: str, size: Size, ascii_only: bool) -> list[str]:
    glyphs = [_drawn(GLYPHS[letter], size, ascii_only) for letter in line]
    return [" ".join(rows) for rows in zip(*glyphs, strict=True)] if glyphs else [""]


@cache  # a screen is fitted by setting its texts many times over
def _drawn(pixels: Pixels, size: Size, ascii_only: bool) -> tuple[str, ...]:
    """One glyph as rows of characters."""
    if ascii_only:
        wide = 2 if size == "large" else 1
        return tuple("".join(("#" if dot == "#" else " ") * wide for dot in row) for row in pixels)
    if size == "large":
        return _half_blocks(doubled(pixels, smooth=pixels not in _SHARP))
    return _half_blocks((*pixels, "." * len(pixels[0])))


def _half_blocks(pixels: Pixels) -> tuple[str, ...]:
    signs = {"..": " ", "#.": "▀", ".#": "▄", "##": "█"}
    return tuple(
        "".join(signs[upper + lower] for upper, lower in zip(top, bottom, strict=True))
        for top, bottom in zip(pixels[0::2], pixels[1::2], strict=True)
    )


def doubled(pixels: Pixels, *, smooth: bool = True) -> Pixels:
    """Twice as large, with smoothed corners: a quarter of a pixel takes its two neighbours' value where they agree
    with each other and not with the two on the far side.

    A stem down the whole left side keeps its corners: without them B is an 8 and D an O.
    """
    high, wide = len(pixels), len(pixels[0])
    stem = all(row[0] == "#" for row in pixels)

    def at(row: int, column: int) -> str:
        return pixels[row][column] if 0 <= row < high and 0 <= column < wide else "."

    rows: list[str] = []
    for row in range(high):
        for down in (-1, 1):
            line = ""
            for column in range(wide):
                for right in (-1, 1):
                    near, side = at(row + down, column), at(row, column + right)
                    far, other = at(row - down, column), at(row, column - right)
                    at_stem = stem and column == 0 and right == -1
                    cut = smooth and not at_stem and near == side and side != far and near != other
                    line += side if cut else at(row, column)
            rows.append(line)
    return tuple(rows)
