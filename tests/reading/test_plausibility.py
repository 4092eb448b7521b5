"""Unlikely values are asked about, never swallowed; what is kept carries more doubt."""

import numpy as np
import pytest
from scipy import stats

from coach.reading.model import Reading
from coach.reading.plausibility import (
    CHI_SQUARE_99,
    BeyondTape,
    OutsideImprint,
    doubtful_sd,
    question_far,
    question_outside,
)
from coach.shown import IN_MM


def test_marks_outside_the_imprint_or_the_tape() -> None:
    """Inside: nothing. Centre outside the rim: asked. Beyond what the tape shows: asked differently."""
    assert question_outside(5.4, 7.2, 18.0, 11.0) is None  # 3-4-5: exactly on the rim
    outside, beyond = question_outside(6.0, 8.0, 18.0, 11.0), question_outside(9.0, 12.0, 18.0, 11.0)
    assert outside is not None
    assert beyond is not None
    assert (outside, beyond) == (OutsideImprint(10.0, 9.0), BeyondTape(15.0, 11.0))
    assert (outside.out_by, beyond.out_by) == pytest.approx((1.0, 4.0))
    assert question_outside(6.0, 8.0, None, 11.0) is None


def test_the_bound_for_far_readings() -> None:
    """χ² df 2, 0.99: 9.210 (NIST/SEMATECH handbook §1.3.6.7.4, memory), and scipy says the same."""
    assert pytest.approx(stats.chi2.ppf(0.99, 2), abs=1e-3) == CHI_SQUARE_99


def test_a_reading_is_far_when_its_distance_in_doubts_says_so() -> None:
    """One axis with doubt 1 (0.8² + 0.6²): the bound lies at √9.210 = 3.0348 mm (by hand)."""
    cov = [[0.64, 0.0], [0.0, 0.64]]
    assert question_far(3.03, 1.0, 0.0, 1.0, cov, 0.6) is None
    question = question_far(3.04, 1.0, 0.0, 1.0, cov, 0.6)
    assert question is not None
    assert question.out_by == pytest.approx(3.04)
    assert (
        "Expected 1.0 mm up (give or take 2.0 mm), but seen 3.0 mm right, 1.0 mm up: 3.0 mm away"
        in question.sentence(IN_MM)
    )


def test_far_follows_the_direction_of_the_doubt() -> None:
    """The same 2 mm are likely along a wide doubt and unlikely across it."""
    cov = np.array([[0.5, 0.49], [0.49, 0.5]])
    assert question_far(1.4, 1.4, 0.0, 0.0, cov, 0.2) is None
    assert question_far(1.4, -1.4, 0.0, 0.0, cov, 0.2) is not None


def test_a_mirrored_reading_is_recognised() -> None:
    """Expected 4 left, seen 4 right: the other face of the tape is offered, not taken."""
    question = question_far(4.0, 1.0, -4.2, 1.1, np.eye(2) * 0.1, 0.25)
    assert question is not None
    assert question.correction == "other face"
    assert question.suggestion(IN_MM) == "4.0 mm left, as seen from the other face"
    assert "sticky side" in question.sentence(IN_MM)
    elsewhere = question_far(4.0, 8.0, -4.2, 1.1, np.eye(2) * 0.1, 0.25)
    assert elsewhere is not None
    assert (elsewhere.correction, elsewhere.suggestion(IN_MM)) == (None, "")


def test_a_kept_reading_carries_at_least_half_of_how_far_it_was_out() -> None:
    """No question, no change; a small excess keeps the reading's own doubt; a large one widens it."""
    reading = Reading(1.0, 2.0, 0.25, "offsets")
    assert doubtful_sd(reading.asked(None)) == 0.25
    assert doubtful_sd(reading.asked(BeyondTape(11.3, 11.0))) == 0.25
    kept = reading.asked(BeyondTape(16.0, 11.0), None, OutsideImprint(10.0, 9.0))
    assert doubtful_sd(kept) == 2.5
    assert len(kept.questions) == 2
