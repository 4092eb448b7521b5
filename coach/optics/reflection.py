"""The law of reflection at a flat mirror, and where a ray meets a plane.

r = d − 2(d·n)n        (Hecht, Optics; Born & Wolf, Principles of Optics)
"""

from dataclasses import dataclass

from coach.optics.vectors import Vector, add, dot, scale, subtract


@dataclass(frozen=True)
class Ray:
    """A straight piece of the beam."""

    origin: Vector
    """A point on it, mm."""
    direction: Vector
    """Of length 1."""


@dataclass(frozen=True)
class Plane:
    """A flat surface."""

    point: Vector
    """A point on it, mm."""
    normal: Vector
    """Of length 1."""


def reflect(direction: Vector, normal: Vector) -> Vector:
    """Direction after reflection at a mirror with the unit `normal`: r = d − 2(d·n)n."""
    return subtract(direction, scale(normal, 2.0 * dot(direction, normal)))


def meet(ray: Ray, plane: Plane) -> Vector:
    """The point in mm where a ray meets a plane; ZeroDivisionError when they are parallel."""
    along = dot(subtract(plane.point, ray.origin), plane.normal) / dot(ray.direction, plane.normal)
    return add(ray.origin, scale(ray.direction, along))


def bounce(ray: Ray, mirror: Plane) -> Ray:
    """The ray after a flat mirror."""
    return Ray(meet(ray, mirror), reflect(ray.direction, mirror.normal))
