"""From a finely sampled picture to cells: per cell the block sign and the two colours that come nearest to it.

Halves and quarters of a cell are drawn by every terminal that knows Unicode; sixths ("sextants", Unicode 13) only by
some, so whoever knows the terminal says which signs there are.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from coach.pictures.cells import Chars, Codes, pack

ALIKE = 3.0
"""Samples that differ no more than so from their mean, 0 to 255, are shown as one colour."""
EQUAL = 1e-5
"""What two signs explain of a cell is equal where it differs by so small a share, whatever the last digits are:
the first of them is taken."""
ACROSS = 2
"""Samples side by side in a cell."""
HALVES = {
    "▀": "11 00",
    "▌": "10",
    "▘": "10 00",
    "▝": "01 00",
    "▖": "00 10",
    "▗": "00 01",
    "▚": "10 01",
}
"""What each fills of a cell, row by row; the opposite of each is the same sign with its colours changed over."""
QUARTERS = {"▂": "00 00 00 11", "▆": "00 11 11 11"}
LEFT_HALF = 0b010101
"""The sextant that has been a sign of its own since long before the others."""


def _sextant(bits: int) -> str:
    """The sign that fills these sixths: bit 0 is the upper left, bit 1 the upper right, and so on down.

    U+1FB00 to U+1FB3B in the order of the bits, without those that were signs already (the Unicode Standard, Symbols
    for Legacy Computing).
    """
    return chr(0x1FB00 + bits - 1 - (bits > LEFT_HALF))


def _sixths() -> dict[str, str]:
    """All of them but those that are the opposite of another: the lower right is always free."""
    some = [bits for bits in range(1, 32) if bits != LEFT_HALF]
    return {_sextant(b): " ".join(f"{b >> row & 1}{b >> row + 1 & 1}" for row in (0, 2, 4)) for b in some}


@dataclass(frozen=True)
class Signs:
    """The signs that a terminal draws, and how many samples a cell has for them: `ACROSS` × `down`."""

    down: int
    drawn: Mapping[str, str]

    @cached_property
    def chars(self) -> Chars:
        """Their characters."""
        return np.array(list(self.drawn))

    @cached_property
    def fills(self) -> NDArray[np.float32]:
        """Which samples of a cell each of them fills, row by row: signs × samples, 1 or 0."""
        return np.array([self._spread(rows.split()) for rows in self.drawn.values()], dtype=np.float32)

    def _spread(self, rows: list[str]) -> list[float]:
        """Raises ValueError where a part of the sign would have no whole number of samples."""
        times, rest = divmod(self.down, len(rows))
        if rest:
            raise ValueError(f"{len(rows)} rows do not share {self.down} samples")
        return [float(bit) for row in rows for _ in range(times) for bit in row]


BLOCKS = Signs(4, HALVES | QUARTERS)
"""Signs that are drawn nearly everywhere."""
SEXTANTS = Signs(6, HALVES | _sixths())
"""For terminals that are known to draw sixths without gaps."""


def cells_of(samples: NDArray[np.float32], columns: int, rows: int, signs: Signs) -> tuple[Chars, Codes, Codes]:
    """Signs, their colours and the colours behind them, of samples (rows · down) × (columns · ACROSS) × 3, 0 to 255.

    A cell's colours are the means of the samples under the sign and beside it.  That is a regression of the samples
    on what the sign fills, and what it explains, Σ ((s · a)² / (a · a)) with a the filling less its mean, is largest
    where the squared error that is left is least.
    """
    size = ACROSS * signs.down
    cell = samples.reshape(rows, signs.down, columns, ACROSS, 3).transpose(1, 3, 4, 0, 2).reshape(size, 3, -1)
    front = cell.mean(axis=0)
    back = front.copy()
    chars = np.full(rows * columns, " ")
    apart = np.maximum(cell.max(axis=0) - front, front - cell.min(axis=0))
    mixed = np.flatnonzero(apart.max(axis=0) > ALIKE)
    if len(mixed):
        share = signs.fills.mean(axis=1)
        centred = signs.fills - share[:, None]
        length = np.sqrt((centred**2).sum(axis=1))
        along = (centred / length[:, None]) @ cell[:, :, mixed].reshape(size, -1)
        along = along.reshape(len(share), 3, -1)
        first = (1 - np.arange(len(share), dtype=np.float32) * EQUAL)[:, None]
        best = ((along**2).sum(axis=1) * first).argmax(axis=0)
        step = along[best, :, np.arange(len(mixed))].T / length[best]
        front[:, mixed] += (1 - share[best]) * step
        back[:, mixed] -= share[best] * step
        chars[mixed] = signs.chars[best]
    shape = (rows, columns)
    return chars.reshape(shape), pack(front.T).reshape(shape), pack(back.T).reshape(shape)
