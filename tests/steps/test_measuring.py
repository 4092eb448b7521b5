"""What is asked about a reading before it counts, and with what doubt it is kept."""

import pytest
from machines import make_machine

from coach import Session
from coach.advice.advice import Shot
from coach.reading.offsets import from_offsets
from coach.steps.measuring import kept, questioned

MIRROR2 = Shot("mirror 2", 20.0, 380.0, "mirror 2")
HEAD = Shot("back-left", 20.0, 380.0)


def _asked(shot: Shot, right: float) -> list[str]:
    session = Session.start(make_machine(tape={"radius": 11.0, "mirror2_radius": 25.0}))
    return [type(question).__name__ for question in questioned(session, shot, from_offsets(right, 0.0)).questions]


@pytest.mark.parametrize(
    ("shot", "right", "asked"),
    [
        (HEAD, 3.0, []),
        (HEAD, 9.5, ["OutsideImprint"]),  # the opening's rim is at 9 mm
        (HEAD, 11.5, ["BeyondTape", "FarFromExpected"]),  # the tape ends at 11 mm
        (MIRROR2, 5.0, []),
        (MIRROR2, 9.5, ["FarFromExpected"]),  # no rim of the head's opening at mirror 2, and a wider tape
        (MIRROR2, 24.0, ["FarFromExpected"]),
        (MIRROR2, 26.0, ["BeyondTape", "FarFromExpected"]),
    ],
)
def test_each_tape_has_its_own_edge(shot: Shot, right: float, asked: list[str]) -> None:
    """A mark on mirror 2's tape is judged by that tape, and not by the opening and the tape at the head."""
    assert _asked(shot, right) == asked


def test_a_doubted_reading_that_is_kept_is_doubted_by_half_of_what_it_is_out() -> None:
    """Kept in spite of a question: its doubt is half of how far it is out at least; unquestioned, its tool's own."""
    session = Session.start(make_machine())
    plain = questioned(session, HEAD, from_offsets(1.0, 0.5))
    assert kept(plain).sd == plain.sd < 0.3
    far = questioned(session, HEAD, from_offsets(14.0, 0.0))
    assert kept(far).sd == pytest.approx(max(question.out_by for question in far.questions) / 2)
    assert kept(far).sd > 3
