"""Three-dimensional vectors as plain tuples, machine axes: X right, Y back, Z up."""

import math

Vector = tuple[float, float, float]

X: Vector = (1.0, 0.0, 0.0)
Y: Vector = (0.0, 1.0, 0.0)
Z: Vector = (0.0, 0.0, 1.0)


def add(a: Vector, b: Vector) -> Vector:
    """a + b."""
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def subtract(a: Vector, b: Vector) -> Vector:
    """a − b."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def scale(a: Vector, factor: float) -> Vector:
    """factor·a."""
    return factor * a[0], factor * a[1], factor * a[2]


def dot(a: Vector, b: Vector) -> float:
    """a·b."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """a × b."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def norm(a: Vector) -> float:
    """The length of a."""
    return math.sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """The vector of length 1 along a."""
    return scale(a, 1.0 / norm(a))


def rotate(a: Vector, axis: Vector, angle: float) -> Vector:
    """a turned by `angle` in rad, right-handed, about the unit vector `axis` (Rodrigues' formula)."""
    cosine, sine = math.cos(angle), math.sin(angle)
    along = scale(axis, dot(axis, a) * (1.0 - cosine))
    return add(add(scale(a, cosine), scale(cross(axis, a), sine)), along)
