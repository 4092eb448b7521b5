"""Every question about a reading is facts, said in the unit that is handed in."""

import re

import pytest

from coach.reading.gap_questions import GapsDoNotAddUp, NoRoomForAMark, TypedInOtherUnit, UnusualMark
from coach.reading.model import Question
from coach.reading.plausibility import BeyondTape, FarFromExpected, OutsideImprint
from coach.shown import Wording

EACH: tuple[Question, ...] = (
    BeyondTape(15.0, 11.0),
    OutsideImprint(10.0, 9.0),
    FarFromExpected((4.0, 1.0), (-4.2, 1.1), 0.3, mirror_fits=True),
    GapsDoNotAddUp(("left", "right"), True, 2.0, 18.0),
    NoRoomForAMark(18.0),
    UnusualMark(17.4),
    TypedInOtherUnit("in", 3.3, 18.0),
)
LENGTH = r"\d (mm|in)\b"


def test_all_of_them_stand_here() -> None:
    """One of each kind that there is."""
    assert {type(question) for question in EACH} == set(Question.__subclasses__())


@pytest.mark.parametrize("question", EACH, ids=lambda question: type(question).__name__)
def test_every_length_has_the_unit_that_was_handed_in(question: Question) -> None:
    """As many lengths in inches as in mm, and no other unit among them; the suggestion comes with its correction."""
    millimetres, inches = (question.sentence(Wording(unit)) for unit in ("mm", "in"))
    units = [re.findall(LENGTH, sentence) for sentence in (millimetres, inches)]
    assert set(units[0]) == {"mm"}
    assert units[1] == ["in"] * len(units[0])
    for unit in ("mm", "in"):
        suggestion = question.suggestion(Wording(unit))
        assert bool(suggestion) is (question.correction is not None)
        assert set(re.findall(LENGTH, suggestion)) <= {unit}
    assert question.out_by >= 0.0
