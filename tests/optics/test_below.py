"""The beam below mirror 3: signs and the two-height test against the exact trace; lens and nozzle against ray
matrices and published values."""

from dataclasses import replace

import numpy as np
import pytest
from heads import at_nozzle, focused_slope
from scipy.stats import ncx2

from coach.errors import OutOfReach
from coach.machine import Mount, Side
from coach.optics.below import (
    clipped_by_nozzle,
    cone_radius,
    degrees_of,
    least_lowered,
    lens_to_nozzle,
    mirror3_responses,
    slope_of,
    two_height_slope,
)
from coach.optics.lens import free_space, thin_lens, tilted_plate_shift, zinc_selenide_index
from coach.optics.mounts import plate_motion
from coach.optics.trace import Layout, TrueState, below_head

SIDES: tuple[Side, ...] = ("left", "right")


def _still(side: Side) -> TrueState:
    return TrueState(Layout(side, 600.0, 400.0, 150.0, 120.0))


def _lopsided() -> Mount:
    """No symmetry hides a wrong sign."""
    points = [("A", -21.0, -17.0), ("B", 24.0, -12.0), ("C", -9.0, 26.0)]
    rows = [{"name": name, "x": x, "y": y, "kind": "screw"} for name, x, y in points]
    return Mount.model_validate({"mirror": 3, "pitch": 0.7, "drive": "push", "points": rows})


@pytest.mark.parametrize("side", SIDES)
def test_screws_of_mirror_3_against_the_exact_trace(side: Side) -> None:
    """Slope and sideways shift for every screw: where the traced beam meets two heights below the head."""
    mount, turned = _lopsided(), 1e-3
    for screw, answer in zip(mount.screws, mirror3_responses(mount, side), strict=True):
        moved = replace(_still(side), mirror3=plate_motion(mount, {screw.name: turned}))
        for drop in (0.0, 70.0, 400.0):
            landed = np.array(below_head(moved, 300.0, 200.0, drop)) / turned
            want = answer[2:] + answer[:2] * drop / 1000.0
            assert landed == pytest.approx(want, abs=2e-2)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("screws", [{"A": 0.2}, {"B": -0.3, "C": 0.15}, {"A": 0.4, "C": -0.4}])
def test_two_heights_tell_how_the_traced_beam_leans(side: Side, screws: dict[str, float]) -> None:
    """A mark at the bed's usual height and one 120 mm lower, of the traced beam, lens out: the slope per mm of bed is
    the answer of the turned screws, to second order in angles."""
    mount = _lopsided()
    state = replace(_still(side), mirror3=plate_motion(mount, screws))
    high, low = (np.array(below_head(state, 250.0, 150.0, drop)) for drop in (150.0, 270.0))
    seen = [two_height_slope(float(d), 120.0) for d in low - high]
    turns = np.array([screws.get(s.name, 0.0) for s in mount.screws])
    assert seen == pytest.approx(turns @ mirror3_responses(mount, side)[:, :2], abs=0.8)
    assert np.hypot(*seen) > 5.0


@pytest.mark.parametrize("side", SIDES)
def test_a_beam_beside_the_middle_stays_upright(side: Side) -> None:
    """Tube up and back, traced: the beam comes down beside the head's axis, at both heights alike."""
    state = replace(_still(side), tube_back=0.8, tube_up=-0.5)
    high, low = (np.array(below_head(state, 300.0, 200.0, drop)) for drop in (100.0, 220.0))
    assert low - high == pytest.approx([0.0, 0.0], abs=1e-9)
    assert np.abs(low).min() > 0.4


def test_one_mm_over_fifty() -> None:
    """1 mm over 50 mm is 1.1458° (derived); and back."""
    assert degrees_of(two_height_slope(1.0, 50.0)) == pytest.approx(1.1458, abs=6e-5)
    assert slope_of(degrees_of(20.0)) == pytest.approx(20.0)
    with pytest.raises(OutOfReach):
        two_height_slope(1.0, 0.0)


def test_the_height_it_takes() -> None:
    """√2·u over h: marks read to 0.2 mm, 600 mm apart, are 0.471405 mrad (JCGM 100, derived), so 0.027010° ask for
    600 mm."""
    assert least_lowered(0.2, degrees_of(0.471405)) == pytest.approx(600.0, rel=1e-5)


def test_lean_and_nozzle_by_ray_matrices() -> None:
    """(2 mm, 5 mrad) through f = 50.8 mm leaves with −34.37008 mrad (Kogelnik & Li: memory; Burge: s/f, read); at the
    nozzle, 8 mm above the focus, it is where the matrix to the focus and 8 mm back put it (ABCD)."""
    assert focused_slope(5.0, 2.0) == pytest.approx(-34.37008, abs=6e-6)
    back = free_space(-8.0) @ free_space(50.8) @ thin_lens(50.8)
    assert lens_to_nozzle(50.8, 8.0) == pytest.approx(back)
    assert at_nozzle(5.0, 2.0) == pytest.approx(float((back @ [2.0, 0.005])[0]))
    assert lens_to_nozzle(50.8, 8.0) @ [1.0, 0.0] == pytest.approx([8.0 / 50.8, -1 / 50.8])  # similar triangles


def test_lean_of_a_millimetre_at_the_lens() -> None:
    """1 mm off at f = 50.8: 1.1277°, toward the lens's middle; 0.1181 mm over 6 mm (Burge: d/f, read)."""
    slope = focused_slope(0.0, 1.0)
    assert degrees_of(slope) == pytest.approx(-1.1277, abs=6e-5)
    assert 6.0 * slope / 1000 == pytest.approx(-0.1181, abs=6e-5)


@pytest.mark.parametrize(("off", "lost"), [(0.3, 0.1), (0.5, 0.5), (0.7, 3.2), (0.9, 12.7), (1.2, 47.3)])
def test_what_a_nozzle_off_the_beam_cuts_off(off: float, lost: float) -> None:
    """Hole 2.5, cone radius 0.551 at s = 8, w 3.5, f 50.8: the published noncentral χ² (derived), and scipy's."""
    cone = cone_radius(3.5, 50.8, 8.0)
    assert cone == pytest.approx(0.551, abs=6e-4)
    clipped = clipped_by_nozzle(2.5, 3.5, 50.8, 8.0, np.array([off]))[0]
    assert 100 * clipped == pytest.approx(lost, abs=0.06)
    assert clipped == pytest.approx(ncx2.sf(4 * (1.25 / cone) ** 2, 2, 4 * (off / cone) ** 2), abs=1e-10)


def test_a_nozzle_beyond_the_focus_is_refused() -> None:
    """It lies between lens and focus."""
    for distance in (0.0, 50.8, 60.0):
        with pytest.raises(OutOfReach, match="between"):
            cone_radius(3.5, 50.8, distance)


def test_a_combiner_moves_the_beam() -> None:
    """3 mm of zinc selenide at 45°: 1.46812 mm (Hecht: memory; n as in the refractiveindex.info database: read);
    upright none."""
    assert tilted_plate_shift(3.0, 45.0, zinc_selenide_index()) == pytest.approx(1.46812, abs=6e-6)
    assert tilted_plate_shift(3.0, 0.0, 2.4) == 0.0
    with pytest.raises(OutOfReach):
        tilted_plate_shift(3.0, 90.0, 2.4)
