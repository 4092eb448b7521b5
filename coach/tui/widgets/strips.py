"""From a raster's cells to the lines that Textual shows."""

from functools import lru_cache
from itertools import pairwise

import numpy as np
from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip

from coach.pictures.cells import ANSI, BOLD, DEFAULT, Cells


@lru_cache(256)
def _colour(code: int) -> Color:
    if code == DEFAULT:
        return Color.default()
    if code >= ANSI:
        return Color.from_ansi(code - ANSI)
    return Color.from_rgb(code >> 16, code >> 8 & 255, code & 255)


@lru_cache(4096)
def _style(front: int, back: int, bits: int, base: Style) -> Style:
    return base + Style(
        color=_colour(front) if front != DEFAULT else None,
        bgcolor=_colour(back) if back != DEFAULT else None,
        bold=bool(bits & BOLD),
    )


def to_strips(cells: Cells, base: Style) -> list[Strip]:
    """One strip per row; `base` gives the colours where the picture has none of its own."""
    rows, columns = cells.chars.shape
    strips = []
    for row in range(rows):
        front, back, bits = cells.front[row], cells.back[row], cells.bits[row]
        change = (np.diff(front) != 0) | (np.diff(back) != 0) | (np.diff(bits) != 0)
        starts = [0, *(np.flatnonzero(change) + 1).tolist(), columns]
        text = "".join(cells.chars[row])
        segments = [
            Segment(text[a:b], _style(int(front[a]), int(back[a]), int(bits[a]), base)) for a, b in pairwise(starts)
        ]
        strips.append(Strip(segments, columns))
    return strips
