"""Lines as thin as a pen's: a stroke where one runs through a cell's middle, else dots of braille along it.

A cell has eight parts, two side by side and four one below the other.  A pen's line leaves the more ink in a part the
nearer it comes to its middle: `FULL` where it runs through it, none from so many column widths on.  Strokes and dots
are weighed by how much ink they leave where the line leaves another amount.
"""

import numpy as np
from numpy.typing import NDArray

from coach.pictures.cells import Chars
from coach.pictures.grid import Array

ACROSS, DOWN = 2, 4
"""Parts of a cell; each has one dot of braille."""
FULL = 0.5
"""The ink of a dot, and of a line through a part's middle; also the distance, column widths, where it ends."""
FIRST = 0x2800
DOTS = np.array([[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]])
"""The bit of each dot in the sign's number (the Unicode Standard, Braille Patterns)."""


def ink(distance: Array) -> Array:
    """What a pen's line leaves in parts whose middles lie that far from it, column widths."""
    return np.asarray(np.clip(FULL - np.abs(distance), 0.0, None))


def strokes_or_dots(distance: Array, columns: int, rows: int, aspect: float) -> tuple[NDArray[np.bool_], Chars]:
    """Where a line shows, and the sign for each cell: of ─, │ and the patterns of braille the one that errs least.

    `distance` has the line's distance from the middle of every part, rows · DOWN × columns · ACROSS, column widths.
    """
    cell = ink(distance).reshape(rows, DOWN, columns, ACROSS).transpose(1, 3, 0, 2)
    missed, dotted = cell**2, (cell - FULL) ** 2
    dots = dotted < missed
    down = (np.arange(DOWN) - (DOWN - 1) / 2) * aspect / DOWN
    across = (np.arange(ACROSS) - (ACROSS - 1) / 2) / ACROSS
    strokes = (ink(down)[:, None, None, None], ink(across)[None, :, None, None])
    errors = [np.where(dots, dotted, missed), *((cell - stroke) ** 2 for stroke in strokes)]
    signs = FIRST + np.tensordot(DOTS, dots, 2)
    codes = np.stack([signs, np.full_like(signs, ord("─")), np.full_like(signs, ord("│"))])
    # of equals the stroke: it is a whole line, where dots only hint at one
    lead = np.array([0.0, 1e-6, 1e-6])[:, None, None]
    best = np.argmin(np.stack([error.sum(axis=(0, 1)) for error in errors]) - lead, axis=0)
    chosen = np.take_along_axis(codes, best[None], axis=0)[0]
    return chosen != FIRST, chosen.astype(np.uint32).view("<U1").reshape(rows, columns)
