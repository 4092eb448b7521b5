"""Where a mark below mirror 3 is expected, and which reading is too far from it to be believed unasked."""

from coach.belief.kalman import Moments
from coach.head.belief import HeadBelief
from coach.head.marks import HeadMark, matrix_of
from coach.reading.plausibility import question_far


def expected(belief: HeadBelief, mark: HeadMark) -> Moments:
    """Where the mark is expected, (2,) mm, and its covariance without the reading's own doubt."""
    return belief.bank.mixture.project(matrix_of(belief.layout, mark)).moments


def unlikely(belief: HeadBelief, mark: HeadMark) -> bool:
    """Whether a mark that was seen lies so far off that it is asked about, as one on the beam's path is."""
    mean, cov = expected(belief, mark)
    x, y = mark.place
    return question_far(float(x), float(y), float(mean[0]), float(mean[1]), cov, mark.sd) is not None
