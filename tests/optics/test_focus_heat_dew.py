"""Depth of focus, a lens that warms, and the dew point, against published coefficients and derived values."""

import math

import pytest

from coach.errors import OutOfReach
from coach.optics.dew import dew_point
from coach.optics.focus import depth_of_focus, focus_radius, peak_left
from coach.optics.gaussian import beam_radius, passed_fraction
from coach.optics.heat import absorbed_for, focus_moves, thermal_focal_length
from coach.optics.lens import focus_tilt, free_space, thin_lens


@pytest.mark.parametrize(
    ("f", "micron", "depth"), [(38.1, 47.7, 0.52), (50.8, 63.7, 0.924), (63.5, 79.6, 1.444), (101.6, 127.3, 3.696)]
)
def test_depth_of_focus(f: float, micron: float, depth: float) -> None:
    """w0 = M²λf/(πw) and z_R for w 3.5, M² 1.3.  Kogelnik & Li; ISO 11146-1 for M² (memory)."""
    assert focus_radius(f, 3.5, 1.3) == pytest.approx(micron, abs=0.05)
    assert depth_of_focus(f, 3.5, 1.3) == pytest.approx(depth, abs=5e-4)


def test_the_spot_is_root_two_wider_at_the_depth() -> None:
    """Kogelnik & Li's w(z) from the waist behind the lens, with the same M²: √2 at z_R, so half the peak."""
    depth, waist = depth_of_focus(50.8, 3.5, 1.3), focus_radius(50.8, 3.5, 1.3) / 1000
    assert beam_radius(depth / 1000, waist, m2=1.3) == pytest.approx(math.sqrt(2) * waist)
    assert peak_left(depth, depth) == pytest.approx(0.5)


@pytest.mark.parametrize(("off", "left"), [(0.0, 1.0), (1.0, 0.461), (2.0, 0.176), (-2.0, 0.176)])
def test_what_is_left_off_focus(off: float, left: float) -> None:
    """1/(1 + (Δ/z_R)²) at f 50.8: Kogelnik & Li (derived)."""
    depth = depth_of_focus(50.8, 3.5, 1.3)
    assert peak_left(off, depth) == pytest.approx(left, abs=5e-4)


@pytest.mark.parametrize(
    ("share", "f_th", "moves"), [(0.002, 123.6, 0.021), (0.02, 12.36, 0.209), (0.10, 2.47, 1.044)]
)
def test_a_lens_that_takes_up_light(share: float, f_th: float, moves: float) -> None:
    """w 4, 60 W, K 18 W/mK, dn/dT 6.1e-5: Innocenzi (memory), values derived; f 50.8."""
    assert thermal_focal_length(share, 60.0, 4.0) == pytest.approx(f_th, rel=1e-3)
    assert focus_moves(50.8, share, 60.0, 4.0) == pytest.approx(moves, abs=6e-4)
    assert absorbed_for(50.8, moves, 60.0, 4.0) == pytest.approx(share, rel=0.02)


@pytest.mark.parametrize(("share", "f_th"), [(0.002, 69.5), (0.05, 2.78), (0.20, 0.695)])
def test_a_lens_that_takes_up_light_in_a_narrower_beam(share: float, f_th: float) -> None:
    """w 3, 60 W (derived)."""
    assert thermal_focal_length(share, 60.0, 3.0) == pytest.approx(f_th, rel=1e-3)


def test_the_focus_moves_as_two_thin_lenses_say() -> None:
    """Ray matrices (Kogelnik & Li): both lenses in one place, the rays' crossing found in the product; f²/f_th is
    that to first order."""
    f_th = thermal_focal_length(0.02, 60.0, 4.0) * 1000
    both = thin_lens(50.8) @ thin_lens(f_th)
    crosses = -1.0 / both[1, 0]
    assert (free_space(crosses) @ both)[0, 0] == pytest.approx(0.0, abs=1e-12)
    assert 50.8 - crosses == pytest.approx(focus_moves(50.8, 0.02, 60.0, 4.0), rel=0.01)
    assert crosses < 50.8


@pytest.mark.parametrize(
    ("air", "humidity", "dew"), [(25, 60, 16.69), (28, 70, 22.01), (20, 50, 9.26), (30, 80, 26.17), (21, 100, 21.0)]
)
def test_dew_point(air: float, humidity: float, dew: float) -> None:
    """Magnus with 17.62 and 243.12 °C: WMO-No. 8 (memory); at 100 % it is the air's own temperature."""
    assert dew_point(air, humidity) == pytest.approx(dew, abs=5e-3)


@pytest.mark.parametrize(
    ("d", "lost"),
    [(1, 0.006), (2, 0.042), (3, 0.256), (4, 1.228), (5, 4.535), (6, 12.89), (8, 49.785)],
)
def test_what_an_offset_costs_at_a_head_s_opening(d: float, lost: float) -> None:
    """Opening of radius 8.2, w 3.5, in per cent: noncentral χ² (derived)."""
    assert 100 * (1 - passed_fraction(8.2, 3.5, d)) == pytest.approx(lost, abs=6e-3 if lost > 10 else 6e-4)


@pytest.mark.parametrize(("d", "lost"), [(0.3, 0.1), (0.5, 0.5), (0.7, 3.2), (0.9, 12.7), (1.2, 47.3)])
def test_what_an_offset_costs_at_a_nozzle(d: float, lost: float) -> None:
    """Hole of radius 1.25; the cone w·s/f at s 8, f 50.8, w 3.5 is 0.551 mm there (derived)."""
    cone = 3.5 * 8 / 50.8
    assert cone == pytest.approx(0.551, abs=5e-4)
    assert 100 * (1 - passed_fraction(1.25, 0.55, d)) == pytest.approx(lost, abs=0.06)


def test_a_mm_at_the_lens_leans_the_cut() -> None:
    """d/f (Burge: read) at f 50.8, its arc tangent 1.1277°, 0.1181 mm over 6 mm."""
    lean = focus_tilt(1.0, 50.8) / 1000
    assert math.degrees(math.atan(lean)) == pytest.approx(1.1277, abs=5e-5)
    assert 6 * lean == pytest.approx(0.1181, abs=5e-5)


def test_growth_of_the_beam_from_one_corner_to_the_other() -> None:
    """w0 3, M² 1.2: 3.237 at 0.9 m, 4.127 at 2.1 m, fluence 1.626 times less (Kogelnik & Li, derived)."""
    near, far = beam_radius(0.9, 3.0, m2=1.2), beam_radius(2.1, 3.0, m2=1.2)
    assert (near, far) == (pytest.approx(3.237, abs=5e-4), pytest.approx(4.127, abs=5e-4))
    assert (far / near) ** 2 == pytest.approx(1.626, abs=5e-4)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: dew_point(25, 0),
        lambda: dew_point(25, 101),
        lambda: dew_point(75, 50),
        lambda: thermal_focal_length(0.0, 60, 4),
        lambda: thermal_focal_length(2.0, 60, 4),
        lambda: peak_left(1.0, 0.0),
        lambda: depth_of_focus(50.8, 0.0),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(wrong) -> None:
    """No traceback of a formula: what was wrong and what was expected."""
    with pytest.raises(OutOfReach, match="Expected"):
        wrong()
