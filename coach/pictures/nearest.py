"""From a finely sampled picture to cells: per cell the block sign and the two colours that come nearest to it."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from coach.pictures.cells import Chars, Codes, pack

ACROSS, DOWN = 2, 4
"""Samples in a cell."""
SIGNS = {
    "▀": "11 11 00 00",
    "▌": "10 10 10 10",
    "▘": "10 10 00 00",
    "▝": "01 01 00 00",
    "▖": "00 00 10 10",
    "▗": "00 00 01 01",
    "▚": "10 10 01 01",
    "▂": "00 00 00 11",
    "▆": "00 11 11 11",
}
"""Halves, quarters of either kind, and which samples each fills, row by row; what is left of all that a cell can show
is one of these with its colours changed over."""
ALIKE = 3.0
"""Samples that differ no more than so from their mean, 0 to 255, are shown as one colour."""


@lru_cache(1)
def masks() -> NDArray[np.float32]:
    """Which of a cell's samples each sign fills: signs × samples, 1 or 0."""
    drawn = [[float(bit) for bit in fills if bit != " "] for fills in SIGNS.values()]
    return np.array(drawn, dtype=np.float32)


def cells_of(samples: NDArray[np.float32], columns: int, rows: int) -> tuple[Chars, Codes, Codes]:
    """Signs, their colours and the colours behind them, of samples (rows · DOWN) × (columns · ACROSS) × 3.

    The colours of a cell are the means of the samples under the sign and beside it, which is what leaves the least
    squared error: Σ|s − mean|² = Σ|s|² − |Σs|²/n for either part.
    """
    cell = samples.reshape(rows, DOWN, columns, ACROSS, 3).transpose(0, 2, 4, 1, 3)
    cell = cell.reshape(rows * columns, 3, ACROSS * DOWN)
    front = cell.mean(axis=2)
    back = front.copy()
    chars = np.full(rows * columns, " ")
    mixed = np.flatnonzero(np.abs(cell - front[..., None]).max(axis=(1, 2)) > ALIKE)
    if len(mixed):
        part, fills = cell[mixed], masks()
        filled = fills.sum(axis=1)
        under = part @ fills.T  # cells × 3 × signs
        beside = part.sum(axis=2)[..., None] - under
        explained = (under**2).sum(axis=1) / filled + (beside**2).sum(axis=1) / (ACROSS * DOWN - filled)
        best = explained.argmax(axis=1)
        take = best[:, None, None]
        front[mixed] = np.take_along_axis(under, take, axis=2)[..., 0] / filled[best, None]
        back[mixed] = np.take_along_axis(beside, take, axis=2)[..., 0] / (ACROSS * DOWN - filled[best, None])
        chars[mixed] = np.array(list(SIGNS))[best]
    shape = (rows, columns)
    return chars.reshape(shape), pack(front).reshape(shape), pack(back).reshape(shape)
