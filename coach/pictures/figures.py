"""What a shape is, exactly: the geometry that its samples were taken of, for writers that need no samples.

All lengths in column widths from the picture's upper left, y downwards; angles in radians, growing clockwise from the
right, as in `coach.pictures.shapes`.
"""

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True)
class Ellipse:
    """Filled, with half axes `a` across and `b` down."""

    x: float
    y: float
    a: float
    b: float


@dataclass(frozen=True)
class Oval:
    """An ellipse's line; dashed with that period along it where there is one, a dash in the middle of its right."""

    x: float
    y: float
    a: float
    b: float
    thick: float
    period: float = 0.0
    along: float = 0.0
    """How long the line is, as the period counts."""


@dataclass(frozen=True)
class Line:
    """Straight, with round ends."""

    x0: float
    y0: float
    x1: float
    y1: float
    thick: float


@dataclass(frozen=True)
class Arc:
    """Part of a circle's line, from the angle `start` over `sweep`; blunt ends."""

    x: float
    y: float
    radius: float
    start: float
    sweep: float
    thick: float


@dataclass(frozen=True)
class Sector:
    """A filled piece of a disc."""

    x: float
    y: float
    radius: float
    start: float
    sweep: float


@dataclass(frozen=True)
class Box:
    """A filled upright rectangle, its corners rounded with that radius."""

    x0: float
    y0: float
    x1: float
    y1: float
    corner: float = 0.0


@dataclass(frozen=True)
class Polygon:
    """Filled."""

    corners: tuple[Point, ...]


@dataclass(frozen=True)
class Union:
    """All of them together; none: nothing."""

    parts: tuple["Figure", ...] = ()


@dataclass(frozen=True)
class Outline:
    """The edge of a filled figure as a line of that thickness."""

    of: "Figure"
    thick: float


@dataclass(frozen=True)
class Grown:
    """Larger by that much all around."""

    of: "Figure"
    by: float


@dataclass(frozen=True)
class Cut:
    """The first with the other cut out of it, or, `inside`, only what lies within the other."""

    of: "Figure"
    other: "Figure"
    inside: bool = False


Figure = Ellipse | Oval | Line | Arc | Sector | Box | Polygon | Union | Outline | Grown | Cut
