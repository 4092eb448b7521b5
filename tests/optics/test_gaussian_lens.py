"""Beam width, what passes an opening, and the lens, against published values."""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.stats import ncx2

from coach.errors import OutOfReach
from coach.optics.gaussian import beam_radius, centred_fraction, passed_fraction, rayleigh_range
from coach.optics.lens import focus_diameter, focus_tilt, free_space, thin_lens, zinc_selenide_index


@pytest.mark.parametrize(
    ("a", "fraction"),
    [
        (0.5, 0.393469),
        (1, 0.864665),
        (1.5, 0.988891),
        (math.pi / 2, 0.992808),
        (2, 0.999665),
        (1.517427, 0.99),
    ],
)
def test_centred_opening(a: float, fraction: float) -> None:
    """1 − exp(−2a²/w²).  Siegman §17.1, Saleh & Teich §3.1 (memory); πw → 99 % (read)."""
    assert centred_fraction(a, 1.0) == pytest.approx(fraction, abs=6e-7)
    assert passed_fraction(a, 1.0, 0.0) == pytest.approx(fraction, abs=6e-7)


@pytest.mark.parametrize(
    ("a", "w", "d", "fraction"),
    [
        (1, 1, 0.25, 0.830859),
        (1, 1, 0.5, 0.730988),
        (1, 1, 1, 0.396499),
        (1.5, 1, 0.5, 0.956284),
        (1.5, 1, 1, 0.785638),
        (1.5, 1, 1.5, 0.432520),
        (6, 3, 1, 0.998851),
        (6, 3, 2, 0.992949),
        (6, 3, 3, 0.965865),
        (6, 3, 4, 0.880785),
        (6, 3, 6, 0.449728),
        (5, 3.5, 2, 0.923974),
    ],
)
def test_decentred_opening(a: float, w: float, d: float, fraction: float) -> None:
    """Noncentral χ² table: Marcum 1950 (memory), cross-checked by quadrature."""
    assert passed_fraction(a, w, d) == pytest.approx(fraction, abs=6e-7)


@settings(deadline=None)
@example(a=29.757425095565292, w=0.3, d=29.757425095565292)
@given(a=st.floats(0.05, 30), w=st.floats(0.3, 10), d=st.floats(0.001, 30))
def test_decentred_opening_agrees_with_scipy(a: float, w: float, d: float) -> None:
    """Over everything a machine can have, the series is scipy's noncentral χ² with df 2."""
    want = ncx2.cdf(4 * (a / w) ** 2, 2, 4 * (d / w) ** 2)
    assert passed_fraction(a, w, d) == pytest.approx(want, abs=1e-11)


def test_an_extreme_opening_neither_overflows_nor_leaves_zero_to_one() -> None:
    """A needle of a beam on the rim of a wide opening: half of it passes, to 1/(curvature)."""
    assert passed_fraction(100.0, 0.1, 100.0) == pytest.approx(0.5, abs=1e-3)
    assert passed_fraction(100.0, 0.1, 0.0) == 1.0
    assert passed_fraction(1.0, 0.1, 100.0) == 0.0
    with pytest.raises(OutOfReach):
        passed_fraction(1.0, 0.0, 1.0)


@pytest.mark.parametrize(
    ("waist", "z_r", "at_1_m", "at_2_m"),
    [
        (1, 0.296377, 3.519154, 6.821861),
        (2, 1.185507, 2.616508, 3.922301),
        (3, 2.667390, 3.203894, 3.749634),
        (4, 4.742027, 4.087974, 4.341211),
    ],
)
def test_propagation(waist: float, z_r: float, at_1_m: float, at_2_m: float) -> None:
    """Kogelnik & Li, Appl. Opt. 5, 1550 (1966) (memory), 10.6 µm."""
    assert rayleigh_range(waist) == pytest.approx(z_r, abs=6e-7)
    assert beam_radius(1.0, waist) == pytest.approx(at_1_m, abs=6e-7)
    assert beam_radius(2.0, waist) == pytest.approx(at_2_m, abs=6e-7)


def test_m2_multiplies_the_wavelength() -> None:
    """ISO 11146-1: M² 1.2 at 10.6 µm spreads like M² 1 at 12.72 µm."""
    assert beam_radius(1.7, 3.0, m2=1.2) == pytest.approx(beam_radius(1.7, 3.0, wavelength_um=12.72))


@pytest.mark.parametrize(("f", "beam", "m2", "micron"), [(50.8, 6, 1.0, 114.269), (63.5, 6, 1.2, 171.404)])
def test_focus_diameter(f: float, beam: float, m2: float, micron: float) -> None:
    """4λfM²/(πD).  Kogelnik & Li (memory)."""
    assert focus_diameter(f, beam, m2) == pytest.approx(micron, abs=6e-4)


def test_lens_matrix_to_the_focus() -> None:
    """(2 mm, 5 mrad) through f = 50.8 mm.  Kogelnik & Li (memory); Burge: decentre s → s/f (read)."""
    offset, slope = free_space(50.8) @ thin_lens(50.8) @ np.array([2.0, 0.005])
    assert offset == pytest.approx(0.254, abs=1e-9)
    assert 1000 * slope == pytest.approx(-34.37008, abs=6e-6)


def test_focus_tilt_against_an_exact_trace_of_a_thick_lens() -> None:
    """d/f = 39.3701 mrad; the exact trace of a real plano-convex lens gives 39.3867 (derived)."""
    assert focus_tilt(2.0, 50.8) == pytest.approx(39.3701, abs=6e-5)
    assert focus_tilt(2.0, 50.8) == pytest.approx(39.3867, rel=5e-4)


def test_zinc_selenide_index() -> None:
    """Connolly 1979 / Tatian 1984, refractiveindex.info database (read)."""
    assert zinc_selenide_index(10.6) == pytest.approx(2.402781, abs=6e-7)
    with pytest.raises(OutOfReach):
        zinc_selenide_index(25.0)
