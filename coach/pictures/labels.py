"""Words on a picture: whole or not at all, never on each other, never on what is to be seen."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from coach.pictures.palette import Role
from coach.signs import to_ascii

Anchor = Literal["left", "center", "right"]
Place = tuple[float, float, Anchor]
"""Column, row, and which part of the words stands there."""
Box = tuple[float, float, float, float]
"""From left to right and from top to bottom, in column widths."""
Words = str | tuple[str, ...]
"""A text, or the same in shorter and shorter wordings: the first that fits is taken."""


@dataclass(frozen=True)
class Label:
    """A text that has its place."""

    column: int
    row: int
    text: str
    role: Role
    bold: bool
    anchor: Anchor = "left"
    """Which part of it stands where it was asked to stand."""


def apart(one: Box, other: Box) -> float:
    """How far two boxes lie apart; 0 where they touch."""
    across = max(one[0] - other[1], other[0] - one[1], 0.0)
    return math.hypot(across, max(one[2] - other[3], other[2] - one[3], 0.0))


class Labels:
    """The words of one picture of `columns` × `rows` cells, `aspect` as high as wide."""

    def __init__(self, columns: int, rows: int, aspect: float, *, plain: bool) -> None:
        self.columns, self.rows, self.aspect = columns, rows, aspect
        self.plain = plain
        """Whether nothing but ASCII is shown."""
        self.placed: list[Label] = []
        self._taken = np.zeros((rows, columns), dtype=bool)

    def words(self, text: Words) -> tuple[str, ...]:
        """The wordings as this mode can show them."""
        wordings = (text,) if isinstance(text, str) else text
        return tuple(to_ascii(w) if self.plain else w for w in wordings)

    def keep_free(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """No label that is placed from now on will cover this area (in column widths)."""
        top, bottom = int(y0 // self.aspect), int(np.ceil(y1 / self.aspect))
        left, right = int(x0 // 1), int(np.ceil(x1))
        self._taken[max(top, 0) : max(bottom, 0), max(left, 0) : max(right, 0)] = True

    def label(
        self,
        text: Words,
        places: Iterable[tuple[float, float, Anchor]],
        role: Role = Role.TEXT,
        *,
        bold: bool = False,
        off: NDArray[np.bool_] | None = None,
    ) -> bool:
        """Write whole words at the first of the places (column, row, anchor) where they fit uncut.

        A text is moved sideways into the picture if need be, and stays off those cells as long as there is any other
        place.  Returns False where nothing fits.
        """
        places = tuple(places)
        for avoided in (None,) if off is None else (off, None):
            for wording in self.words(text):
                for column, row, anchor in places:
                    if wording and self._try(wording, column, int(row), anchor, role, bold, avoided):
                        return True
        return False

    def stack(
        self,
        texts: tuple[str, ...],
        places: Iterable[tuple[float, float, Anchor]],
        role: Role = Role.TEXT,
        *,
        bold: bool = False,
    ) -> bool:
        """Write texts that belong together in rows one below the other, all of them or none.

        A place is that of the first; what is said of `label` holds for each of them.
        """
        shown = [wording for text in texts for wording in self.words(text)]
        for column, row, anchor in places:
            free = [self._free(text, column, int(row) + number, anchor) for number, text in enumerate(shown)]
            if all(start is not None for start in free):
                return all(
                    self._try(text, column, int(row) + number, anchor, role, bold)
                    for number, text in enumerate(shown)
                )
        return False

    def start(self, text: str, column: float, anchor: Anchor) -> int:
        """The column where a text begins that is asked for there: moved sideways into the picture if need be.

        Negative where it is wider than the picture.
        """
        share = {"left": 0.0, "center": 0.5, "right": 1.0}[anchor]
        return min(max(round(column - share * len(text)), 0), self.columns - len(text))

    def is_nearest(self, text: str, place: Place, thing: str, things: Mapping[str, Box]) -> bool:
        """Whether none of the other things is as near to words that stand there as the thing that they name."""
        column, row, anchor = place
        start, top = self.start(text, column, anchor), int(row) * self.aspect
        words = (start, start + len(text), top, top + self.aspect)
        away = {name: apart(words, box) for name, box in things.items()}
        return all(away[thing] < far for name, far in away.items() if name != thing)

    def _free(self, text: str, column: float, row: int, anchor: Anchor) -> int | None:
        """The column where that text would begin, or None where it would be cut or touch something."""
        start = self.start(text, column, anchor)
        if start < 0 or not 0 <= row < self.rows:
            return None
        return None if self._taken[row, max(start - 1, 0) : start + len(text) + 1].any() else start

    def _try(
        self,
        text: str,
        column: float,
        row: int,
        anchor: Anchor,
        role: Role,
        bold: bool,
        off: NDArray[np.bool_] | None = None,
    ) -> bool:
        start = self._free(text, column, row, anchor)
        if start is None or (off is not None and off[row, start : start + len(text)].any()):
            return False
        self._taken[row, start : start + len(text)] = True
        self.placed.append(Label(start, row, text, role, bold, anchor))
        return True
