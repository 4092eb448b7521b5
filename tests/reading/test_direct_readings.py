"""Offsets, clock and crosshair, and which face was looked at."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.errors import InputError, OutOfReach
from coach.reading.clock import from_clock, parse_clock
from coach.reading.crosshair import Crosshair, from_crosshair
from coach.reading.face import mirrored
from coach.reading.offsets import from_offsets
from coach.shown import IN_MM

millimetres = st.floats(-50, 50)


@given(millimetres, millimetres, st.sampled_from(["outer", "sticky"]))
def test_mirroring_twice_changes_nothing(u, v, face) -> None:
    """A face is its own inverse, and only u is touched."""
    assert mirrored(*mirrored(u, v, face), face) == (u, v)
    assert mirrored(u, v, "sticky") == (-u, v)


def test_offsets_as_typed() -> None:
    """Right and up in mm or inches, comma or point; what was typed is kept word for word."""
    reading = from_offsets("1,2", '-1/8"')
    assert (reading.u, reading.v) == (1.2, -3.175)
    assert reading.typed == {
        "method": "offsets",
        "right": "1,2",
        "up": '-1/8"',
        "unit": "mm",
        "tool": "callipers",
        "face": "outer",
    }
    assert from_offsets("0.1", 0.5, unit="in").u == pytest.approx(2.54)
    assert from_offsets("0.1", 0.5, unit="in").v == 0.5


def test_offsets_from_the_sticky_side_are_mirrored_and_say_so() -> None:
    """Right becomes left; up stays up."""
    reading = from_offsets(1.5, 0.5, face="sticky")
    assert (reading.u, reading.v) == (-1.5, 0.5)
    assert "sticky" in reading.notes(IN_MM)[0]


def test_the_doubt_of_an_offset() -> None:
    """Tool and two judgements by eye (0.15 mm each, common practice) add in squares; half-widths count a/√3.

    JCGM 100 §4.3.7 and §5.1.2 (memory); callipers 0.017321 mm, reference values §7; a ruler's half line 0.5.
    """
    assert from_offsets(1, 1).sd == pytest.approx(math.hypot(0.017321, 0.15, 0.15), abs=1e-6)
    assert from_offsets(1, 1, tool="ruler").sd == pytest.approx(math.hypot(0.5 / math.sqrt(3), 0.15, 0.15))


@pytest.mark.parametrize(("right", "up", "named"), [("", "1", "to the right"), ("1", "hello", "upwards")])
def test_offsets_that_cannot_be_read_are_named(right, up, named) -> None:
    """The refusal says which of the two it is about."""
    with pytest.raises(InputError, match=named):
        from_offsets(right, up)


def test_offsets_off_any_tape_are_refused() -> None:
    """Half a metre on a piece of tape is a slip."""
    with pytest.raises(OutOfReach):
        from_offsets("500", "0")


@pytest.mark.parametrize(
    ("clock", "u", "v"),
    [
        ("12", 0, 2),
        ("3 o'clock", 2, 0),
        ("6", 0, -2),
        ("9 o’clock", -2, 0),
        ("1:30", math.sqrt(2), math.sqrt(2)),
        ("2:30", 2 * math.sin(math.radians(75)), 2 * math.cos(math.radians(75))),
        ("4.5", math.sqrt(2), -math.sqrt(2)),
        ("10½", -math.sqrt(2), math.sqrt(2)),
        ("12:30", 2 * math.sin(math.radians(15)), 2 * math.cos(math.radians(15))),
    ],
)
def test_clock_directions(clock, u, v) -> None:
    """Twelve is up, three is right, half hours between."""
    reading = from_clock("2", clock)
    assert (reading.u, reading.v) == pytest.approx((u, v), abs=1e-12)


@pytest.mark.parametrize("clock", ["", "14", "0", "13:00", "2:70", "2.3", "2.30", "right", "-3"])
def test_directions_that_are_not_on_the_clock_are_refused(clock) -> None:
    """Only 1 to 12, with halves; nothing is guessed."""
    with pytest.raises(InputError, match="1 to 12"):
        parse_clock(clock)


def test_a_clock_reading_is_less_sure_further_out() -> None:
    """Half an hour either way is ±15°: 15°/√3 (JCGM 100 §4.3.7, memory) times the distance."""
    assert from_clock(8, "3").sd == pytest.approx(8 * math.radians(15) / math.sqrt(3))
    assert from_clock(0.5, "3").sd == from_offsets(0.5, 0).sd
    with pytest.raises(OutOfReach, match="negative"):
        from_clock("-2", "3")


@given(
    st.lists(st.sampled_from([(1, 0), (-1, 0), (0, 1), (0, -1)]), max_size=60),
    st.sampled_from([0.1, 0.5, 1.0]),
)
def test_the_crosshair_counts_its_steps(moves, step) -> None:
    """Key presses add up without creeping, and there and back is exactly home."""
    crosshair = Crosshair(step=step)
    for right, up in moves:
        crosshair = crosshair.moved(right, up)
    assert crosshair.u == pytest.approx(step * sum(right for right, _ in moves), abs=1e-9)
    for right, up in moves:
        crosshair = crosshair.moved(-right, -up)
    assert (crosshair.u, crosshair.v) == (0.0, 0.0)


def test_a_crosshair_reading_carries_step_and_eyesight() -> None:
    """A coarser step and a larger opening are less sure; the sticky side is mirrored."""
    place = Crosshair(2.0, -1.0, 0.5)
    reading = from_crosshair(place, 18.0, face="sticky")
    assert (reading.u, reading.v) == (-2.0, -1.0)
    assert reading.sd == pytest.approx(math.hypot(0.25 / math.sqrt(3), 0.03 * 18.0))
    assert from_crosshair(Crosshair(step=2.0), 18.0).sd > reading.sd > from_crosshair(place, 8.0).sd
