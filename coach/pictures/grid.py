"""The samples that a picture is drawn on, and a shape's distance at those of them that lie near it."""

from dataclasses import dataclass, replace
from typing import Any, Self

import numpy as np
from numpy.typing import NDArray

from coach.pictures.figures import Cut, Figure, Grown, Union

Array = NDArray[np.floating[Any]]

FAR = 1e6
"""A distance that is outside of everything."""
AROUND = 3.0
"""Column widths around a shape in which its distance is still told: more than anything here grows by."""


def _centres(first: int, end: int) -> Array:
    """The middles of samples of width 1."""
    return np.arange(first, end, dtype=np.float32) + np.float32(0.5)


@dataclass(frozen=True)
class Grid:
    """The centres of all samples, `across` × `down` of them in every cell, or of a window of them."""

    x: Array
    y: Array
    across: int = 1
    down: int = 2
    aspect: float = 2.0
    row: int = 0
    """Where a window begins in the whole, in samples."""
    column: int = 0
    whole: tuple[int, int] = (0, 0)
    """Rows and columns of all samples."""

    @classmethod
    def of(cls, columns: int, rows: int, aspect: float, across: int = 1, down: int = 2) -> "Grid":
        """For so many cells; `aspect` is a cell's height by its width."""
        shape = (down * rows, across * columns)
        x = np.broadcast_to(_centres(0, shape[1]) / across, shape)
        y = np.broadcast_to((_centres(0, shape[0]) * (aspect / down))[:, None], shape)
        return cls(x, y, across, down, aspect, whole=shape)

    @property
    def step(self) -> float:
        """From one sample to the next below, column widths."""
        return self.aspect / self.down

    def near(self, x0: float, y0: float, x1: float, y1: float) -> "Grid":
        """The window of samples around that box, with `AROUND` to all sides; at least one sample."""
        high, wide = self.whole

        def span(low: float, high: float, per: float, most: int) -> tuple[int, int]:
            first = min(max(int((low - AROUND) * per), 0), most - 1)
            return first, min(max(int((high + AROUND) * per) + 2, first + 1), most)

        left, right = span(x0, x1, self.across, wide)
        top, bottom = span(y0, y1, 1 / self.step, high)
        return self.window(top, left, bottom, right)

    def window(self, top: int, left: int, bottom: int, right: int) -> "Grid":
        """That window of the whole; this grid must hold it."""
        rows = slice(top - self.row, bottom - self.row)
        columns = slice(left - self.column, right - self.column)
        return replace(self, x=self.x[rows, columns], y=self.y[rows, columns], row=top, column=left)

    @property
    def ends(self) -> tuple[int, int, int, int]:
        """Top, left, bottom and right in the whole."""
        return self.row, self.column, self.row + self.x.shape[0], self.column + self.x.shape[1]

    @property
    def place(self) -> tuple[slice, slice]:
        """Where a window lies in the whole."""
        top, left, bottom, right = self.ends
        return slice(top, bottom), slice(left, right)


@dataclass(frozen=True)
class Field:
    """A shape: signed distance at every sample of a window, and the direction of the run there if it has one.

    What lies outside of the window is far outside of the shape.
    """

    part: Array
    grid: Grid
    figure: Figure
    """What the samples were taken of."""
    angle: Array | float | None = None

    @property
    def d(self) -> Array:
        """The distance at every sample of the whole."""
        return self._spread(self.part, FAR)

    def angles(self) -> Array | None:
        """The direction at every sample of the whole."""
        if self.angle is None:
            return None
        return self._spread(np.broadcast_to(self.angle, self.part.shape), 0.0)

    def _spread(self, part: Array, beyond: float) -> Array:
        everywhere = np.full(self.grid.whole, beyond, dtype=np.float32)
        everywhere[self.grid.place] = part
        return everywhere

    def __or__(self, other: "Field") -> "Field":
        """Both shapes together; each sample takes its direction from the nearer one."""
        here, there = self.grid.ends, other.grid.ends
        ends = (*map(min, here[:2], there[:2]), *map(max, here[2:], there[2:]))
        one, two = self.widened(*ends), other.widened(*ends)
        one = replace(one, figure=Union((self.figure, other.figure)))
        if one.angle is None or two.angle is None:
            return replace(one, part=np.minimum(one.part, two.part), angle=None)
        angle = np.where(one.part <= two.part, one.angle, two.angle)
        return replace(one, part=np.minimum(one.part, two.part), angle=angle)

    def widened(self, top: int, left: int, bottom: int, right: int) -> "Field":
        """The same in a window that holds this one."""
        rows, columns = _centres(top, bottom), _centres(left, right)
        shape = (len(rows), len(columns))
        grid = replace(
            self.grid,
            x=np.broadcast_to(columns / self.grid.across, shape),
            y=np.broadcast_to((rows * self.grid.step)[:, None], shape),
            row=top,
            column=left,
        )
        at = (
            slice(self.grid.row - top, self.grid.ends[2] - top),
            slice(self.grid.column - left, self.grid.ends[3] - left),
        )
        part = np.full(shape, FAR, dtype=np.float32)
        part[at] = self.part
        angle: Array | float | None = self.angle
        if isinstance(angle, np.ndarray):
            angle = np.zeros(shape, dtype=np.float32)
            angle[at] = self.angle
        return Field(part, grid, self.figure, angle)

    def __and__(self, other: "Field") -> "Field":
        """Only where both are; the direction stays that of the first."""
        figure = Cut(self.figure, other.figure, inside=True)
        return replace(self, part=np.maximum(self.part, other.within(self.grid)), figure=figure)

    def without(self, other: "Field") -> "Field":
        """The first shape with the other cut out of it."""
        figure = Cut(self.figure, other.figure)
        return replace(self, part=np.maximum(self.part, -other.within(self.grid)), figure=figure)

    def within(self, grid: Grid) -> Array:
        """The distance at the samples of that window."""
        if grid.ends == self.grid.ends:
            return self.part
        return self.d[grid.place]

    def grown(self, by: float) -> Self:
        """The shape, larger by that much all around."""
        return replace(self, part=self.part - by, figure=Grown(self.figure, by))
