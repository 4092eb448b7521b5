"""The drawing that says what a gap is."""

import itertools
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from coach.pictures.aperture import ApertureScene
from coach.pictures.gaps import EXAMPLE, WAYS, GapsScene
from coach.pictures.modes import RasterMode
from coach.pictures.view import render
from coach.reading.gaps import from_gaps
from coach.scenes.of_step import gaps_scene
from coach.shown import IN_MM

TAPE = ApertureScene(18.0, 11.0, 1.0, view_radius=9.54)


@given(st.floats(0, 0.6), st.floats(0, 2 * math.pi), st.floats(0.5, 5), st.booleans())
def test_the_lines_drawn_are_the_gaps_that_are_read(share: float, angle: float, width: float, to_edge: bool) -> None:
    """Measured off the drawing, the four lines give the mark back: what is shown is what the reading means."""
    u, v = 9 * share * math.cos(angle), 9 * share * math.sin(angle)
    scene = GapsScene(TAPE, u, v, width, to_edge)
    lines = {way: scene.gap(way) for way in WAYS}
    assume(all(lines.values()))
    lengths = {way: math.dist(*line) for way, line in lines.items() if line is not None}
    reading = from_gaps(aperture_diameter=18, to="edge" if to_edge else "centre", **lengths)
    assert (reading.u, reading.v) == pytest.approx((u, v), abs=1e-6)
    for way, (start, _) in ((way, line) for way, line in lines.items() if line is not None):
        assert math.hypot(*start) == pytest.approx(9.0)  # begins on the rim
        assert start[1 if WAYS[way][0] else 0] == (v if WAYS[way][0] else u)  # and runs through the mark's middle


def test_a_mark_over_the_rim_has_no_gap_there() -> None:
    """Where the mark reaches the rim, or lies beside it, no line is invented."""
    assert GapsScene(TAPE, 8.5, 0.0, 3.0).gap("right") is None
    assert GapsScene(TAPE, 8.5, 0.0, 3.0).gap("left") is not None
    assert [GapsScene(TAPE, 0.0, 9.5, 1.0).gap(way) for way in ("left", "right", "top")] == [None] * 3


def test_every_mode_and_size_draws_it() -> None:
    """Whole rows everywhere; the four names stand there from the smallest drawing that has words on."""
    for mode, (columns, rows), place in itertools.product(
        RasterMode, [(1, 1), (10, 4), (38, 13), (66, 30)], [(0.0, 0.0), (-3.0, 2.0), (12.0, 12.0)]
    ):
        scene = GapsScene(TAPE, *place, 2.0, asked="top", example=True)
        lines = render(scene, columns, rows, mode, wording=IN_MM).cells().lines()
        assert [len(line) for line in lines] == [columns] * rows
        if mode is RasterMode.ASCII:
            assert "".join(lines).isascii()
        if columns >= 38 and place == (-3.0, 2.0):
            assert all(any(f" {name}" in line or f"{name} " in line for line in lines) for name in ("top", "bottom"))


def test_before_anything_is_measured_an_example_is_drawn() -> None:
    """Off the middle, inside the rim, and called an example: no one takes it for the mark."""
    scene = gaps_scene(TAPE, None, {}, asked="left")
    assert (scene.example, scene.to_edge) == (True, True)
    assert 0 < math.hypot(scene.u, scene.v) + scene.width / 2 < 9
    assert all(scene.gap(way) for way in WAYS)
    lines = render(scene, 60, 24, RasterMode.ANSI, wording=IN_MM).cells().lines()
    assert any(EXAMPLE in line for line in lines)
    measured = gaps_scene(TAPE, (1.0, 2.0, 3.0), {"to": "centre"}, asked="left")
    assert (measured.example, measured.to_edge, measured.u, measured.v, measured.width) == (
        False,
        False,
        1.0,
        2.0,
        3.0,
    )
