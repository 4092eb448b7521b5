"""Chances that decide about a pulse and "done", against scipy's noncentral χ², its quadrature, and counting."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import ncx2, norm

from coach.belief.chances import all_within, beyond, spread_points


def _plane(rng: np.random.Generator, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Gaussians in the plane, round and very long ones, near the middle and far out."""
    means = rng.normal(0, 5, (count, 2))
    roots = rng.normal(0, 1, (count, 2, 2)) * 10 ** rng.uniform(-1.5, 0.7, (count, 1, 2))
    return means, roots @ np.swapaxes(roots, -1, -2) + 1e-6 * np.eye(2)


@pytest.mark.parametrize("radius", [1.0, 6.0, 11.0])
@pytest.mark.parametrize("sd", [0.05, 0.5, 3.0])
@pytest.mark.parametrize("share", [0.0, 0.5, 0.95, 1.0, 1.05, 2.0])
def test_a_round_doubt_beside_a_circle(radius: float, sd: float, share: float) -> None:
    """P(|z| > R) = P(χ'²(2, |m|²/s²) > R²/s²): scipy's noncentral χ², from the middle to twice the radius."""
    out = share * radius
    found = beyond(np.array([[0.6 * out, -0.8 * out]]), sd**2 * np.eye(2)[None], radius)[0]
    assert found == pytest.approx(ncx2.sf((radius / sd) ** 2, 2, (out / sd) ** 2), abs=2e-5)


def _beyond_exactly(mean: np.ndarray, cov: np.ndarray, radius: float) -> float:
    """The same by scipy's adaptive quadrature over chords across the narrow axis."""
    values, vectors = np.linalg.eigh(cov)
    (narrow, wide), (across, along) = np.sqrt(values), vectors.T @ mean

    def chord(t: float) -> float:
        half = np.sqrt(radius**2 - t * t)
        return norm.pdf(t, across, narrow) * (norm.cdf(half, along, wide) - norm.cdf(-half, along, wide))

    low, high = max(-radius, across - 9 * narrow), min(radius, across + 9 * narrow)
    return 1.0 - (quad(chord, low, high, limit=500, epsabs=1e-9)[0] if high > low else 0.0)


def test_any_doubt_beside_a_circle() -> None:
    """Eighty Gaussians of all shapes, some a thousand times as long as wide: adaptive quadrature to 1e-6."""
    means, covs = _plane(np.random.default_rng(1), 80)
    exact = np.array([_beyond_exactly(mean, cov, 6.0) for mean, cov in zip(means, covs, strict=True)])
    assert beyond(means, covs, 6.0) == pytest.approx(exact, abs=1e-6)
    assert ((exact > 0.01) & (exact < 0.99)).sum() > 20


DECIDING = 0.005
"""Where a chance decides, from 0.9 on: the sum over directions is off by 0.0007 (rms) there …"""
ELSEWHERE = 0.02
"""… and by 0.004 (rms) below it, where nothing hangs on it."""


def _close(found: float, exact: float, error: float = 0.0) -> bool:
    return abs(found - exact) < error + (DECIDING if exact > 0.9 else ELSEWHERE)


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_stations_that_know_nothing_of_each_other_multiply(count: int) -> None:
    """Independent offsets: the product of the single chances (scipy's noncentral χ²)."""
    rng = np.random.default_rng(count)
    exact = []
    for _ in range(60):
        means, sd = rng.normal(0, 0.25, (count, 2)), rng.uniform(0.1, 0.4)
        exact.append(float(np.prod(ncx2.cdf(1 / sd**2, 2, (means**2).sum(axis=1) / sd**2))))
        found = all_within(means.ravel(), sd**2 * np.eye(2 * count), 1.0)
        assert _close(found, exact[-1]), (found, exact[-1])
    assert sum(0.9 < chance < 0.99 for chance in exact) >= 5


def test_stations_that_move_as_one_are_as_one() -> None:
    """Five stations with one and the same offset: the chance of one."""
    for out in (0.0, 0.2, 0.4, 0.6, 0.9, 1.1):
        for sd in (0.1, 0.2, 0.3, 0.45):
            mean, cov = np.tile([out, 0.0], 5), np.kron(np.ones((5, 5)), sd**2 * np.eye(2))
            exact = float(ncx2.cdf(1 / sd**2, 2, (out / sd) ** 2))
            assert _close(all_within(mean, cov, 1.0), exact), (out, sd)


def test_five_stations_of_a_beam_against_counting() -> None:
    """Offsets that hang on six numbers, as five stations' do: 200 000 draws counted, five standard errors."""
    rng = np.random.default_rng(7)
    compared = 0
    for _ in range(16):
        rows = rng.normal(0, 1, (10, 6)) * rng.uniform(0.02, 0.25, 6)
        mean, cov = rng.normal(0, 0.25, 10), rows @ rows.T
        drawn = mean + rng.standard_normal((200_000, 6)) @ rows.T
        counted = float((np.hypot(drawn[:, 0::2], drawn[:, 1::2]) <= 1.0).all(axis=1).mean())
        error = 5 * np.sqrt(max(counted * (1 - counted), 1e-6) / len(drawn))
        assert _close(all_within(mean, cov, 1.0), counted, error), counted
        compared += 0.3 < counted < 0.99
    assert compared >= 6


def test_points_spread_as_their_gaussian() -> None:
    """512 points have its mean exactly, its deviation on each axis to a tenth, and are the same in every call."""
    rng = np.random.default_rng(3)
    rows = rng.normal(0, 1, (10, 6))
    mean, cov = rng.normal(0, 1, 10), rows @ rows.T
    points = spread_points(mean, cov, 512)
    assert points.mean(axis=1) == pytest.approx(mean, abs=1e-9)
    assert np.sqrt(np.diag(np.cov(points)) / np.diag(cov)) == pytest.approx(1.0, abs=0.1)
    assert (points == spread_points(mean, cov, 512)).all()
