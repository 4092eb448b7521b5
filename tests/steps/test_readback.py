"""A reading is read back whole, in the unit handed in, and answered by what is safest first."""

from dataclasses import replace

import pytest
from built_steps import built

from coach.reading.crosshair import Crosshair, from_crosshair
from coach.reading.face import Face
from coach.reading.gap_questions import NoRoomForAMark
from coach.reading.offsets import from_offsets
from coach.reading.plausibility import FarFromExpected, OutsideImprint
from coach.shown import IN_MM, Wording
from coach.steps.current import current_step
from coach.steps.measuring import kept, questioned, tape_of, where_on_tape
from coach.steps.perform import perform
from coach.steps.purpose import for_mark, for_step
from coach.steps.readback import AGAIN, DOUBTFUL, KEEP, OTHERWISE, RIGHT, readback_answers, readback_words


def test_an_expected_reading_is_kept_or_measured_again() -> None:
    """Two answers, keeping first; what was understood, two standard deviations of it, and what was typed."""
    reading = from_offsets("1,5", "-0.5")
    answers = readback_answers(reading, IN_MM)
    assert [(answer.key, answer.number) for answer in answers] == [("keep", RIGHT), ("again", AGAIN)]
    words = readback_words(reading, "middle", "inside the imprint", IN_MM)
    assert words.understood == (
        f"Understood: 1.5 mm right, 0.5 mm down at middle, inside the imprint; "
        f"give or take {IN_MM.length(2 * reading.sd)}."
    )
    assert words.typed == "From: right 1,5, up -0.5."
    assert words.notes == words.questions == ()
    assert words.statements == (words.understood, words.typed)


def test_a_questioned_reading_is_measured_again_unless_one_insists() -> None:
    """Every question is said; measuring again comes first, an expected one's digit keeps none."""
    session = built("measure")
    step = current_step(session, IN_MM)
    reading = questioned(session, step.shot, from_offsets("40", "0"))
    assert len(reading.questions) == 2  # off the tape, and far from where it is expected
    answers = readback_answers(reading, IN_MM)
    assert [answer.key for answer in answers[:3]] == ["again", "sure", "doubtful"]
    assert [answer.number for answer in answers[:3]] == [AGAIN, KEEP, DOUBTFUL]
    assert RIGHT not in {answer.number for answer in answers}
    for wording in (IN_MM, Wording("in")):
        words = readback_words(reading, "middle", "beyond the tape", wording)
        assert words.questions == tuple(question.sentence(wording) for question in reading.questions)
        assert all(wording.unit in question for question in words.questions)


def test_what_may_have_been_meant_can_be_taken() -> None:
    """A question with a correction adds an answer with a digit of its own; one without adds none."""
    far = FarFromExpected((4.0, 1.0), (-4.2, 1.1), 0.3, mirror_fits=True)
    for questions, taken in (
        ((far,), ["other face"]),
        ((OutsideImprint(12.0, 9.0), NoRoomForAMark(18.0), far), ["to the centre", "other face"]),
        ((OutsideImprint(12.0, 9.0),), []),
    ):
        answers = readback_answers(from_offsets("4", "1").asked(*questions), IN_MM)[3:]
        assert [answer.key for answer in answers] == taken
        assert [answer.number for answer in answers] == [OTHERWISE + index for index in range(len(taken))]
    assert answers == ()
    (answer,) = readback_answers(from_offsets("4", "1").asked(far), IN_MM)[3:]
    assert answer.label == "Take it so: 4.0 mm left, as seen from the other face"


@pytest.mark.parametrize(("face", "seen"), [("outer", "From: 1.9 mm left"), ("sticky", "From: 1.9 mm left as you")])
def test_what_keys_placed_is_said_in_the_words_of_the_headline(face: Face, seen: str) -> None:
    """On the outer face the very side of the headline; on the sticky one the other, and that it is as one looks."""
    words = readback_words(from_crosshair(Crosshair(-1.9, 0.0), 18.0, face=face), "middle", "", IN_MM)
    assert words.typed.startswith(seen)
    assert f"1.9 mm {'left' if face == 'outer' else 'right'}" in words.understood


def test_the_sticky_side_is_said() -> None:
    """That left and right were swapped stands among the notes."""
    words = readback_words(from_offsets("1", "0", face="sticky"), "middle", "inside the imprint", IN_MM)
    assert words.notes == ("Seen from the sticky side: left and right were swapped.",)
    assert "1.0 mm left" in words.understood


@pytest.mark.parametrize(
    ("name", "u", "where"),
    [
        ("measure", 0.9, "inside the tolerance"),
        ("measure", 1.04, "just beyond the tolerance"),  # of 1.0: shown as 1.0
        ("measure", 8.9, "beyond the tolerance"),
        ("measure", 9.1, "outside the imprint, on the tape"),
        ("measure", 11.1, "beyond the tape"),
        ("search-measure", 9.1, "on the wide card"),
        ("search-measure", 29.9, "on the wide card"),
        ("search-measure", 30.1, "beyond the tape"),
    ],
)
def test_where_on_the_tape_a_reading_lies(name: str, u: float, where: str) -> None:
    """The demo machine: tolerance 1 mm, opening 18, head's tape readable to 11 mm, mirror 2's to 25."""
    session = built(name)
    shot = current_step(session, IN_MM).shot
    assert where_on_tape(from_offsets(u, 0.0), session.machine, shot) == where
    assert tape_of(session.machine, shot).opening == (18.0 if name == "measure" else None)
    outside = [type(q).__name__ for q in questioned(session, shot, from_offsets(u, 0.0)).questions]
    assert ("BeyondTape" in outside) is (where == "beyond the tape")
    assert ("OutsideImprint" in outside) is (where == "outside the imprint, on the tape")


def test_an_unquestioned_reading_is_kept_as_it_is() -> None:
    """Nothing is widened without a question."""
    reading = from_offsets("1", "0")
    assert kept(reading) is reading


def test_what_was_looked_at_twice_counts_in_full() -> None:
    """Doubtful: at least half of how far it was out, and kept; looked twice: the reading's own doubt, and kept; both
    move the belief, and the sure one more."""
    moved = {}
    for twice in (False, True):
        session = built("measure")
        step = current_step(session, IN_MM)
        reading = replace(questioned(session, step.shot, from_offsets("12", "0")), looked_twice=twice)
        assert reading.questions
        perform(session, step, "measured", reading=reading)
        mark = session.effective[-1]
        assert mark.kept
        widest = max(question.out_by for question in reading.questions)
        assert mark.sd == (reading.sd if twice else pytest.approx(max(reading.sd, widest / 2)))
        moved[twice] = session.belief.expected(step.shot.x, step.shot.y).u
    assert 0 < moved[False] < moved[True] <= 12


# -- what a measurement begins with ---------------------------------------------------------------


def test_a_draft_belongs_to_one_pulse() -> None:
    """What was typed for this pulse stands there again; for another one only the manner of the last mark does."""
    session = built("measure")
    step = current_step(session, IN_MM)
    purpose = for_step(session, step)
    session.keep_draft({"for": purpose.key, "way": "offsets", "across": "1,"})
    assert for_step(session, step).start == {"for": purpose.key, "way": "offsets", "across": "1,"}
    session.keep_draft({"for": "pulse 999", "way": "offsets", "across": "1,"})
    assert "across" not in for_step(session, step).start


def test_a_mark_measured_again_begins_with_what_was_typed() -> None:
    """The review's correction, and the same pulse after an undo, have the very entries."""
    session = built("measure")
    step = current_step(session, IN_MM)
    purpose = for_step(session, step)
    purpose.save(from_offsets("1,25", "-0.5", tool="ruler"))
    mark = session.effective[-1]
    again = for_mark(session, mark)
    assert again.pulse == purpose.pulse
    assert {key: again.start[key] for key in ("way", "across", "along", "tool")} == {
        "way": "offsets",
        "across": "1,25",
        "along": "-0.5",
        "tool": "ruler",
    }
    session.undo()
    assert for_step(session, step).start["across"] == "1,25"
