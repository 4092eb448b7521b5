"""What marks below the head teach: two heights, which part is out, retests, wrong readings, and honest doubts."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from heads import ExactHead, head_machine

from coach import Session
from coach.errors import OutOfReach
from coach.head.belief import HeadBelief, mark
from coach.head.layout import FIRST_SCREW, OFFSET, SLOPE
from coach.head.marks import HeadMark, matrix_of
from coach.optics.mounts import PlateMotion
from coach.practice.head_bench import HeadBench
from coach.practice.head_zoo import HEAD_CASES, shoot
from coach.practice.head_zoo import head_machine as zoo_head
from coach.tuning import TUNING


def test_one_mm_over_fifty_is_one_degree_and_a_bit() -> None:
    """1 mm over 50 mm, three times, is 1.1458° (derived): believed within its own doubt, to the side it went to."""
    session = Session.start(head_machine())
    for right, lowered in ((0.0, 0.0), (1.0, 50.0)) * 3:
        session.bed_mark(right, 0.0, lowered=lowered)
    now = session.head_advice().now
    assert now.slope[0] == pytest.approx(1.1458, abs=0.1)
    assert abs(now.slope[0] - 1.1458) < now.slope_sd[0]
    assert now.slope[1] == pytest.approx(0.0, abs=1e-6)
    assert session.head_advice().lean[0] > 0.5


def test_heights_too_near_each_other_are_refused_with_the_height_it_takes() -> None:
    """√2·0.18 mm over tan 0.3° is 48.6 mm (derived, JCGM 100 §5.1.2: memory); read to 0.1 mm it is 27 mm."""
    session = Session.start(head_machine())
    session.bed_mark(0.0, 0.0)
    with pytest.raises(OutOfReach, match="at least 49 mm") as caught:
        session.bed_mark(0.1, 0.0, lowered=40.0)
    assert "40 mm" in str(caught.value)
    assert len(session.events) == 1
    session.bed_mark(0.1, 0.0, lowered=40.0, sd=0.1)
    session.bed_mark(0.1, 0.0, lowered=0.0)  # the same height again is a second reading
    session.bed_mark(0.1, 0.0, lowered=30.0, lens=True)  # nothing to compare with yet
    with pytest.raises(OutOfReach):
        session.bed_mark(0.1, 0.0, lowered=50.0, lens=True)


@pytest.mark.parametrize(
    ("out", "named"),
    [
        ({"mirror3": PlateMotion(0.0, 7.0)}, "mirror 3"),
        ({"lens": (0.9, 0.0)}, "lens"),
        ({"nozzle": (0.0, 0.7)}, "nozzle"),
    ],
)
def test_which_part_is_out(out: dict[str, object], named: str) -> None:
    """Leans without the lens: mirror 3, and what that makes of the offset at the lens is not the lens's fault.  Leans
    only with it: the lens.  Upright, off the hole: the nozzle."""
    head, session = ExactHead(head_machine(), **out), Session.start(head_machine())  # type: ignore[arg-type]
    for lens, lowered in ((False, 0.0), (False, 170.0)) * 2 + ((True, 20.0), (True, 170.0)) * 3:
        session.bed_mark(*head.on_card(lowered, lens=lens), lowered=lowered, lens=lens)
    session.nozzle_mark(*head.off_nozzle())
    session.nozzle_mark(*head.off_nozzle())
    assert session.head_advice().suspect == named


def test_nothing_through_is_no_nozzle_in_the_middle() -> None:
    """A nozzle of 2.5 mm that nothing came through is not hit: it is not said to cut off little."""
    session = Session.start(head_machine())
    before = session.head_advice().clipped
    session.nozzle_mark()
    assert session.head_advice().clipped > before
    assert session.head_advice().now.chance < 0.01


def test_nothing_is_named_before_a_mark_told_it() -> None:
    """However wide the doubt is beforehand."""
    assert Session.start(head_machine()).head_advice().suspect == ""


def test_a_retest_teaches_the_screws() -> None:
    """A mount that answers 1.3 times as strongly as described: after three turns with marks around them its answer is
    believed so, and its variance is less than half of what it was: hands are rough, which is all that is left."""
    strong = ExactHead(head_machine(), mirror3=PlateMotion(2.0, 2.0))
    session = Session.start(strong.machine)
    before, doubt = session.head_belief.bank.likelier_drive().mixture.moments
    for turns in (0.3, -0.3, 0.3, 0.0):
        for lowered in (0.0, 170.0) * 2:
            session.bed_mark(*strong.on_card(lowered, lens=False), lowered=lowered)
        strong.turn({"B": 1.3 * turns})
        session.turn(3, {"B": turns})
    mean, cov = session.head_belief.bank.likelier_drive().mixture.moments
    k = FIRST_SCREW + int(np.argmax(np.abs(before[FIRST_SCREW : FIRST_SCREW + 2])))
    assert mean[k] / before[k] == pytest.approx(1.3, abs=0.15)
    assert cov[k, k] < 0.5 * doubt[k, k]


def test_a_filter_is_the_batch_answer() -> None:
    """With no wrong readings, one drive and one story beforehand, marks one by one give what weighted
    least squares give at once (a static state: the normal equations, Gauss)."""
    certain = replace(TUNING.readings, outlier_probability=1e-12)
    one_story = replace(TUNING, readings=certain, head=replace(TUNING.head, still_good=1e-12))
    belief = HeadBelief.initial(head_machine(), date(2026, 3, 1), one_story)
    start, cov = belief.bank.mixture.mean[0], belief.bank.mixture.cov[0]
    rng = np.random.default_rng(5)
    marks = [HeadMark("nozzle", *rng.normal(0, 0.1, 2), 0.1)]
    marks += [HeadMark("bed", *rng.normal(0, 0.2, 2), 0.18, h, True) for h in (20.0, 170.0, 90.0)]
    information, right = np.linalg.inv(cov), np.linalg.solve(cov, start)
    for one in marks:
        matrix = matrix_of(belief.layout, one)
        information = information + matrix.T @ matrix / one.sd**2
        right = right + matrix.T @ one.place / one.sd**2
        belief = mark(belief, one)
    batch = np.linalg.solve(information, right)
    mean = belief.bank.likelier_drive().mixture.moments.mean
    assert mean[: OFFSET + 2] == pytest.approx(batch[: OFFSET + 2], abs=1e-4)


def test_one_wrong_reading_is_not_believed() -> None:
    """Two pairs that agree and one mark 2 mm off: the lean stays within a tenth of a degree of the pairs'."""
    head, session = ExactHead(head_machine(), lens=(0.3, 0.0)), Session.start(head_machine())
    for lowered in (20.0, 170.0, 20.0, 170.0):
        session.bed_mark(*head.on_card(lowered, lens=True), lowered=lowered, lens=True)
    before = session.head_advice().lean
    x, y = head.on_card(170.0, lens=True)
    session.bed_mark(x + 2.0, y, lowered=170.0, lens=True)
    assert session.head_advice().lean == pytest.approx(before, abs=0.1)


def test_moving_the_lens_moves_the_beam_the_other_way_and_leaves_the_slope() -> None:
    """d ← d − amount: toward the beam the lean shrinks; before the lens nothing changes."""
    session = Session.start(head_machine())
    session.shift("lens", right=0.5, back=-0.2)
    mean = session.head_belief.moments[0]
    assert mean[OFFSET : OFFSET + 2] == pytest.approx([-0.5, 0.2])
    assert mean[SLOPE : SLOPE + 2] == pytest.approx([0.0, 0.0])


def test_a_lens_that_was_out_is_doubted_again() -> None:
    """Marks with the lens out in between: it lies a little differently."""
    session = Session.start(head_machine())
    for lowered in (20.0, 170.0) * 3:
        session.bed_mark(0.0, 0.0, lowered=lowered, lens=True)
    session.nozzle_mark(0.0, 0.0)
    before = session.head_advice().now
    session.bed_mark(0.0, 0.0)
    session.nozzle_mark(0.0, 0.0)
    assert session.head_advice().now.lean_sd[0] > 1.2 * before.lean_sd[0]


def test_the_doubt_covers_the_truth() -> None:
    """Forty rough practice heads, three marks each: lean and nozzle lie as far from what is believed as that says.

    Of χ² of 4 degrees of freedom half lie below 3.36 (NIST/SEMATECH §1.3.6.7.4: memory); the median of 36 lies
    between 2.2 and 4.9 in 99 % (order statistics, derived), and wrong readings put a few far beyond.
    """
    told = []
    for seed in range(40):
        machine = zoo_head(HEAD_CASES[0], seed)
        bench, session = HeadBench(machine, seed), Session.start(machine)
        for _ in range(3):
            shoot(session, bench, session.head_advice())
        belief = session.head_belief
        if not belief.two_heights(lens=True):
            continue
        mean, cov = belief.bank.likeliest().mixture.project(belief.layout.wanted).moments
        truth = np.concatenate([np.array(bench.lean()) / 0.3, np.array(bench.at_nozzle()) / 0.2])
        told.append(float((truth - mean) @ np.linalg.solve(cov, truth - mean)))
    assert len(told) >= 25
    assert 2.2 < np.median(told) < 4.9


def test_a_bed_that_goes_down_less_is_asked_for_no_more() -> None:
    """90 mm at most: the next marks are asked for at 90."""
    session = Session.start(head_machine())
    session.nozzle_mark(0.0, 0.0)
    session.bed_mark(0.0, 0.0, lowered=20.0, lens=True)
    assert session.head_advice().lowered == TUNING.head.lowered
    session.bed_mark(0.0, 0.0, lowered=90.0, lens=True)
    heights = set()
    for _ in range(6):
        advice = session.head_advice()
        if advice.kind != "shoot":
            break
        if advice.target == "bed":
            heights.add(advice.lowered)
            session.bed_mark(0.0, 0.0, lowered=advice.lowered, lens=True)
        else:
            session.nozzle_mark(0.0, 0.0)
    assert heights
    assert heights <= {20.0, 90.0}
