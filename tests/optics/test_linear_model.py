"""The small-angle model that belief and advice use: leg lengths, mounts and shifts."""

import math

import numpy as np
import pytest
from machines import make_machine

from coach.errors import InputError, UnknownName
from coach.machine import Machine, Mount
from coach.optics.legs import leg_lengths
from coach.optics.mounts import plate_motion, screw_responses
from coach.optics.shifts import shift_effect
from coach.threads import pitch_of_thread

CORNER = [(-20.0, -20.0), (20.0, -20.0), (-20.0, 20.0)]


def _machine(side: str) -> Machine:
    return make_machine(side, mounts=[])


def _mount(mirror: int = 1, pitch: float = 0.7, arm: float = 40.0, kinds: str = "pss") -> Mount:
    points = [
        {
            "name": name,
            "x": x * arm / 40,
            "y": y * arm / 40,
            "kind": "pivot" if kind == "p" else "screw",
        }
        for name, kind, (x, y) in zip("ABC", kinds, CORNER, strict=True)
    ]
    return Mount.model_validate({"mirror": mirror, "pitch": pitch, "drive": "push", "points": points})


def test_leg_lengths_grow_away_from_mirror_1_and_from_mirror_2() -> None:
    """Leg lengths in metres at two opposite corners, both sides.  Source: design's model, by hand."""
    assert leg_lengths(_machine("left"), 0, 400) == pytest.approx((0.150, 0.120))
    assert leg_lengths(_machine("left"), 600, 0) == pytest.approx((0.550, 0.720))
    assert leg_lengths(_machine("right"), 600, 400) == pytest.approx((0.150, 0.120))
    assert leg_lengths(_machine("right"), 0, 0) == pytest.approx((0.550, 0.720))


@pytest.mark.parametrize(
    ("thread", "pitch"),
    [
        # ISO 261/262/724, values read in a secondary chart
        ("M2.5", 0.45),
        ("M3", 0.5),
        ("M4", 0.7),
        ("M5", 0.8),
        ("M6", 1.0),
        ("M8", 1.25),
        ("M2.5x0.35", 0.35),
        ("M3 × 0.35", 0.35),
        ("m4x0,5", 0.5),
        ("M5x0.5", 0.5),
        ("M6x0.75", 0.75),
        ("M8x1", 1.0),
        # ASME B1.1 (memory), 25.4 / threads per inch
        ("4-40", 0.635),
        ("6-32", 0.79375),
        ("8-32", 0.79375),
        ("10-32", 0.79375),
        ("10-24", 1.058333),
        ("1/4-20", 1.27),
        ("1/4-28", 0.907143),
        ("1/4-80", 0.3175),
    ],
)
def test_thread_pitches(thread: str, pitch: float) -> None:
    """A thread's name gives its pitch in mm."""
    assert pitch_of_thread(thread) == pytest.approx(pitch, abs=5e-7)


@pytest.mark.parametrize(
    ("thread", "arm", "tilt"),
    [("M4", 40, 17.5), ("M4", 25.4, 27.5591), ("M3", 40, 12.5), ("1/4-80", 25.4, 12.5), ("M5", 50, 16)],
)
def test_tilt_per_turn_is_pitch_over_arm(thread: str, arm: float, tilt: float) -> None:
    """mrad of plate per turn.  Source: Schwertz & Burge, Field Guide to Optomechanical Design (computed)."""
    motion = plate_motion(_mount(pitch=pitch_of_thread(thread), arm=arm), {"B": 1.0})
    assert motion.gradient_x == pytest.approx(tilt, abs=5e-5)
    assert motion.gradient_y == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("turns", "tilt", "shift"),
    [({"B": 1.0}, 17.498214, 0.494975), ({"B": 1.0, "C": 0.5}, 19.563099, 0.742462)],
)
def test_three_point_mount_table(turns: dict[str, float], tilt: float, shift: float) -> None:
    """Total tilt (mrad) and beam shift at 45° (mm) of a 40 mm plate.  Source: Schwertz & Burge (computed)."""
    motion = plate_motion(_mount(), turns)
    gradient = math.hypot(motion.gradient_x, motion.gradient_y) / 1000
    assert 1000 * math.atan(gradient) == pytest.approx(tilt, abs=1e-6)
    assert math.sqrt(2) * motion.rise == pytest.approx(shift, abs=1e-6)


def test_marks_3_mm_apart_over_600_mm() -> None:
    """5 mrad of beam: 0.142857 turn of the yaw or 0.202031 of the pitch screw (derived; M4, 40 mm)."""
    beam = 3.0 / 0.6
    (yaw_screw, pitch_screw) = screw_responses(_mount(), "left")
    assert beam == pytest.approx(5.0)
    assert beam / yaw_screw[0] == pytest.approx(0.142857, abs=5e-7)
    assert beam / -pitch_screw[1] == pytest.approx(0.202031, abs=5e-7)


def test_three_equal_turns_move_the_beam_without_turning_it() -> None:
    """All three screws alike: only the shift √2·pitch is left, signed by mirror and side (derived)."""
    for side, sign in (("left", 1.0), ("right", -1.0)):
        for mirror, own in ((1, 1.0), (2, -1.0)):
            total = screw_responses(_mount(mirror, kinds="sss"), side).sum(axis=0)  # type: ignore[arg-type]
            assert total == pytest.approx(np.array([0, 0, sign * own * math.sqrt(2) * 0.7]), abs=1e-9)


def test_what_cannot_be_turned_or_shifted_is_refused_in_words() -> None:
    """Pivots do not turn; parts are not shifted where it would not help."""
    with pytest.raises(UnknownName, match=r"no screw 'A'.*one of: B, C"):
        plate_motion(_mount(), {"A": 0.5})
    with pytest.raises(UnknownName, match="mirror 2, head, mirror 1, tube"):
        shift_effect("left", "mirror 3", up=1)
    for part, where in (
        ("tube", "right"),
        ("mirror 2", "up"),
        ("mirror 2", "back"),
        ("head", "right"),
        ("mirror 1", "up"),
    ):
        with pytest.raises(InputError, match=f"{part} {where}"):
            shift_effect("left", part, **{where: 0.3})
