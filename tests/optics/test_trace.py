"""The small-angle model against the exact trace: every sign, both sides, both mirrors and mirror 3.

Source of the expected signs: none but the trace itself, which rests on r = d − 2(d·n)n alone; the frames
are fixed by the three folds checked in test_reflection.py.
"""

from dataclasses import replace

import numpy as np
import pytest
from machines import make_machine
from numpy.typing import NDArray

from coach.machine import Machine, Mount, Side
from coach.optics.legs import leg_lengths
from coach.optics.mounts import PlateMotion, plate_motion, screw_responses, side_sign
from coach.optics.shifts import shift_effect
from coach.optics.trace import Layout, TrueState, at_head, at_mirror1, at_mirror2, below_head
from coach.parts import DIRECTIONS

SIDES: tuple[Side, ...] = ("left", "right")
PLACES = [(x, y) for x in (0.0, 250.0, 600.0) for y in (0.0, 170.0, 400.0)]
SMALL = 1e-3
"""Of a turn: small enough that the squares of angles do not matter."""
FIELD = {
    ("tube", "up"): "tube_up",
    ("tube", "back"): "tube_back",
    ("mirror 1", "right"): "mirror1_right",
    ("mirror 2", "right"): "mirror2_right",
    ("head", "up"): "head_up",
    ("head", "back"): "head_back",
}


def _machine(side: Side) -> Machine:
    return make_machine(side, mounts=[])


def _three_screws(mirror: int) -> Mount:
    """A lopsided mount, so that no symmetry hides a wrong sign."""
    points = [("A", -21.0, -17.0), ("B", 24.0, -12.0), ("C", -9.0, 26.0)]
    rows = [{"name": name, "x": x, "y": y, "kind": "screw"} for name, x, y in points]
    return Mount.model_validate({"mirror": mirror, "pitch": 0.7, "drive": "push", "points": rows})


def _with_plate(state: TrueState, mirror: int, motion: PlateMotion) -> TrueState:
    return replace(state, **{f"mirror{mirror}": motion})  # type: ignore[arg-type]


def _gain(before: tuple[float, float], after: tuple[float, float]) -> NDArray[np.float64]:
    return (np.array(after) - np.array(before)) / SMALL


@pytest.mark.parametrize("side", SIDES)
def test_an_aligned_machine_marks_every_centre(side: Side) -> None:
    """With no error anywhere the beam passes both apertures, and lands under the head, at (0, 0)."""
    state = TrueState(Layout.of(_machine(side)))
    for x, y in PLACES:
        for mark in (at_head(state, x, y), at_mirror2(state, y), at_mirror1(state), below_head(state, x, y, 300.0)):
            assert mark == pytest.approx((0, 0), abs=1e-9)


@pytest.mark.parametrize("mirror", [1, 2])
@pytest.mark.parametrize("side", SIDES)
def test_screws_move_the_marks_as_the_leg_model_says(side: Side, mirror: int) -> None:
    """u = c + a1·L1 + a2·L2 at the head and m ∓ a1·L1 at mirror 2, with `answers` for every screw."""
    machine, mount = _machine(side), _three_screws(mirror)
    still = TrueState(Layout.of(machine))
    for screw, (slope_u, slope_v, shift) in zip(mount.screws, screw_responses(mount, side), strict=True):
        moved = _with_plate(still, mirror, plate_motion(mount, {screw.name: SMALL}))
        for x, y in PLACES:
            leg1, leg2 = leg_lengths(machine, x, y)
            reach = leg2 + (leg1 if mirror == 1 else 0.0)
            got = _gain(at_head(still, x, y), at_head(moved, x, y))
            assert got == pytest.approx([shift + slope_u * reach, slope_v * reach], abs=2e-3)
            seen = leg1 if mirror == 1 else 0.0
            own_shift = -shift if mirror == 1 else 0.0
            got = _gain(at_mirror2(still, y), at_mirror2(moved, y))
            assert got == pytest.approx([own_shift - slope_u * seen, slope_v * seen], abs=2e-3)
        slopes = np.array(slopes_at_head(moved, 100.0)) / SMALL
        assert slopes == pytest.approx([slope_u, slope_v], abs=2e-3)


@pytest.mark.parametrize("side", SIDES)
def test_shifts_move_the_marks_as_the_table_says(side: Side) -> None:
    """Every useful direction of every part, at the head and at the own apertures of mirrors 2 and 1."""
    still = TrueState(Layout.of(_machine(side)))
    for part, directions in DIRECTIONS.items():
        for direction in directions:
            want = shift_effect(side, part, **{direction: 1.0})
            moved = replace(still, **{FIELD[part, direction]: 1.0})  # type: ignore[arg-type]
            for x, y in PLACES:
                assert at_head(moved, x, y) == pytest.approx((want.head_u, want.head_v), abs=1e-9)
                assert at_mirror2(moved, y) == pytest.approx((want.mirror2_u, want.mirror2_v), abs=1e-9)
            assert at_mirror1(moved) == pytest.approx((want.mirror1_u, want.mirror1_v), abs=1e-9)


@pytest.mark.parametrize(("side", "sign"), [("left", 1.0), ("right", -1.0)])
def test_the_mark_at_mirror_1_follows_the_tube_and_nothing_else(side: Side, sign: float) -> None:
    """Who faces its tape looks along the tube's beam: to the left on side left, so that the back is to the right; the
    other way on side right.  Mirror 1 to the right carries its opening along the beam: no change;
    nor does any tilt or rise of its plate, or anything behind it."""
    still = TrueState(Layout.of(_machine(side)))
    assert at_mirror1(replace(still, tube_back=1.0, tube_up=0.5)) == pytest.approx((sign, 0.5), abs=1e-9)
    assert at_mirror1(replace(still, aperture1_back=1.0, aperture1_up=0.5)) == pytest.approx((-sign, -0.5), abs=1e-9)
    for moved in (
        replace(still, mirror1_right=2.0),
        replace(still, mirror1=PlateMotion(3.0, -2.0, 0.5), mirror2=PlateMotion(1.0, 1.0)),
        replace(still, mirror2_right=2.0, head_up=1.0, yaw=5.0),
    ):
        assert at_mirror1(moved) == pytest.approx((0.0, 0.0), abs=1e-9)


@pytest.mark.parametrize("side", SIDES)
def test_mirror_2s_opening_off_one_way_has_its_mark_off_the_other(side: Side) -> None:
    """The opening alone 1 mm to the right in the machine (X): who faces the tape stands behind it and looks to the
    front, so that X is to the left (derived): the beam, which did not move, marks it 1 mm to the right.  1 mm up:
    1 mm down.  At the head nothing changes."""
    machine = _machine(side)
    state = TrueState(Layout.of(machine), mirror1=PlateMotion(0.4, -0.3))
    cases = ((replace(state, aperture2_right=1.0), (1.0, 0.0)), (replace(state, aperture2_up=1.0), (0.0, -1.0)))
    for moved, change in cases:
        for x, y in PLACES:
            assert np.subtract(at_mirror2(moved, y), at_mirror2(state, y)) == pytest.approx(change, abs=1e-3)
            assert at_head(moved, x, y) == at_head(state, x, y)


@pytest.mark.parametrize("side", SIDES)
def test_mirror_3_turns_the_beam_below_the_head(side: Side) -> None:
    """Δ(x, y) on the bed per metre down for every screw, and its rise is not counted."""
    mount = _three_screws(3)
    still = TrueState(Layout.of(_machine(side)))
    for screw, (per_metre_x, per_metre_y, none) in zip(mount.screws, screw_responses(mount, side), strict=True):
        moved = _with_plate(still, 3, plate_motion(mount, {screw.name: SMALL}))
        high, low = (np.array(below_head(moved, 300.0, 200.0, drop)) for drop in (100.0, 1100.0))
        assert (low - high) / SMALL == pytest.approx([per_metre_x, per_metre_y], abs=2e-2)
        assert none == 0.0


def slopes_at_head(state: TrueState, y: float) -> tuple[float, float]:
    """Of leg 2 across and up, mrad: by how much the mark moves as the head goes 1 m farther along it."""
    near, far = (100.0, 500.0) if state.layout.side == "left" else (500.0, 100.0)
    gained = np.subtract(at_head(state, far, y), at_head(state, near, y)) / 0.4
    return float(gained[0]), float(gained[1])


@pytest.mark.parametrize("side", SIDES)
def test_an_offset_at_the_entrance_lands_turned_over_on_the_bed(side: Side) -> None:
    """(u, v) lands at (−v, −u) on side left and (+v, +u) on side right; slopes carry over likewise."""
    sign = side_sign(side)
    still = TrueState(Layout.of(_machine(side)))
    shifted = replace(still, tube_back=0.8, tube_up=-0.5)
    u, v = at_head(shifted, 300.0, 200.0)
    landed = below_head(shifted, 300.0, 200.0, 150.0)
    assert landed == pytest.approx((-sign * v, -sign * u), abs=1e-9)
    tilted = replace(still, mirror1=PlateMotion(0.02, 0.03))
    slope_u, slope_v = slopes_at_head(tilted, 200.0)
    high, low = (np.array(below_head(tilted, 300.0, 200.0, drop)) for drop in (100.0, 1100.0))
    assert low - high == pytest.approx([-sign * slope_v, -sign * slope_u], abs=1e-4)


@pytest.mark.parametrize("about_middle", [False, True])
@pytest.mark.parametrize("side", SIDES)
def test_gantry_yaw_makes_the_corners_disagree_crosswise(side: Side, about_middle: bool) -> None:
    """A yaw that grows with the travel leaves a term in L1·L2: the crosswise sum of the four corners."""
    machine = _machine(side)
    state = replace(TrueState(Layout.of(machine)), yaw=0.5, yaw_about_middle=about_middle)
    crosswise = 0.0
    for x, y in ((0, 0), (0, 400), (600, 0), (600, 400)):
        leg1, leg2 = leg_lengths(machine, x, y)
        sign = 1 if (leg1 > 0.3) == (leg2 > 0.4) else -1
        crosswise += sign * at_head(state, x, y)[0]
    assert crosswise == pytest.approx(-0.5 * 0.4 * 0.6, rel=1e-2)


def test_large_errors_leave_the_small_angle_model_by_less_than_a_reading() -> None:
    """At 15 mrad of tilt on both mirrors the leg model is off by less than 0.3 mm at the far corner."""
    machine = _machine("left")
    state = TrueState(Layout.of(machine), mirror1=PlateMotion(4.0, -3.0), mirror2=PlateMotion(-3.0, 4.0), tube_up=2.0)
    leg1, leg2 = leg_lengths(machine, 600, 0)
    root2 = 2**0.5
    model = (8 * leg1 + (8 + 6) * leg2, 2 + 3 * root2 * leg1 + (3 * root2 - 4 * root2) * leg2)
    assert at_head(state, 600, 0) == pytest.approx(model, abs=0.3)
    assert at_head(state, 600, 0) != pytest.approx(model, abs=1e-4)
