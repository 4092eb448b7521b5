"""The χ² points that a far reading is judged by."""

import pytest
from scipy.stats import chi2

from coach.reading.plausibility import CHI_SQUARE_99

POINTS = {
    2: (5.991, 9.210),
    4: (9.488, 13.277),
    6: (12.592, 16.812),
    8: (15.507, 20.090),
}
"""Degrees of freedom to the upper 0.95 and 0.99 points (NIST/SEMATECH handbook §1.3.6.7.4, memory)."""


def test_the_handbooks_points_are_the_distributions_and_the_code_uses_one_of_them() -> None:
    """The table agrees with scipy to its three digits, and questions are asked from its 0.99 point for df 2."""
    for freedom, (often, seldom) in POINTS.items():
        assert chi2.ppf([0.95, 0.99], freedom) == pytest.approx([often, seldom], abs=5e-4)
    assert POINTS[2][1] == CHI_SQUARE_99
