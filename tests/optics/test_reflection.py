"""The law of reflection against the exact closed forms and the table of outside values."""

import math

import pytest

from coach.optics.reflection import Plane, Ray, bounce, reflect
from coach.optics.vectors import X, Y, Z, cross, dot, rotate, subtract, unit

# Hecht, Optics; Born & Wolf (memory); closed forms and values derived.
# incidence °, tilt mrad → yaw, pitch total, pitch elevation, 2δ·cos i, in-plane drift (mrad)
ROTATIONS = [
    (45, 0.5, 1.000000, 0.7071067665, 0.7071067223, 0.7071067812, -0.000250),
    (45, 5.0, 10.000000, 7.071053080, 7.071008885, 7.071067812, -0.0250004),
    (45, 50.0, 100.0000, 70.69594028, 70.65164935, 70.71067812, -2.504167),
    (30, 5.0, 10.000000, 8.660245017, 8.660217952, 8.660254038, -0.0216513),
]
"""The last digit printed is taken as rounded; tolerances below are one unit of it."""


def _geometry(incidence: float):  # type: ignore[no-untyped-def]
    """A horizontal ray along X on a mirror whose normal stands `incidence` degrees off it."""
    angle = math.radians(incidence)
    normal = (-math.cos(angle), math.sin(angle), 0.0)
    return X, normal, reflect(X, normal)


@pytest.mark.parametrize("row", ROTATIONS)
def test_yaw_turns_the_ray_by_exactly_twice_the_tilt(row: tuple[float, ...]) -> None:
    """Rotation about the normal of the plane of incidence (Burge, Proc. SPIE 6288 (2006): read)."""
    incidence, tilt, yaw = row[:3]
    ray, normal, before = _geometry(incidence)
    after = reflect(ray, rotate(normal, Z, tilt / 1000))
    turned = math.asin(dot(cross(before, after), Z)) * 1000
    assert turned == pytest.approx(2 * tilt, rel=1e-12)
    assert turned == pytest.approx(yaw, abs=1e-6)


@pytest.mark.parametrize("row", ROTATIONS)
def test_pitch_turns_the_ray_by_less_and_drifts(row: tuple[float, ...]) -> None:
    """Rotation about the in-plane axis lying in the mirror: table and exact forms (derived)."""
    incidence, tilt, _, total, elevation, small, drift = row
    ray, normal, before = _geometry(incidence)
    after = reflect(ray, rotate(normal, cross(Z, normal), tilt / 1000))
    angle, delta = math.radians(incidence), tilt / 1000
    chord = math.sqrt(dot(subtract(after, before), subtract(after, before)))
    measured_total = 2000 * math.asin(chord / 2)
    measured_elevation = 1000 * math.asin(abs(after[2]))
    assert measured_total == pytest.approx(2000 * math.asin(math.sin(delta) * math.cos(angle)), rel=1e-9)
    assert measured_elevation == pytest.approx(1000 * math.asin(math.sin(2 * delta) * math.cos(angle)), rel=1e-9)
    assert measured_total == pytest.approx(total, rel=2e-9)
    assert measured_elevation == pytest.approx(elevation, rel=2e-9)
    assert 2 * tilt * math.cos(angle) == pytest.approx(small, rel=1e-9)
    flat = unit((after[0], after[1], 0.0))
    # The fold, by which the ray is turned within the plane of incidence, becomes a little smaller.
    drifted = 1000 * (math.acos(dot(ray, flat)) - math.acos(dot(ray, before)))
    assert drifted == pytest.approx(drift, rel=2e-5, abs=1.1e-7)


@pytest.mark.parametrize(("incidence", "shift"), [(45, 1.414214), (30, 1.0)])
def test_raising_the_mirror_shifts_the_ray(incidence: float, shift: float) -> None:
    """Translation t along the normal shifts the beam by 2t·sin i (derived)."""
    ray, normal, _ = _geometry(incidence)
    still = bounce(Ray((0.0, 0.0, 0.0), ray), Plane((0.0, 0.0, 0.0), normal))
    moved = bounce(Ray((0.0, 0.0, 0.0), ray), Plane(normal, normal))
    apart = cross(subtract(moved.origin, still.origin), still.direction)
    assert math.sqrt(dot(apart, apart)) == pytest.approx(shift, abs=5e-7)
    assert moved.direction == still.direction


def test_folds() -> None:
    """Mirror 2 and mirror 3 of a machine with its mirrors on the left (Hecht: memory; by hand)."""
    assert reflect((0.0, -1.0, 0.0), unit((1.0, 1.0, 0.0))) == pytest.approx((1, 0, 0))
    assert reflect(X, unit((-1.0, 0.0, -1.0))) == pytest.approx((0, 0, -1))
    assert cross(X, Y) == Z
