"""What the Kalman equations keep whatever they are given."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies import between

from coach.belief.kalman import Moments, predict, update


@st.composite
def problems(draw):
    """A prior with standard deviations from 10⁻³ to 10³, correlated at will, and a reading of it."""
    size = draw(st.integers(1, 6))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    sds = 10.0 ** np.array([draw(between(-3, 3)) for _ in range(size)])
    root = np.diag(sds) @ np.linalg.qr(rng.normal(size=(size, size)))[0] @ np.diag(rng.uniform(0, 1, size))
    rows = rng.normal(size=(2, size)) * (rng.uniform(size=(2, size)) < 0.7)
    noise = 10.0 ** draw(between(-4, 2)) * np.eye(2)
    return Moments(rng.normal(size=size) * sds, symmetric(root @ root.T)), rows, noise, rng.normal(size=2)


def symmetric(matrix):
    """The symmetric part."""
    return (matrix + matrix.T) / 2


def _least(matrix, like):
    """The smallest eigenvalue, in units of the rounding of `like`'s largest one."""
    return np.linalg.eigvalsh(matrix)[0] / max(np.linalg.eigvalsh(like)[-1], 1e-300)


@given(problems())
def test_a_posterior_is_symmetric_positive_and_never_wider_than_its_prior(problem) -> None:
    """Joseph form: P stays symmetric to the last bit and positive, and P_prior − P_posterior is positive too."""
    prior, rows, noise, reading = problem
    posterior, likelihood = update(prior, rows, noise, reading)
    assert (posterior.cov == posterior.cov.T).all()
    assert _least(posterior.cov, prior.cov) > -1e-13
    assert _least(prior.cov - posterior.cov, prior.cov) > -1e-13
    assert np.isfinite(likelihood)


@given(problems(), st.integers(0, 2**32 - 1))
@pytest.mark.sweep
def test_a_hundred_readings_and_predictions_leave_a_covariance(problem, seed) -> None:
    """Rounding does not build up: symmetric and positive after a hundred steps as after one."""
    belief, rows, noise, _ = problem
    rng = np.random.default_rng(seed)
    widest = belief.cov
    for _ in range(100):
        belief, _ = update(belief, rows * rng.choice((-1, 1), rows.shape), noise, rng.normal(size=2))
        belief = predict(belief, np.eye(len(belief.mean)), np.zeros_like(belief.cov))
    assert (belief.cov == belief.cov.T).all()
    assert _least(belief.cov, widest) > -1e-12
