"""What a stranger asks first is answered at once, by what the entries say: visits whose end is known."""

from datetime import date

import pytest
from reported import aligned

from coach.practice.demo import visit_machine
from coach.report.doubts import PUT_RIGHT, suspects
from coach.report.good_now import head_now
from coach.report.in_short import answers
from coach.report.of_session import report_of
from coach.report.page import Answer
from coach.session.session import Session
from coach.session.visit_events import KeptCuts, KeptLimit
from coach.shown import IN_MM
from coach.visit import VISIT_PARTS

PLY = "ply 6 mm, lot 3"
BAD = {"front_left": 6.0, "front_right": 9.0, "back_left": 6.0, "back_right": 6.0}
LEVEL = dict.fromkeys(BAD, 6.0)


def visit() -> Session:
    """A visit to a machine that once cut at 20 to 22 mm/s everywhere, and cuts at half of that."""
    session = Session.start(visit_machine())
    names = [place.name for place in session.machine.stations]
    limits = tuple(KeptLimit(name=name, fastest=20.0, next=22.0) for name in names)
    session.baseline(KeptCuts(material=PLY, on=date(2026, 3, 1), stations=limits))
    session.begin("what changed")
    session.answer("weak", "everywhere alike")
    cut(session, 10.0)
    return session


def cut(session: Session, speed: float) -> None:
    for number, place in enumerate(session.machine.stations):
        session.cut(place.name, fastest=speed, next=1.1 * speed, material=PLY, anew=number == 0)


def answered(session: Session) -> list[Answer]:
    told = answers(session, IN_MM)
    assert [each.question.split()[0] for each in told] == ["What", "What", "Is", "What"]
    return list(told)


def test_a_fault_that_was_mended_is_named_and_said_to_be_good() -> None:
    """The bed was bad, was levelled, and it cuts as it did: so it says, and nothing is asked of the service."""
    session = visit()
    session.check("bed", "bad", **BAD)
    session.check("bed", "good", **LEVEL)
    cut(session, 20.0)
    session.finish()
    wrong, done, good, then = answered(session)
    assert wrong.answer == "The bed's level"
    assert "front right 9 mm" in " ".join(wrong.says)
    assert done.answer == "Put right: bed"
    assert good.answer.startswith("Yes: it cuts as it did (worst station ")
    assert "no, worst station 50 % of then" in good.says[0]
    assert then.answer == "Left before its end: what changed"
    assert then.says == (f"{len(VISIT_PARTS) - 1} of {len(VISIT_PARTS)} parts not gone to.",)
    headings = [section.heading for section in report_of(session).sections]
    assert headings[:2] == ["In short", "Cut checks"]
    assert "Questions for the service" not in headings


def test_what_was_found_and_put_right_is_not_said_to_have_been_cleared() -> None:
    """The bed was out and is level: "cleared" would say that it never was.  The water always was good."""
    session = visit()
    session.check("water", "good", celsius=20.0)
    session.check("bed", "bad", **BAD)
    ended = {row[0]: row[1] for row in suspects(session).tables[0].rows}
    assert ended["The bed's level"] == "found by its test"
    session.check("bed", "good", **LEVEL)
    ended = {row[0]: row[1] for row in suspects(session).tables[0].rows}
    assert ended["The bed's level"] == PUT_RIGHT
    assert ended["The cooling"] == "cleared by its test"


def test_how_the_beam_leans_now_stands_beside_the_cut() -> None:
    """As the belief has it, with its doubt and what is good; one mark on the bed tells no lean."""
    session = visit()
    session.bed_mark(1.0, 0.0, 0.0, lens=True)
    assert head_now(session, IN_MM) == ""
    session.bed_mark(6.0, 0.0, 150.0, lens=True)
    right, back = session.head_advice().now.lean
    assert right > 0.3 > abs(back)
    told = head_now(session, IN_MM)
    assert f"leans {right:.1f}° to the right" in told
    assert told.endswith("(good: up to 0.3°).")
    assert told in answers(session, IN_MM)[2].says


def test_what_stays_weak_is_no_good_end() -> None:
    """It cuts at half as before: no, what is next, and the power is asked for with the reason."""
    session = visit()
    session.check("bed", "bad", **BAD)
    session.check("bed", "good", **LEVEL)
    session.check("tube", "good", current=20.0, hours=3400.0)
    cut(session, 10.0)
    session.finish()
    wrong, _, good, then = answered(session)
    assert wrong.answer == "Not all of it was found; found: the bed's level"
    assert good.answer == "No: it does not cut as it did (worst station 50 % of then)"
    assert then.answer.startswith("It still cuts weaker than it did.")
    asked = next(s for s in report_of(session).sections if s.heading == "Questions for the service").tables[0].rows
    assert asked[0][0].startswith("How much power leaves the tube")
    assert "hours 3400 h" in asked[0][1]
    assert "the bed's level" in asked[0][1]


def test_a_cut_check_from_before_the_last_work_says_nothing_of_now() -> None:
    """After a lens was cleaned the check before it is told as what it is; marks alone change nothing."""
    session = visit()
    assert answered(session)[2].answer.startswith("No: ")
    session.care("lens", "haze")
    wrong, _, good, _ = answered(session)
    assert wrong.answer == "Lens (haze that stays)"
    assert good.answer == "Not known yet: it was worked on since the newest cut check"
    assert good.says[0].startswith("That check said: Cuts as it did: no")


def test_without_a_cut_the_marks_answer_and_say_that_they_do() -> None:
    """The beam's path alone: how far off it was, and that cutting was not tried."""
    wrong, done, good, then = answered(aligned())
    assert wrong.answer == "The beam's path"
    assert "mm off the middle (good: 1 mm)" in wrong.says[0]
    assert done.answer.startswith("Screws turned at mirror")
    assert good.answer == "The beam is where it should be at the head; whether it cuts again was not tried"
    assert then.answer.startswith("Next step: ")


@pytest.mark.parametrize("finish", [False, True])
def test_a_visit_without_anything_says_so(finish: bool) -> None:
    """No mark, no cut, no check: not known, and nothing made up."""
    session = Session.start(visit_machine())
    if finish:
        session.finish()
    wrong, done, good, _ = answered(session)
    assert wrong.answer == "Not known: nothing was measured so far"
    assert done.answer == f"Nothing was turned, moved or cleaned{'' if finish else ' so far'}"
    assert good.answer == "Not known: whether it cuts again was not tried, and no mark was made"
    assert not [d for s in report_of(session).sections for d in s.drawings]


def test_what_was_not_looked_at_is_not_reported_as_found_to_be_well() -> None:
    """Nothing at the head's opening: only once every station has its mark there; one at mirror 2 is none of them."""
    session = Session.start(visit_machine())
    session.mark("mirror 2", u=0.1, v=0.1, x=20.0, y=20.0, target="mirror 2")
    said = [answered(session)[0].answer]
    for place in session.machine.stations:
        session.mark(place.name, u=0.1, v=-0.1)
        said.append(answered(session)[0].answer)
    count = len(session.machine.stations)
    assert said[0] == "Not known: the head's opening was not looked at, only mirror 2"
    assert said[1] == f"Not known: at the head's opening only 1 of {count} stations marked, and good"
    assert said[-2].startswith("Not known")
    assert said[-1] == "Nothing at the head's opening: every mark lay within what is good"


def test_other_sections_have_a_place_of_their_own() -> None:
    """What knows more than this visit stands after what this visit found."""
    from coach.report.page import Section

    told = report_of(visit(), history=(Section("Visits over time", ("three",)),))
    headings = [section.heading for section in told.sections]
    assert headings.index("Cut checks") < headings.index("Visits over time") < headings.index("What changed")
