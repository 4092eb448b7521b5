"""The drift's arithmetic against fits that others made."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from scipy import optimize

from coach.history.beam import BeamState
from coach.history.drift import plain
from coach.history.series import YEAR, Seen, series
from coach.tuning import TUNING

QUIET = replace(TUNING, drifting=replace(TUNING.drifting, rest_power=0.0))
"""Nothing wanders: what is left is the readings' own doubt."""

TEMPERATURE = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
CORRECTION = (-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160)
"""GUM (JCGM 100:2008) table H.6: a thermometer's readings, °C, and its corrections, °C (from memory; that they are as
printed is shown by the published fit below)."""


def visits(times: tuple[float, ...], values: tuple[float, ...], sd: float, *, same: bool = True) -> list[Seen]:
    """One number seen at these times (years), each time once, nothing adjusted."""
    states = [BeamState(np.array([value]), np.array([[sd**2]])) for value in values]
    day = date(2026, 1, 1)
    return [
        Seen(day + timedelta(days=n), t * YEAR, t * YEAR, state, state, same)
        for n, (t, state) in enumerate(zip(times, states, strict=True))
    ]


def test_the_slope_of_gum_h3() -> None:
    """Differences from reading to reading, with their covariance, give the published line: 0.002 18, s 0.000 67."""
    told = series(("power",), visits(TEMPERATURE, CORRECTION, 0.0035), ())
    _, rate = plain(told, QUIET)
    assert rate.mean[0] == pytest.approx(0.00218, abs=5e-6)
    assert np.sqrt(rate.cov[0, 0]) == pytest.approx(0.00067, abs=5e-6)


def test_a_weighted_line_as_scipy_fits_it() -> None:
    """Readings of several doubts, the machine set anew in between: rate and doubt are those of scipy's fit."""
    rng = np.random.default_rng(5)
    times, sds = np.sort(rng.uniform(0, 1, 8)), rng.uniform(0.01, 0.2, 8)
    found, left = rng.normal(0, sds), rng.normal(3, sds)
    day = date(2026, 1, 1)
    told = [
        Seen(day + timedelta(days=k), t * YEAR, t * YEAR,
             BeamState(np.array([f]), np.array([[sd**2]])), BeamState(np.array([e]), np.array([[sd**2]])), same=False)
        for k, (t, f, e, sd) in enumerate(zip(times, found, left, sds, strict=True))
    ]  # fmt: skip
    _, rate = plain(series(("power",), told, ()), QUIET)
    seen, doubt = found[1:] - left[:-1], np.hypot(sds[1:], sds[:-1])
    best, cov = optimize.curve_fit(lambda t, b: b * t, np.diff(times), seen, sigma=doubt, absolute_sigma=True)
    assert rate.mean[0] == pytest.approx(best[0], rel=1e-4)
    assert rate.cov[0, 0] == pytest.approx(cov[0, 0], rel=1e-4)
