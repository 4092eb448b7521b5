"""Signed-distance shapes on a grid of pixels: negative inside, positive outside, in column widths.

Every function returns a Field: the distance, and where the shape has a run of its own (a line, a ring)
the direction of that run, so that the glyph modes can choose between - | / and \\.  Coordinates are in
column widths from the top-left corner, y downwards; angles are in radians, 0 to the right and growing
clockwise on the screen, because y points down.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

FAR = 1e6
"""A distance that is outside of everything."""


@dataclass(frozen=True)
class Grid:
    """The centres of all pixels."""

    x: Array
    y: Array

    @classmethod
    def of(cls, columns: int, rows: int, aspect: float) -> "Grid":
        """Two pixels per cell, one above the other; `aspect` is a cell's height by its width."""
        x, y = np.meshgrid(np.arange(columns) + 0.5, (np.arange(2 * rows) + 0.5) * aspect / 2)
        return cls(x, y)


@dataclass(frozen=True)
class Field:
    """A shape: signed distance of every pixel, and the direction of the run at every pixel if it has one."""

    d: Array
    angle: Array | None = None

    def __or__(self, other: "Field") -> "Field":
        """Both shapes together; each pixel takes its direction from the nearer one."""
        if self.angle is None or other.angle is None:
            return Field(np.minimum(self.d, other.d))
        return Field(np.minimum(self.d, other.d), np.where(self.d <= other.d, self.angle, other.angle))

    def __and__(self, other: "Field") -> "Field":
        """Only where both are; the direction stays that of the first."""
        return Field(np.maximum(self.d, other.d), self.angle)

    def without(self, other: "Field") -> "Field":
        """The first shape with the other cut out of it."""
        return Field(np.maximum(self.d, -other.d), self.angle)

    def grown(self, by: float) -> "Field":
        """The shape, larger by that much all around."""
        return Field(self.d - by, self.angle)


def nothing(grid: Grid) -> Field:
    """An empty shape, to start a union from."""
    return Field(np.full_like(grid.x, FAR), np.zeros_like(grid.x))


def disc(grid: Grid, x: float, y: float, radius: float) -> Field:
    """A filled circle."""
    return Field(np.hypot(grid.x - x, grid.y - y) - radius)


def ring(grid: Grid, x: float, y: float, radius: float, thick: float) -> Field:
    """A circle's line of that thickness."""
    dx, dy = grid.x - x, grid.y - y
    return Field(np.abs(np.hypot(dx, dy) - radius) - thick / 2, np.arctan2(dy, dx) + np.pi / 2)


def dotted_ring(grid: Grid, x: float, y: float, radius: float, period: float) -> Field:
    """Single whole pixels on a circle, about `period` apart: they stay crisp in every mode."""
    count = max(8, 4 * round(2 * np.pi * radius / period / 4))
    step = float(grid.y[1, 0] - grid.y[0, 0])
    angles = (np.arange(count) + 0.5) * (2 * np.pi / count)
    columns = np.floor(x + radius * np.cos(angles)).astype(int)
    rows = np.floor((y + radius * np.sin(angles)) / step).astype(int)
    high, wide = grid.x.shape
    seen = (columns >= 0) & (columns < wide) & (rows >= 0) & (rows < high)
    distance = np.full_like(grid.x, FAR)
    distance[rows[seen], columns[seen]] = -0.5
    return Field(distance)


def _dashes(run: Array, length: float, period: float) -> Field:
    """Cuts along a closed run of that length: the period is adjusted so that it closes."""
    count = max(3, round(length / period))
    period = length / count
    place = np.mod(run + 0.3 * period, period)
    return Field(np.abs(place - 0.3 * period) - 0.3 * period)


def ellipse(grid: Grid, x: float, y: float, a: float, b: float) -> Field:
    """A filled ellipse with half axes a (across) and b (down); the distance is right to first order."""
    a, b = max(a, 0.3), max(b, 0.3)
    dx, dy = grid.x - x, grid.y - y
    k = np.hypot(dx / a, dy / b)
    slope = np.maximum(np.hypot(dx / a**2, dy / b**2), 1e-9)
    return Field(np.where(k < 1e-6, -min(a, b), k * (k - 1) / slope))


def dashed_ellipse(grid: Grid, x: float, y: float, a: float, b: float, thick: float, period: float) -> Field:
    """An ellipse's line of that thickness, dashed where it is long enough to carry dashes."""
    a, b = max(a, 0.3), max(b, 0.3)
    dx, dy = grid.x - x, grid.y - y
    turn = np.arctan2(dy / b, dx / a)
    edge = Field(np.abs(ellipse(grid, x, y, a, b).d) - thick / 2, np.arctan2(dy / b**2, dx / a**2) + np.pi / 2)
    mean = float(np.sqrt((a * a + b * b) / 2))
    length = 2 * np.pi * mean
    return edge & _dashes(turn * mean, length, period) if length > 6 * period else edge


def line(grid: Grid, x0: float, y0: float, x1: float, y1: float, thick: float) -> Field:
    """A straight line with round ends."""
    vx, vy = x1 - x0, y1 - y0
    length2 = max(vx * vx + vy * vy, 1e-12)
    along = np.clip(((grid.x - x0) * vx + (grid.y - y0) * vy) / length2, 0.0, 1.0)
    distance = np.hypot(grid.x - x0 - along * vx, grid.y - y0 - along * vy)
    return Field(distance - thick / 2, np.full_like(grid.x, float(np.arctan2(vy, vx))))


def bar(grid: Grid, x0: float, y0: float, x1: float, y1: float) -> Field:
    """A filled upright rectangle."""
    dx = np.maximum(x0 - grid.x, grid.x - x1)
    dy = np.maximum(y0 - grid.y, grid.y - y1)
    outside = np.hypot(np.maximum(dx, 0), np.maximum(dy, 0))
    return Field(outside + np.minimum(np.maximum(dx, dy), 0))


def rounded(grid: Grid, x0: float, y0: float, x1: float, y1: float, corner: float) -> Field:
    """A filled upright rectangle with rounded corners."""
    return bar(grid, x0 + corner, y0 + corner, x1 - corner, y1 - corner).grown(corner)


def outline(grid: Grid, shape: Field, thick: float) -> Field:
    """The edge of a filled shape as a line; its direction is taken from how the distance grows."""
    down, across = np.gradient(shape.d) if min(shape.d.shape) > 1 else (shape.d * 0, shape.d * 0 + 1)
    step = float(grid.y[1, 0] - grid.y[0, 0])
    return Field(np.abs(shape.d) - thick / 2, np.arctan2(down / step, across) + np.pi / 2)


def polygon(grid: Grid, corners: list[tuple[float, float]]) -> Field:
    """A filled polygon: distance to the nearest edge, signed by the even-odd rule."""
    best = np.full_like(grid.x, FAR)
    inside = np.zeros(grid.x.shape, dtype=bool)
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        best = np.minimum(best, line(grid, x0, y0, x1, y1, 0.0).d)
        if y0 != y1:
            crosses = (grid.y < y0) != (grid.y < y1)
            inside ^= crosses & (grid.x < x0 + (grid.y - y0) * (x1 - x0) / (y1 - y0))
    return Field(np.where(inside, -best, best))


def arrow(grid: Grid, x0: float, y0: float, x1: float, y1: float, thick: float, head: float) -> Field:
    """A straight arrow from the first point to the second; `head` is the length of its head."""
    length = float(np.hypot(x1 - x0, y1 - y0))
    if length < 1e-6:
        return nothing(grid)
    head = min(head, length)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    neck_x, neck_y = x1 - ux * head, y1 - uy * head
    wing = 0.62 * head
    tip = polygon(
        grid,
        [(x1, y1), (neck_x - uy * wing, neck_y + ux * wing), (neck_x + uy * wing, neck_y - ux * wing)],
    )
    shaft = line(grid, x0, y0, neck_x, neck_y, thick)
    return Field(tip.d, shaft.angle) | shaft


def arc(grid: Grid, x: float, y: float, radius: float, start: float, sweep: float, thick: float) -> Field:
    """Part of a ring from the angle `start` over `sweep` (positive is clockwise on the screen)."""
    whole = ring(grid, x, y, radius, thick)
    middle, half = start + sweep / 2, abs(sweep) / 2
    away = np.arctan2(grid.y - y, grid.x - x) - middle
    away = np.abs(np.arctan2(np.sin(away), np.cos(away)))
    return whole & Field((away - half) * radius)


def sector(grid: Grid, x: float, y: float, radius: float, start: float, sweep: float) -> Field:
    """A filled piece of a disc from the angle `start` over `sweep` (positive is clockwise on the screen)."""
    dx, dy = grid.x - x, grid.y - y
    far, middle, half = np.hypot(dx, dy), start + sweep / 2, abs(sweep) / 2
    away = np.abs(np.mod(np.arctan2(dy, dx) - middle + np.pi, 2 * np.pi) - np.pi)
    beside = far * np.sin(np.clip(away - half, -np.pi / 2, np.pi / 2))
    return Field(np.maximum(far - radius, beside if half < np.pi else -far))


def arc_arrow(
    grid: Grid,
    x: float,
    y: float,
    radius: float,
    start: float,
    sweep: float,
    thick: float,
    head: float,
    wing: float = 0.72,
) -> Field:
    """An arc with an arrow head at its end; `head` is its length along the run, `wing` half its width by that."""
    sign = 1.0 if sweep > 0 else -1.0
    end = start + sweep
    body = arc(grid, x, y, radius, start, sweep - sign * 0.6 * head / radius, thick)
    neck = end - sign * head / radius
    wing = wing * head
    tip = polygon(
        grid,
        [
            (x + radius * float(np.cos(end)), y + radius * float(np.sin(end))),
            (x + (radius + wing) * float(np.cos(neck)), y + (radius + wing) * float(np.sin(neck))),
            (x + (radius - wing) * float(np.cos(neck)), y + (radius - wing) * float(np.sin(neck))),
        ],
    )
    return body | Field(tip.d, body.angle)
