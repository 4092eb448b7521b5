"""Probabilities that decide about safety and "done", against sources and brute force."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chi2, ncx2, norm
from strategies import between

from coach.belief.chances import all_within, beyond, normal_below


def test_the_normal_distribution() -> None:
    """Φ, scipy."""
    z = np.linspace(-7, 7, 57)
    assert normal_below(z) == pytest.approx(norm.cdf(z), abs=1e-15)


@given(between(0.05, 4), between(0, 20), between(0.5, 15))
def test_beyond_a_circle_is_the_noncentral_chi_square(sd: float, out: float, radius: float) -> None:
    """Round doubt: 1 − F of noncentral χ², df 2 (Marcum 1950: memory; scipy), to 2e-5 whatever the proportions."""
    found = beyond(np.array([[out * 0.6, -out * 0.8]]), sd**2 * np.eye(2)[None], radius)[0]
    assert found == pytest.approx(ncx2.sf(radius**2 / sd**2, 2, out**2 / sd**2), abs=2e-5)


@pytest.mark.parametrize(
    ("radius", "sd", "out", "passes"),
    [(6, 1.5, 1, 0.998851), (6, 1.5, 4, 0.880785), (6, 1.5, 6, 0.449728), (1.5, 0.5, 1, 0.785638)],
)
def test_published_values_of_a_decentred_opening(radius: float, sd: float, out: float, passes: float) -> None:
    """Marcum's function as tabulated for beams (w = 2·sd): cross-checked by quadrature to ten digits."""
    assert 1 - beyond(np.array([[0.0, out]]), sd**2 * np.eye(2)[None], radius)[0] == pytest.approx(passes, abs=1e-6)


def _stations(seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Five stations whose offsets follow from six uncertain numbers, as on a machine."""
    rng = np.random.default_rng(seed)
    legs = np.array([(1, 0.17, 0.14), (1, 0.17, 0.7), (1, 0.35, 0.42), (1, 0.53, 0.7), (1, 0.53, 0.14)])
    matrix = np.zeros((10, 6))
    matrix[0::2, :3] = matrix[1::2, 3:] = legs
    root = np.diag([0.3, 0.6, 0.6] * 2) @ rng.normal(size=(6, 6)) / np.sqrt(6) * rng.uniform(0.3, 1.0)
    mean = matrix @ (root @ rng.normal(size=6) * 0.5)
    return mean, matrix @ root @ root.T @ matrix.T


@pytest.mark.parametrize("seed", range(24))
def test_all_within_is_what_half_a_million_draws_say(seed: int) -> None:
    """Within 0.0035 where it decides, above 0.9 (0.002 of its own, five standard errors of the draws); else 0.012."""
    mean, cov = _stations(seed)
    rng = np.random.default_rng(seed + 100)
    draws = rng.multivariate_normal(mean, cov, 500_000, method="eigh")
    inside = (np.hypot(draws[:, 0::2], draws[:, 1::2]) <= 1.0).all(axis=1).mean()
    assert all_within(mean, cov, 1.0) == pytest.approx(inside, abs=0.0035 if inside > 0.9 else 0.012)


@pytest.mark.parametrize("sd", [0.2, 0.4, 0.7])
def test_all_within_of_one_centred_station_is_exact(sd: float) -> None:
    """χ² with two degrees of freedom (scipy): 1 − exp(−r²/2sd²)."""
    assert all_within(np.zeros(2), sd**2 * np.eye(2), 1.0) == pytest.approx(chi2.cdf(1 / sd**2, 2), abs=2e-3)


@given(st.integers(0, 10_000))
def test_more_room_is_never_less_likely(seed: int) -> None:
    """A probability between 0 and 1 that grows with the circle, and is no larger than that of any station alone."""
    mean, cov = _stations(seed)
    found = [all_within(mean, cov, radius) for radius in (0.5, 1.0, 2.0)]
    assert 0 <= found[0] <= found[1] <= found[2] <= 1
    alone = [1 - beyond(mean[None, k : k + 2], cov[None, k : k + 2, k : k + 2], 1.0)[0] for k in range(0, 10, 2)]
    assert found[1] <= min(alone) + 0.004


def test_a_mark_far_out_is_beyond_and_one_in_the_middle_is_not() -> None:
    """Certain cases stay certain: 0 and 1, no rounding below or above."""
    cov = 0.01 * np.eye(2)[None]
    assert beyond(np.array([[0.0, 0.0]]), cov, 10.0)[0] == 0.0
    assert beyond(np.array([[30.0, 0.0]]), cov, 10.0)[0] == 1.0
