"""The Kalman equations against published examples and certified regressions."""

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from coach.belief.kalman import Moments, predict, update

ONE = np.eye(1)


def _scalar_filter(readings, x0, p0, process, noise):
    """Means, variances and gains after each reading of a constant seen directly."""
    belief, found = Moments(np.array([x0]), p0 * ONE), []
    for z in readings:
        belief = predict(belief, ONE, process * ONE)
        gain = belief.cov[0, 0] / (belief.cov[0, 0] + noise)
        belief, _ = update(belief, ONE, noise * ONE, np.array([z]))
        found.append((belief.mean[0], belief.cov[0, 0], gain))
    return np.array(found)


def test_welch_and_bishop_constant() -> None:
    """Welch & Bishop TR 95-041 (data read): the variances follow from Q, R and P0, whatever is measured.

    They print "about 0.0002" after 50 steps; their own Q, R and P0 give 0.000339, which is asserted.
    """
    variance = _scalar_filter(np.zeros(400), 0.0, 1.0, 1e-5, 0.01)[:, 1]
    assert variance[[0, 4, 19, 49]] == pytest.approx([0.00990099, 0.00200801, 0.000559824, 0.000339211], rel=2e-6)
    assert variance[-1] == pytest.approx(0.000311267, rel=2e-6)  # steady: (−Q + √(Q² + 4QR))/2


def test_becker_building_height() -> None:
    """Becker, building height (data read, printed result from memory)."""
    readings = [48.54, 47.11, 55.01, 55.15, 49.89, 40.85, 46.72, 50.05, 51.27, 49.95]
    found = _scalar_filter(readings, 60.0, 225.0, 0.0, 25.0)
    assert found[[0, 4, 9], 0] == pytest.approx([49.6860, 51.3326, 49.5699], abs=5e-5)
    assert found[9, 1] == pytest.approx(2.472527, abs=5e-7)


def test_becker_liquid_temperature() -> None:
    """Becker, liquid temperature with process noise (data read, printed result from memory)."""
    readings = [49.95, 49.967, 50.1, 50.106, 49.992, 49.819, 49.933, 50.007, 50.023, 49.99]
    mean, variance, gain = _scalar_filter(readings, 10.0, 10_000.0, 1e-4, 0.01)[9]
    assert mean == pytest.approx(49.9880, abs=5e-5)
    assert variance == pytest.approx(0.001265, abs=5e-7)
    assert gain == pytest.approx(0.126498, abs=5e-7)


def test_a_stack_of_filters_is_each_filter_by_itself_and_its_likelihood_is_the_batch_likelihood() -> None:
    """The summed log-likelihoods of single readings are the density of all of them together (scipy)."""
    rng = np.random.default_rng(4)
    roots = rng.normal(size=(3, 4, 4))
    stack = Moments(rng.normal(size=(3, 4)), roots @ np.swapaxes(roots, 1, 2))
    rows, readings = rng.normal(size=(6, 2, 4)), rng.normal(size=(6, 2))
    noise = np.broadcast_to(0.3 * np.eye(2), (3, 2, 2))
    one, together, total = Moments(stack.mean[1], stack.cov[1]), stack, np.zeros(3)
    for seen, reading in zip(rows, readings, strict=True):
        together, likelihood = update(together, seen, noise, reading)
        one, _ = update(one, seen, noise[1], reading)
        total += likelihood
    assert together.mean[1] == pytest.approx(one.mean, abs=1e-12)
    assert together.cov[1] == pytest.approx(one.cov, abs=1e-12)
    flat = rows.reshape(12, 4)
    for index in range(3):
        batch = multivariate_normal(flat @ stack.mean[index], flat @ stack.cov[index] @ flat.T + 0.3 * np.eye(12))
        assert total[index] == pytest.approx(batch.logpdf(readings.ravel()), rel=1e-10)


NORRIS = """
0.2 0.1  337.4 338.8  118.2 118.1  884.6 888.0  10.1 9.2  226.5 228.1  666.3 668.5  996.3 998.5  448.6 449.1
777.0 778.9  558.2 559.2  0.4 0.3  0.6 0.1  775.5 778.1  666.9 668.8  338.0 339.3  447.5 448.9  11.6 10.8
556.0 557.7  228.1 228.3  995.8 998.0  887.6 888.8  120.2 119.6  0.3 0.3  0.3 0.6  556.8 557.6  339.1 339.3
887.2 888.0  999.0 998.5  779.0 778.9  11.1 10.2  118.3 117.6  229.2 228.9  669.1 668.4  448.9 449.2  0.5 0.2
"""
"""NIST StRD Norris: x and y in turn, 36 rows (public domain)."""


def _regress(design, readings, sd, wide):
    """A static-state filter over the rows, one by one, from a prior with the standard deviations `wide`."""
    belief = Moments(np.zeros(design.shape[1]), np.diag(np.square(wide)))
    for row, reading in zip(design, readings, strict=True):
        belief, _ = update(belief, row[None, :], sd**2 * ONE, np.array([reading]))
    return belief


def test_norris_is_certified() -> None:
    """NIST StRD Norris (certified): a wide prior and the certified s give the batch line and its doubt."""
    x, y = np.array(NORRIS.split(), dtype=float).reshape(36, 2).T
    design = np.stack([np.ones(36), x], axis=1)
    line = _regress(design, y, 0.884796396144373, [1e5, 1e3])
    assert line.mean == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-9)
    assert np.sqrt(np.diag(line.cov)) == pytest.approx([0.232818234301152, 0.000429796848199937], rel=1e-9)
    residual = y - design @ line.mean
    assert np.sqrt(residual @ residual / 34) == pytest.approx(0.884796396144373, rel=1e-12)


def test_lines_through_the_origin_are_certified() -> None:
    """NIST StRD NoInt1 and NoInt2 (certified): one slope, its doubt and s."""
    for x, y, slope, doubt, s in (
        (np.arange(60.0, 71), np.arange(130.0, 141), 2.07438016528926, 0.0165289256198347, 3.56753034006338),
        (np.array([4.0, 5, 6]), np.array([3.0, 4, 4]), 0.727272727272727, 0.0420827318078432, 0.369274472937998),
    ):
        line = _regress(x[:, None], y, s, [1e5])
        assert line.mean[0] == pytest.approx(slope, rel=1e-11)
        assert np.sqrt(line.cov[0, 0]) == pytest.approx(doubt, rel=1e-11)
        residual = y - x * line.mean[0]
        assert np.sqrt(residual @ residual / (len(x) - 1)) == pytest.approx(s, rel=1e-12)


def test_wampler_1_is_certified() -> None:
    """NIST StRD Wampler1 (certified): y = Σ xᵏ, k = 0…5, x = 0…20; all six B are 1.

    The powers are taken of x/20, so that the state's numbers are B·20ᵏ, up to 3.2 million, and the scaled
    design's condition number is 3.3e3.  Seven digits, not sixteen: a prior of standard deviation w pulls by
    (20⁵/w)² and the rounding of the first update grows with w²; w = 1e8 stands between (B to 3e-8, doubts to
    5e-6).  Narrower or wider by ten loses two digits of the one or of the other.
    """
    x, powers = np.arange(21.0), np.arange(6)
    design = (x[:, None] / 20) ** powers
    scaled = _regress(design, (x[:, None] ** powers).sum(axis=1), 1.0, [1e8] * 6)
    assert scaled.mean / 20.0**powers == pytest.approx(np.ones(6), abs=1e-7)
    batch = np.linalg.inv(design.T @ design)
    assert np.sqrt(np.diag(scaled.cov)) == pytest.approx(np.sqrt(np.diag(batch)), rel=1e-5)
