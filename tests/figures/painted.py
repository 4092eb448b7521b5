"""Rows of styled characters as pixels: blocks are drawn edge to edge as terminals draw them, letters with a font."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from PIL import Image, ImageDraw, ImageFont
from rich.color import ColorType
from rich.segment import Segment
from rich.style import Style
from rich.terminal_theme import DEFAULT_TERMINAL_THEME, MONOKAI, TerminalTheme

CELL = (8, 16)
"""Width and height of a character, pixels."""
FONTS = (
    "/usr/share/fonts/truetype/dejavu/DejaVuSansMono{}.ttf",
    "/usr/share/fonts/TTF/DejaVuSansMono{}.ttf",
    "/usr/share/fonts/dejavu-sans-mono-fonts/DejaVuSansMono{}.ttf",
)
"""Where DejaVu Sans Mono is usually found; "-Bold" goes between."""
RGB = tuple[int, int, int]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Terminal:
    """The colours that a terminal brings itself."""

    theme: TerminalTheme
    fore: RGB
    back: RGB


DARK_TERMINAL = Terminal(MONOKAI, (217, 217, 217), (12, 12, 12))
LIGHT_TERMINAL = Terminal(DEFAULT_TERMINAL_THEME, (20, 20, 20), (255, 255, 255))

QUADRANTS = dict(zip("▘▝▖▗▚▞▛▜▙▟▀▄▌▐█", (1, 2, 4, 8, 9, 6, 7, 11, 13, 14, 3, 12, 5, 10, 15), strict=True))
"""Bits: upper left 1, upper right 2, lower left 4, lower right 8."""
SHADES = {"░": 0.25, "▒": 0.5, "▓": 0.75}


@lru_cache(4)
def font(*, bold: bool) -> Any:
    """The letters; Pillow's own where DejaVu Sans Mono is not installed."""
    for place in FONTS:
        if Path(path := place.format("-Bold" if bold else "")).exists():
            return ImageFont.truetype(path, 13)
    return ImageFont.load_default(13)


def blocks(sign: str) -> list[Box] | None:
    """The parts of its cell that a block sign fills, as shares; None for any other sign."""
    if sign in QUADRANTS:
        return [(c / 2, r / 2, (c + 1) / 2, (r + 1) / 2) for r in (0, 1) for c in (0, 1)
                if QUADRANTS[sign] >> (2 * r + c) & 1]  # fmt: skip
    code = ord(sign)
    if 0x2581 <= code <= 0x2587:
        return [(0, 1 - (code - 0x2580) / 8, 1, 1)]
    if 0x2800 <= code <= 0x28FF:  # braille: a dot takes half of its part of the cell either way
        bits = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
        return [(c / 2 + 1 / 8, r / 4 + 1 / 16, c / 2 + 3 / 8, r / 4 + 3 / 16) for r in range(4) for c in (0, 1)
                if code & bits[r][c]]  # fmt: skip
    if 0x1FB00 <= code <= 0x1FB3B:  # sextants: the patterns 1 to 62 without the two half blocks, in order
        bits = next(b for b in range(1, 63) if b not in (21, 42) and b - (b > 21) - (b > 42) == code - 0x1FB00 + 1)
        return [(c / 2, r / 3, (c + 1) / 2, (r + 1) / 3) for r in range(3) for c in (0, 1) if bits >> (2 * r + c) & 1]
    return None


def _rgb(style: Style, terminal: Terminal) -> tuple[RGB, RGB]:
    def known(colour: Any, default: RGB) -> RGB:
        if colour is None or colour.type is ColorType.DEFAULT:
            return default
        return tuple(colour.get_truecolor(terminal.theme))  # type: ignore[return-value]

    fore, back = known(style.color, terminal.fore), known(style.bgcolor, terminal.back)
    if style.reverse:
        fore, back = back, fore
    if style.dim:
        fore = tuple((f + b) // 2 for f, b in zip(fore, back, strict=True))  # type: ignore[assignment]
    return fore, back


def painted(rows: Sequence[Iterable[Segment]], columns: int, terminal: Terminal = DARK_TERMINAL) -> Image.Image:
    """The rows as a picture."""
    wide, high = CELL
    image = Image.new("RGB", (columns * wide, len(rows) * high), terminal.back)
    draw = ImageDraw.Draw(image)
    for row, segments in enumerate(rows):
        column = 0
        for segment in segments:
            style = segment.style or Style()
            fore, back = _rgb(style, terminal)
            for sign in segment.text:
                _sign(draw, (column * wide, row * high), sign, (fore, back), bold=bool(style.bold))
                column += 1
            if style.underline:
                end = (row + 1) * high - 2
                draw.line(((column - len(segment.text)) * wide, end, column * wide, end), fill=fore)
    return image


def _sign(draw: Any, at: tuple[int, int], sign: str, colours: tuple[RGB, RGB], *, bold: bool) -> None:
    (x, y), (wide, high), (fore, back) = at, CELL, colours
    draw.rectangle((x, y, x + wide - 1, y + high - 1), fill=back)
    if sign in SHADES:
        share = SHADES[sign]
        mixed = tuple(round(b + share * (f - b)) for f, b in zip(fore, back, strict=True))
        draw.rectangle((x, y, x + wide - 1, y + high - 1), fill=mixed)
    elif (filled := blocks(sign)) is not None:
        for x0, y0, x1, y1 in filled:
            box = (x + x0 * wide, y + round(y0 * high), x + x1 * wide - 1, y + round(y1 * high) - 1)
            draw.rectangle(box, fill=fore)
    elif sign != " ":
        draw.text((x, y), sign, fill=fore, font=font(bold=bold))
