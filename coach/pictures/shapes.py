"""Signed-distance shapes on the samples of a picture: negative inside, positive outside, in column widths.

Every function returns a Field: the distance near the shape, and where the shape has a run of its own (a line, a ring)
the direction of that run, so that the glyph modes can choose between - | / and \\.  Coordinates are in
column widths from the top-left corner, y downwards; angles are in radians, 0 to the right and growing
clockwise on the screen, because y points down.
"""

from dataclasses import replace

import numpy as np

from coach.pictures import figures
from coach.pictures.grid import FAR, Array, Field, Grid


def nothing(grid: Grid) -> Field:
    """An empty shape, to start a union from."""
    window = grid.window(grid.row, grid.column, grid.row + 1, grid.column + 1)
    return Field(np.full(window.x.shape, FAR, dtype=np.float32), window, figures.Union(), 0.0)


def _round(grid: Grid, x: float, y: float, reach: float) -> Grid:
    """The window around something round."""
    return grid.near(x - reach, y - reach, x + reach, y + reach)


def disc(grid: Grid, x: float, y: float, radius: float) -> Field:
    """A filled circle."""
    near = _round(grid, x, y, radius)
    return Field(np.hypot(near.x - x, near.y - y) - radius, near, figures.Ellipse(x, y, radius, radius))


def ring(grid: Grid, x: float, y: float, radius: float, thick: float) -> Field:
    """A circle's line of that thickness."""
    near = _round(grid, x, y, radius + thick / 2)
    dx, dy = near.x - x, near.y - y
    angle = np.arctan2(dy, dx) + np.pi / 2 if grid.across == 1 else 0.0  # only strokes ask for it
    figure = figures.Oval(x, y, radius, radius, thick)
    return Field(np.abs(np.hypot(dx, dy) - radius) - thick / 2, near, figure, angle)


def dotted_ring(grid: Grid, x: float, y: float, radius: float, period: float) -> Field:
    """Single dots on a circle, a column wide and half a row high, about `period` apart: crisp in every mode."""
    count = max(8, 4 * round(2 * np.pi * radius / period / 4))
    dot = grid.down // 2
    angles = (np.arange(count) + 0.5) * (2 * np.pi / count)
    columns = np.floor(x + radius * np.cos(angles)).astype(int)
    rows = np.floor((y + radius * np.sin(angles)) / (dot * grid.step)).astype(int)
    high, wide = grid.whole[0] // dot, grid.whole[1] // grid.across
    seen = (columns >= 0) & (columns < wide) & (rows >= 0) & (rows < high)
    distance = np.full((high, wide), FAR, dtype=np.float32)
    distance[rows[seen], columns[seen]] = -0.5
    places = [(x + radius * float(np.cos(angle)), y + radius * float(np.sin(angle))) for angle in angles]
    figure = figures.Union(tuple(figures.Ellipse(*place, 0.5, 0.5) for place in places))
    return Field(np.repeat(np.repeat(distance, dot, axis=0), grid.across, axis=1), grid, figure)


def _dashes(run: Array, period: float) -> Array:
    """Cuts along a run: six tenths of each period are left, about where it begins."""
    place = np.mod(run + 0.3 * period, period)
    return np.asarray(np.abs(place - 0.3 * period) - 0.3 * period)


def ellipse(grid: Grid, x: float, y: float, a: float, b: float) -> Field:
    """A filled ellipse with half axes a (across) and b (down); the distance is right to first order."""
    a, b = max(a, 0.3), max(b, 0.3)
    near = grid.near(x - a, y - b, x + a, y + b)
    dx, dy = near.x - x, near.y - y
    k = np.hypot(dx / a, dy / b)
    slope = np.maximum(np.hypot(dx / a**2, dy / b**2), 1e-9)
    return Field(np.where(k < 1e-6, -min(a, b), k * (k - 1) / slope), near, figures.Ellipse(x, y, a, b))


def dashed_ellipse(grid: Grid, x: float, y: float, a: float, b: float, thick: float, period: float) -> Field:
    """An ellipse's line of that thickness, dashed where it is long enough to carry dashes."""
    a, b = max(a, 0.3), max(b, 0.3)
    filled = ellipse(grid, x, y, a, b)
    dx, dy = filled.grid.x - x, filled.grid.y - y
    turn = np.arctan2(dy / b, dx / a)
    angle = np.arctan2(dy / b**2, dx / a**2) + np.pi / 2
    edge = Field(np.abs(filled.part) - thick / 2, filled.grid, figures.Oval(x, y, a, b, thick), angle)
    mean = float(np.sqrt((a * a + b * b) / 2))
    length = 2 * np.pi * mean
    if length <= 6 * period:
        return edge
    period = length / max(3, round(length / period))  # so that it closes
    figure = figures.Oval(x, y, a, b, thick, period, length)
    return Field(np.maximum(edge.part, _dashes(turn * mean, period)), edge.grid, figure, angle)


def line(grid: Grid, x0: float, y0: float, x1: float, y1: float, thick: float) -> Field:
    """A straight line with round ends."""
    half = thick / 2
    near = grid.near(min(x0, x1) - half, min(y0, y1) - half, max(x0, x1) + half, max(y0, y1) + half)
    angle = float(np.arctan2(y1 - y0, x1 - x0))
    return Field(_away(near, x0, y0, x1, y1) - half, near, figures.Line(x0, y0, x1, y1, thick), angle)


def _away(grid: Grid, x0: float, y0: float, x1: float, y1: float) -> Array:
    """How far every sample lies from a straight piece."""
    vx, vy = x1 - x0, y1 - y0
    dx, dy = grid.x - x0, grid.y - y0
    length2 = max(vx * vx + vy * vy, 1e-12)
    along = np.clip(dx * (vx / length2) + dy * (vy / length2), 0.0, 1.0)
    return np.hypot(dx - along * vx, dy - along * vy)


def bar(grid: Grid, x0: float, y0: float, x1: float, y1: float) -> Field:
    """A filled upright rectangle."""
    return _box(grid.near(x0, y0, x1, y1), x0, y0, x1, y1)


def _box(near: Grid, x0: float, y0: float, x1: float, y1: float) -> Field:
    """The same in a window that is chosen already.  Across and down are told apart: a row and a column suffice."""
    across, down = near.x[:1], near.y[:, :1]
    dx, dy = np.maximum(x0 - across, across - x1), np.maximum(y0 - down, down - y1)
    outside = np.hypot(np.maximum(dx, 0), np.maximum(dy, 0))
    return Field(outside + np.minimum(np.maximum(dx, dy), 0), near, figures.Box(x0, y0, x1, y1))


def rounded(grid: Grid, x0: float, y0: float, x1: float, y1: float, corner: float) -> Field:
    """A filled upright rectangle with rounded corners."""
    near = grid.near(x0, y0, x1, y1)
    inner = _box(near, x0 + corner, y0 + corner, x1 - corner, y1 - corner)
    return replace(inner.grown(corner), figure=figures.Box(x0, y0, x1, y1, corner))


def outline(grid: Grid, shape: Field, thick: float) -> Field:
    """The edge of a filled shape as a line; its direction is taken from how the distance grows."""
    if grid.across > 1 or min(shape.part.shape) < 2:  # only strokes ask for it, and they need something to grow
        angle: Array | float = 0.0
    else:
        down, across = np.gradient(shape.part)
        angle = np.arctan2(down / grid.step, across) + np.pi / 2
    return Field(np.abs(shape.part) - thick / 2, shape.grid, figures.Outline(shape.figure, thick), angle)


def polygon(grid: Grid, corners: list[tuple[float, float]]) -> Field:
    """A filled polygon: distance to the nearest edge, signed by the even-odd rule."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    near = grid.near(min(xs), min(ys), max(xs), max(ys))
    best = np.full(near.x.shape, FAR, dtype=np.float32)
    inside = np.zeros(near.x.shape, dtype=bool)
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        best = np.minimum(best, _away(near, x0, y0, x1, y1))
        if y0 != y1:
            crosses = (near.y < y0) != (near.y < y1)
            inside ^= crosses & (near.x < x0 + (near.y - y0) * (x1 - x0) / (y1 - y0))
    return Field(np.where(inside, -best, best), near, figures.Polygon(tuple(corners)))


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
    return replace(tip, angle=shaft.angle) | shaft


def arc(grid: Grid, x: float, y: float, radius: float, start: float, sweep: float, thick: float) -> Field:
    """Part of a ring from the angle `start` over `sweep` (positive is clockwise on the screen)."""
    whole = ring(grid, x, y, radius, thick)
    middle, half = start + sweep / 2, abs(sweep) / 2
    part = np.maximum(whole.part, (_turned(whole.grid, x, y, middle) - half) * radius)
    return replace(whole, part=part, figure=figures.Arc(x, y, radius, start, sweep, thick))


def _turned(grid: Grid, x: float, y: float, middle: float) -> Array:
    """By what angle every sample lies to either side of that direction, 0 to π."""
    angle = np.arctan2(grid.y - y, grid.x - x) - middle
    return np.asarray(np.abs(np.mod(angle + np.pi, 2 * np.pi) - np.pi))


def sector(grid: Grid, x: float, y: float, radius: float, start: float, sweep: float) -> Field:
    """A filled piece of a disc from the angle `start` over `sweep` (positive is clockwise on the screen)."""
    near = _round(grid, x, y, radius)
    far, half = np.hypot(near.x - x, near.y - y), abs(sweep) / 2
    away = _turned(near, x, y, start + sweep / 2)
    beside = far * np.sin(np.clip(away - half, -np.pi / 2, np.pi / 2))
    part = np.maximum(far - radius, beside if half < np.pi else -far)
    return Field(part, near, figures.Sector(x, y, radius, start, sweep))


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
    return body | replace(tip, angle=0.0)
