"""The finished cells of a picture, the codes of their colours."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Codes = NDArray[np.int32]
Chars = NDArray[np.str_]

DEFAULT = -1
"""A colour code: the terminal's own."""
ANSI = 0x1000000
"""Colour codes from here on are the sixteen named colours; below are 0xRRGGBB."""

BOLD = 1
"""The bit of a cell's attributes that makes it strong."""


@dataclass(frozen=True)
class Cells:
    """The finished picture: per cell a character, two colour codes and the attribute bits."""

    chars: Chars
    front: Codes
    back: Codes
    bits: Codes

    def put(self, part: "Cells", column: int, row: int) -> None:
        """Write a smaller picture over this one, its upper left at that cell."""
        rows, columns = part.chars.shape
        place = (slice(row, row + rows), slice(column, column + columns))
        for whole, piece in ((self.chars, part.chars), (self.front, part.front), (self.back, part.back)):
            whole[place] = piece
        self.bits[place] = part.bits

    def lines(self) -> list[str]:
        """The characters alone, one text per row."""
        return ["".join(row) for row in self.chars]


def pack(rgb: NDArray[Any]) -> Codes:
    """Colours 0 to 255 as 0xRRGGBB."""
    whole = np.rint(rgb).astype(np.int32)
    return np.asarray((whole[..., 0] << 16) | (whole[..., 1] << 8) | whole[..., 2], dtype=np.int32)
