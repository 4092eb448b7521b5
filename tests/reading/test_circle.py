"""The geometric circle through points of a mark's rim."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.errors import InputError, OutOfReach
from coach.reading.circle import NotRound, fit_circle, from_rim


def test_published_circle_fit() -> None:
    """Gander, Golub & Strebel, BIT 34 (1994) 558: points read, answer from memory (reference values §6)."""
    circle = fit_circle([(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)])
    assert (circle.u, circle.v, circle.radius) == pytest.approx((4.739782, 2.983533, 4.714226), abs=1e-6)


@given(
    st.floats(-8, 8),
    st.floats(-8, 8),
    st.floats(0.5, 6),
    st.floats(0, 6),
    st.floats(1.5, 2.0),
    st.integers(3, 9),
)
def test_points_on_a_circle_give_it_back(u, v, radius, begin, step, count) -> None:
    """Exact points round the rim give the exact circle, also as a reading with its width."""
    points = [
        (u + radius * math.cos(begin + step * k), v + radius * math.sin(begin + step * k)) for k in range(count)
    ]
    circle = fit_circle(points)
    assert (circle.u, circle.v, circle.radius) == pytest.approx((u, v, radius), abs=1e-7)
    reading = from_rim(points)
    assert (reading.u, reading.v) == pytest.approx((u, v), abs=1e-7)
    assert reading.questions == ()


def test_more_points_are_surer_and_a_short_arc_is_less_sure() -> None:
    """The centre's doubt shrinks as √(2/n)·sd round the rim (derived), and grows on an arc."""

    def rim(angles) -> list[tuple[float, float]]:
        return [(2 * math.cos(a), 2 * math.sin(a)) for a in angles]

    for count in (4, 8, 16):
        circle = fit_circle(rim(np.arange(count) * 2 * math.pi / count), sd=0.2)
        assert circle.sd_u == pytest.approx(0.2 * math.sqrt(2 / count), rel=1e-6)
    assert fit_circle(rim(np.linspace(0, 0.8, 8)), sd=0.2).sd_u > 1.0


def test_a_point_off_the_circle_is_asked_about() -> None:
    """A slip of 3 mm in one of six points does not go unnoticed."""
    points = [(2 * math.cos(a), 2 * math.sin(a)) for a in np.arange(6) * math.pi / 3]
    points[0] = (5.0, 0.0)
    (question,) = from_rim(points).questions
    assert isinstance(question, NotRound)
    assert question.out_by > 0.7


def test_the_sticky_side_mirrors_the_centre() -> None:
    """Looked at from behind, a mark on the right lies on the left."""
    points = [(4.0, 1.0), (3.0, 2.0), (2.0, 1.0), (3.0, 0.0)]
    seen = from_rim(points, face="sticky")
    assert (seen.u, seen.v) == pytest.approx((-3.0, 1.0), abs=1e-9)


@pytest.mark.parametrize(
    "points",
    [[], [(0, 0), (1, 1)], [(0, 0), (1, 1), (2, 2), (5, 5)], [(1, 1)] * 4, [(0, 0), (1, 0), (math.nan, 1)]],
)
def test_points_without_a_circle_are_refused(points) -> None:
    """Too few, on one line, all in one place, not numbers."""
    with pytest.raises(InputError, match="No circle"):
        fit_circle(points)


def test_points_off_any_tape_are_refused() -> None:
    """A metre away is a slip of the unit."""
    with pytest.raises(OutOfReach):
        from_rim([(0, 0), (1000, 1), (2, 5)])
