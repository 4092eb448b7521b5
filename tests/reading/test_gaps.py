"""Calliper gaps to (u, v): exact circle geometry, an honest doubt, and a question when they disagree."""

import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from coach.errors import InputError, OutOfReach
from coach.reading.entries import corrected
from coach.reading.gap_questions import GapsDoNotAddUp, NoRoomForAMark, TypedInOtherUnit, UnusualMark
from coach.reading.gaps import CHI_SQUARE_99, from_gaps
from coach.reading.method import Tape
from coach.reading.methods import GAPS
from coach.reading.model import CARRIED_SD, SPAN_SD
from coach.reading.plausibility import doubtful_sd
from coach.shown import IN_MM

SIDES = ("left", "right", "top", "bottom")


def meets_rim(u: float, v: float, along: tuple[float, float], rim: float) -> float:
    """Way from (u, v) along a direction to the rim: the ray-circle quadratic, not the chord formula."""
    b = u * along[0] + v * along[1]
    return -b + math.sqrt(b * b - (u * u + v * v - rim * rim))


def true_gaps(u: float, v: float, r: float, rim: float) -> dict[str, float]:
    ways = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "top": (0.0, 1.0), "bottom": (0.0, -1.0)}
    return {side: meets_rim(u, v, way, rim) - r for side, way in ways.items()}


marks = st.tuples(st.floats(1.5, 30), st.floats(0, 0.9), st.floats(0, 2 * math.pi), st.floats(0.01, 1))


@given(marks, st.sampled_from([*combinations(SIDES, 3), SIDES]), st.sampled_from(["centre", "edge", "typed"]))
def test_the_true_mark_comes_back_from_any_three_or_four_gaps(mark, sides, how) -> None:
    """Exact gaps give the exact mark, wherever it lies inside the rim and however wide it is."""
    rim, share, angle, fill = mark
    u, v = rim * share * math.cos(angle), rim * share * math.sin(angle)
    r = 0.0 if how == "centre" else fill * 0.95 * (rim - math.hypot(u, v))
    assume(how != "edge" or len(sides) == 4)
    gaps = true_gaps(u, v, r, rim)
    reading = from_gaps(
        aperture_diameter=2 * rim,
        to="centre" if how == "centre" else "edge",
        mark_diameter=2 * r if how == "typed" else None,
        **{side: max(gaps[side], 0.0) for side in sides},
    )
    assert (reading.u, reading.v) == pytest.approx((u, v), abs=1e-6)
    assert {type(question) for question in reading.questions} <= {UnusualMark}
    assume(min(abs(2 * r - 6.0), abs(2 * r - 0.2)) > 1e-6)
    assert bool(reading.questions) is (how != "centre" and not 0.2 < 2 * r < 6.0)


def test_the_chord_through_an_off_centre_mark_is_not_taken_for_the_diameter() -> None:
    """A mark 6 up in a round opening of 20 sees 8 left and right (6-8-10 triangle), and 4 above."""
    reading = from_gaps(aperture_diameter=20, left=8, right=8, top=4, to="centre")
    assert (reading.u, reading.v) == pytest.approx((0.0, 6.0), abs=1e-9)
    assert reading.questions == ()


def test_a_shorter_left_gap_means_a_mark_to_the_left() -> None:
    """By hand, 3-4-5: a 1 mm mark 3 to the left in an opening of 10; on the sticky side it looks the same."""
    gaps = {"left": "1,5", "right": "7,5", "top": "3,5", "bottom": "3,5", "aperture_diameter": 10}
    outer, sticky = from_gaps(**gaps), from_gaps(**gaps, face="sticky")
    assert (outer.u, outer.v) == pytest.approx((-3.0, 0.0), abs=1e-9)
    assert (sticky.u, sticky.v) == pytest.approx((3.0, 0.0), abs=1e-9)
    assert (outer.typed["left"], sticky.typed["face"]) == ("1,5", "sticky")


def test_the_width_of_the_mark_is_found_from_four_gaps() -> None:
    """18 across with 7.25 on every side leaves 3.5 for the mark."""
    reading = from_gaps(aperture_diameter=18, left=7.25, right=7.25, top=7.25, bottom=7.25)
    assert reading.notes(IN_MM) == ("The mark is about 3.5 mm wide.",)


def test_the_doubt_follows_the_law_of_propagation() -> None:
    """Centred mark, four gaps: u = (left − right)/2, so one gap's doubt over √2 (JCGM 100 §5.1.2, memory).

    A gap: callipers 0.03/√3 = 0.017321 mm (§4.3.7; DIN 862), rim and mark 0.15 mm each by eye.
    """
    gap_sd = math.hypot(0.017321, 0.15, 0.15)
    assert pytest.approx(gap_sd, abs=1e-6) == SPAN_SD
    four = from_gaps(aperture_diameter=18, left=9, right=9, top=9, bottom=9, to="centre")
    assert four.sd == pytest.approx(gap_sd / math.sqrt(2), abs=1e-6)
    three = from_gaps(aperture_diameter=18, left=9, right=9, top=9, to="centre")
    assert three.sd == pytest.approx(gap_sd, abs=1e-6)


@pytest.mark.sweep
def test_the_stated_doubt_is_the_one_that_measuring_many_times_shows() -> None:
    """2000 noisy measurements of an off-centre mark scatter as the reading says (χ² bounds, 1 in 1e6)."""
    draw = np.random.default_rng(7)
    exact = true_gaps(3.0, -4.0, 1.5, 9.0)
    out, sds = [], []
    for _ in range(2000):
        noisy = {side: gap + draw.normal(0, SPAN_SD) for side, gap in exact.items()}
        reading = from_gaps(aperture_diameter=18, **noisy)
        out.append((reading.u - 3.0, reading.v + 4.0))
        sds.append(reading.sd)
    larger = max(np.sqrt(np.mean(np.square(out), axis=0))) / np.mean(sds)
    low, high = np.sqrt(stats.chi2.ppf([1e-6, 1 - 1e-6], 2000) / 2000)
    assert low < larger < high


@pytest.mark.sweep
def test_good_measurements_are_seldom_questioned() -> None:
    """The check at the 0.99 point fires for 1 in 100 honest sets of gaps, within 4 binomial sd."""
    draw = np.random.default_rng(11)
    exact, asked = true_gaps(1.0, 2.0, 0.0, 9.0), 0
    for _ in range(2000):
        noisy = {side: gap + draw.normal(0, SPAN_SD) for side, gap in exact.items()}
        asked += bool(from_gaps(aperture_diameter=18, to="centre", **noisy).questions)
    assert abs(asked - 20) < 4 * math.sqrt(2000 * 0.01 * 0.99)


def test_chi_square_points() -> None:
    """Upper 0.99 points against scipy and, for df 2, NIST/SEMATECH handbook §1.3.6.7.4 (9.210, memory)."""
    for freedom, point in CHI_SQUARE_99.items():
        assert point == pytest.approx(stats.chi2.ppf(0.99, freedom), abs=6e-4)


@pytest.mark.parametrize("how", ["centre", "edge", "typed"])
def test_a_misread_gap_is_asked_about_and_carried_on_with_more_doubt(how: str) -> None:
    """Two mm too many on the left of a centred mark: asked about, and the error is within 1.5 carried doubts.

    Derived: with the mark's width known, left and right miss their chord by just those 2 mm.  With the width
    free only the two pairs can be compared, and the upright chord through the fitted u is the shorter one.
    """
    r = 0.0 if how == "centre" else 1.5
    gaps = true_gaps(0.0, 0.0, r, 9.0)
    gaps["left"] += 2.0
    reading = from_gaps(
        aperture_diameter=18,
        to="centre" if how == "centre" else "edge",
        mark_diameter="3" if how == "typed" else None,
        **gaps,
    )
    (question,) = reading.questions
    assert isinstance(question, GapsDoNotAddUp)
    shorter = 2 * (9 - math.sqrt(81 - reading.u**2)) if how == "edge" else 0.0
    assert question.out_by == pytest.approx(2.0 - shorter, abs=1e-9)
    assert "left and right together" in question.sentence(IN_MM)
    assert "longer" in question.sentence(IN_MM)
    assert math.hypot(reading.u, reading.v) <= 1.5 * doubtful_sd(reading)


@pytest.mark.parametrize("open_side", SIDES)
def test_a_typed_width_counts_for_as_much_as_it_was_measured(open_side: str) -> None:
    """Three gaps of a centred mark and its width, each measured with the doubt s; a radius is half a width, so s/2.

    Derived: the pair of opposite gaps gives the radius with s/√2, the width with s/2, both together with s/√6; the
    lone gap then gives its axis with s·√(1 + 1/6), and that is the larger doubt.  A width that is 0.12 mm more means
    a radius that is 0.06 mm more, weighed 4 to 2 against the pair; the lone axis moves by as much as the radius.
    """
    gaps = {side: gap for side, gap in true_gaps(0.0, 0.0, 1.5, 9.0).items() if side != open_side}
    reading = from_gaps(aperture_diameter=18, mark_diameter=3.0, **gaps)
    assert reading.sd == pytest.approx(SPAN_SD * math.sqrt(7 / 6), rel=1e-3)
    wider = from_gaps(aperture_diameter=18, mark_diameter=3.12, **gaps)
    lone = wider.u if open_side in ("left", "right") else wider.v
    assert abs(lone) == pytest.approx(0.06 * 4 / 6, abs=0.001)


def test_gaps_to_the_centre_given_as_gaps_to_the_edges_are_asked_about() -> None:
    """They fill the opening and leave a mark of less than no width."""
    reading = from_gaps(aperture_diameter=18, left=9.6, right=9.6, top=9.6, bottom=9.6)
    assert reading.questions == (NoRoomForAMark(18.0),)
    assert reading.questions[0].correction == "to the centre"


@pytest.mark.parametrize(
    ("entries", "kind", "says"),
    [
        ({"left": "4", "right": "4"}, InputError, "at least three of left"),
        ({}, InputError, "No gap"),
        ({"left": "4", "right": "4", "top": "4", "bottom": " "}, InputError, "how wide the mark is"),
        ({"left": "-1", "right": "4", "top": "4", "to": "centre"}, OutOfReach, "left gap is negative"),
        ({"left": "4", "right": "40", "top": "4", "to": "centre"}, OutOfReach, "longer than the opening"),
        ({"left": "4", "right": "4,x", "top": "4", "to": "centre"}, InputError, "right gap"),
        ({"left": math.nan, "right": "4", "top": "4", "to": "centre"}, InputError, "left gap"),
    ],
)
def test_gaps_that_cannot_be_used_are_refused_in_words(entries, kind, says) -> None:
    """Too few, negative, longer than the opening, not a number: each says which and what was expected."""
    with pytest.raises(kind, match=says):
        from_gaps(aperture_diameter=18, **entries)


@given(st.lists(st.floats(0, 18), min_size=4, max_size=4))
def test_any_possible_gaps_give_a_finite_reading(lengths: list[float]) -> None:
    """However wrong the four gaps are, the answer is a number with a doubt, and nonsense is asked about."""
    reading = from_gaps(aperture_diameter=18, **dict(zip(SIDES, lengths, strict=True)))
    assert all(math.isfinite(value) for value in (reading.u, reading.v, reading.sd, doubtful_sd(reading)))
    assert reading.questions or math.hypot(reading.u, reading.v) <= 9.0 + 3 * SPAN_SD


INCHES = {"left": "0.29", "right": "0.28", "top": "0.30", "bottom": "0.29"}
"""About 7.4 mm each: a mark of 3.3 mm in the middle of an opening of 18; read as mm, one of 17.4 mm."""


def test_four_gaps_in_inches_are_no_mark_in_the_middle() -> None:
    """Read as mm they leave a mark 17.4 mm wide: asked about, with the correction, and worth nothing when kept.

    Derived: 18 − 0.29 − 0.29 = 17.42; 0.29 in are 7.366 mm, 18 − 14.732 = 3.268.  6 mm: common practice.
    """
    reading = from_gaps(aperture_diameter=18, **INCHES)
    wide, unit = reading.questions
    assert isinstance(wide, UnusualMark)
    assert wide.width == pytest.approx(17.42, abs=0.01)
    assert "17.4 mm wide" in wide.sentence(IN_MM)
    assert isinstance(unit, TypedInOtherUnit)
    assert (unit.correction, unit.suggestion(IN_MM)) == ("in inches", "in inches, a mark 3.3 mm wide")
    assert doubtful_sd(reading) > 2.5  # no station is within 1 mm with 90 % by that
    entries = corrected(INCHES, "in inches")
    meant = GAPS.read(entries, Tape(18.0, 18.0), IN_MM)
    assert meant.questions == ()
    assert meant.width == pytest.approx(3.268, abs=0.01)


@pytest.mark.parametrize(
    ("gaps", "unit", "correction"),
    [
        ({"left": "0.29", "right": "0.28", "top": "0.30", "mark_diameter": "0.13"}, "mm", "in inches"),
        ({"left": "0.36", "right": "0.35", "top": "0.34", "to": "centre"}, "mm", "in inches"),
        ({side: f"{text} in" for side, text in INCHES.items()}, "mm", None),
        ({side: f"{text} mm" for side, text in INCHES.items()}, "mm", None),
        (INCHES, "in", None),
        ({"left": "9.475 mm", "right": "9.475 mm", "top": "9 mm", "bottom": "9 mm", "to": "centre"}, "mm", None),
        (dict.fromkeys(SIDES, "0.02"), "mm", None),  # in inches a mark of 17 mm
        ({"left": "6", "right": "6", "top": "6", "bottom": "8"}, "mm", None),
        ({"left": "5", "right": "5", "top": "5", "bottom": "5"}, "mm", None),
    ],
)
def test_inches_are_offered_where_they_fit_the_opening(gaps: dict[str, str], unit, correction: str | None) -> None:
    """Three gaps and the width, gaps to the middle; not where a unit was typed, nor for what is wrong otherwise."""
    reading = from_gaps(aperture_diameter=18, unit=unit, **gaps)
    assert [q.correction for q in reading.questions if isinstance(q, TypedInOtherUnit)] == [correction] * bool(
        correction
    )


@pytest.mark.parametrize(("width", "asked"), [(0.1, True), (0.25, False), (5.9, False), (6.1, True), (12.0, True)])
def test_a_mark_such_as_no_pulse_makes_is_asked_about(width: float, asked: bool) -> None:
    """Wider than 6 or narrower than 0.2 mm (common practice), whether it was typed or follows from four gaps."""
    gaps = true_gaps(1.0, -2.0, width / 2, 9.0)
    four = from_gaps(aperture_diameter=18, **gaps)
    typed = from_gaps(aperture_diameter=18, mark_diameter=width, **{side: gaps[side] for side in SIDES[:3]})
    for reading in (four, typed):
        assert [type(question) for question in reading.questions] == [UnusualMark] * asked
        assert doubtful_sd(reading) >= (width - 6) / 4


def test_mm_typed_while_inches_are_set_are_named_in_the_refusal() -> None:
    """7.4 in is longer than any opening; the sentence says which length would do."""
    with pytest.raises(OutOfReach, match=r"Expected mm behind it, or a shorter length\. Example: 7\.4 mm"):
        from_gaps(aperture_diameter=18, left="7.4", right="7", top="7", bottom="8", unit="in")


def test_three_gaps_and_the_width_of_the_mark_before() -> None:
    """By hand, 3-4-5: rim 5, mark 3 to the left: gaps 2 − r, 8 − r and 4 − r, r = 0.5; carried was 1.0, so it agrees.

    It is kept as what it is, and no width is told: nobody measured one.
    """
    gaps = {"left": "1,5", "right": "7,5", "top": "3,5", "aperture_diameter": 10}
    reading = from_gaps(**gaps, carried_width="1.00 mm")
    assert (reading.u, reading.v) == pytest.approx((-3.0, 0.0), abs=1e-9)
    assert (reading.width, reading.typed["carried_width"]) == (None, "1.00 mm")
    assert "mark_diameter" not in reading.typed
    with pytest.raises(InputError, match="how wide the mark is"):
        from_gaps(**gaps, carried_width="")


@pytest.mark.sweep
def test_a_carried_width_counts_for_less_than_a_measured_one() -> None:
    """A mark 4 up and 4 right, where the gaps alone tell up and width badly apart: the doubt is wider, and as wide as
    marks whose width differs by its doubt from the carried one show (χ² bounds, 1 in 1e6)."""
    draw, count = np.random.default_rng(5), 2000
    misses, sds = [], []
    for _ in range(count):
        radius = 1.5 + draw.normal(0, CARRIED_SD / 2)
        noisy = {side: g + draw.normal(0, SPAN_SD) for side, g in true_gaps(4.0, 4.0, radius, 9.0).items()}
        del noisy["bottom"]
        reading = from_gaps(aperture_diameter=18, carried_width=3.0, **noisy)
        misses.append((reading.u - 4.0, reading.v - 4.0))
        sds.append(reading.sd)
    measured = from_gaps(aperture_diameter=18, mark_diameter=3.0, **noisy)
    assert np.mean(sds) > 1.5 * measured.sd
    larger = max(np.sqrt(np.mean(np.square(misses), axis=0))) / np.mean(sds)
    low, high = np.sqrt(stats.chi2.ppf([1e-6, 1 - 1e-6], count) / count)
    assert low < larger < high


def test_four_gaps_or_a_measured_width_leave_the_carried_one_aside() -> None:
    """A wrong one changes nothing then, and is not kept."""
    four = {"left": 7.25, "right": 7.25, "top": 7.25, "bottom": 7.25}
    three = {side: four[side] for side in ("left", "right", "top")}
    for enough in (four, {**three, "mark_diameter": 3.5}, {**three, "to": "centre"}):
        with_it = from_gaps(aperture_diameter=18, carried_width=9.0, **enough)
        assert with_it == from_gaps(aperture_diameter=18, **enough)
