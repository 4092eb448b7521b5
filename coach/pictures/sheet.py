"""A raster without pixels: what scenes draw on it is kept as exact figures, in the order in which it was painted."""

from dataclasses import dataclass

import numpy as np

from coach.pictures.figures import Figure, Line
from coach.pictures.grid import Field
from coach.pictures.modes import RasterMode
from coach.pictures.palette import QUIET_FILLS, Role
from coach.pictures.raster import Raster

PEN = 0.15
"""Column widths: how thick a pen's line is."""


@dataclass(frozen=True)
class Painted:
    """A figure in a part's colour, only what of it lies within `clip`."""

    figure: Figure
    role: Role
    opacity: float = 1.0
    clip: Figure | None = None


class Sheet(Raster):
    """As large as so many cells, on which words stand as on a raster."""

    exact = True

    def __init__(self, columns: int, rows: int, aspect: float = 2.0) -> None:
        super().__init__(columns, rows, RasterMode.SMOOTH, aspect=aspect)
        self.painted: list[Painted] = []
        self.parts: list[tuple[int, int, Sheet]] = []
        """Column and row of smaller sheets on this one, in the order in which they were begun."""
        self._fills: list[tuple[Field, Role, float]] = []
        self._above_fills = 0

    def paint(self, field: Field, role: Role, opacity: float = 1.0) -> None:
        """Keep a shape.  Painting Role.GROUND lays down once more what quiet fill is there."""
        clip = self.clip.figure if self.clip is not None else None
        if role is Role.GROUND:
            self.painted += [Painted(field.figure, *ink, clip) for ink in self.under(*_inmost(field))]
            return
        self.painted.append(Painted(field.figure, role, opacity, clip))
        if role in QUIET_FILLS:
            self._fills.append((self._clipped(field), role, opacity))
            if self._above_fills == len(self.painted) - 1:
                self._above_fills += 1

    def hairline(self, x0: float, y0: float, x1: float, y1: float, role: Role) -> None:
        """Keep a pen's line, above the fills that everything stands on and under all else."""
        clip = self.clip.figure if self.clip is not None else None
        self.painted.insert(self._above_fills, Painted(Line(x0, y0, x1, y1, PEN), role, 1.0, clip))

    def pane(self, column: int, row: int, columns: int, rows: int) -> "Sheet":
        """A part of this sheet with an origin of its own."""
        part = Sheet(columns, rows, self.aspect)
        part._taken = self._taken[row : row + rows, column : column + columns]
        self.parts.append((column, row, part))
        return part

    def under(self, row: int, column: int) -> list[tuple[Role, float]]:
        """What the ground is at that sample, the lowest first, and how opaque."""
        there = [(role, opacity) for field, role, opacity in self._fills if field.d[row, column] <= 0]
        return [(Role.GROUND, 1.0), *there[-1:]]

    def below(self, column: float, row: int) -> list[tuple[Role, float]]:
        """The same in the middle of a row, at that column."""
        across, down = self.grid.across, self.grid.down
        x = min(max(int(column * across), 0), self.columns * across - 1)
        return self.under(row * down + down // 2, x)


def _inmost(field: Field) -> tuple[int, int]:
    """The sample that lies deepest inside of a shape: its row and column in the whole."""
    row, column = np.unravel_index(int(np.argmin(field.part)), field.part.shape)
    return field.grid.row + int(row), field.grid.column + int(column)
