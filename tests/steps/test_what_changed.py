"""What changed, and the checks: asked one at a time, in what order, and where they lead."""

import pytest
from visiting import at, visit

from coach import Session
from coach.errors import InputError
from coach.session.events import Gate
from coach.session.visit_events import Check
from coach.shown import IN_MM, Wording
from coach.steps import suspects_said
from coach.steps.asked_figures import enter_figures, form_of, stands
from coach.steps.perform import perform
from coach.steps.step import Step
from coach.steps.visit_words import visit_doing
from coach.steps.wanted import keep_drafted
from coach.triage.causes import ABOUT
from coach.triage.questions import QUESTIONS
from coach.triage.suspects import Suspect

IN_INCHES = Wording(unit="in")
LEVEL = {"front_left": 5.0, "front_right": 5.1, "back_left": 5.0, "back_right": 5.1}
SLOPES = LEVEL | {"back_right": 7.4}


def checked(session: Session, **bad: str) -> list[str]:
    """Goes through the checks, all good but these; which step came when."""
    came = []
    for _ in range(60):
        step = at(session)
        came.append(step.gate or step.item or step.key)
        if step.key in ("verdict", "halt"):
            return came
        if step.gate:
            perform(session, step, "acknowledge")
        else:
            perform(session, step, "checked", option=bad.get(step.item or "", "good"))
    raise AssertionError("the checks do not end")


@pytest.mark.parametrize(("minutes", "said"), [(1.0, "About 1 minute."), (3.0, "About 3 minutes.")])
def test_how_long_a_test_takes_is_one_minute_or_several(minutes: float, said: str) -> None:
    suspect = Suspect("extraction", ("Smoke stands.",), (), "Hold a tissue to the grate.", minutes, "open")
    assert suspects_said.test_words([suspect]).endswith(said)


def test_the_current_that_was_kept_stands_in_the_form() -> None:
    """Nobody has to know by heart what the panel once showed: the machine's kept reading stands there, to correct."""
    session = visit("checks")
    session.usual_current(19.5)
    for _ in range(30):
        step = at(session)
        if step.item == "tube":
            break
        if step.gate:
            perform(session, step, "acknowledge")
        else:
            perform(session, step, "checked", option="good")
    step = at(session)
    (measured,) = (each for each in step.choices if each.wants == "figures")
    form = form_of(session, step, measured, IN_MM)
    assert [field.starts for field in form.fields if field.name == "usual"] == ["19.5"]


def test_where_one_stopped_names_the_check_that_was_answered() -> None:
    """The first screen's row: what was answered last, not as if it were still asked."""
    session = visit("checks")
    perform(session, at(session), "checked", option="good")
    event = session.events[-1]
    assert isinstance(event, Check)
    assert visit_doing(event) == f"checked {event.name}"


def test_each_question_is_asked_once_and_several_answers_may_stand() -> None:
    """In their order; where more than one may be so, until it is said that this is all, or an answer stands alone."""
    session = visit("what changed")
    assert at(session).item == QUESTIONS[0].key
    for question in QUESTIONS:
        step = at(session)
        assert step.item == question.key
        assert [choice.label.lower() for choice in step.choices] == [answer.lower() for answer in question.answers]
        perform(session, step, "answer", option=question.answers[1])
        if question.many:
            assert question.answers[0] not in [choice.option for choice in at(session).choices]
            perform(session, at(session), "enough")
    assert at(session).key == "suspects"
    perform(session, at(session), "part-again")
    assert session.answers() == {}
    perform(session, at(session), "answer", option="everywhere alike")
    assert at(session).item == QUESTIONS[1].key


def test_the_headline_names_the_suspect_that_pays_most_and_its_minutes() -> None:
    """It is the model's first; where nothing speaks for any, it says so."""
    session = visit("what changed")
    for _ in QUESTIONS:
        perform(session, at(session), "answer", option="not known")
    assert "no suspect" in at(session).action.lower()
    session.answer("weak", "toward one corner")
    first = session.suspects()[0]
    assert first.per_minute > 0
    assert first.name in at(session).action
    assert f"{first.minutes:g} min" in at(session).figure
    assert first.speaks_for[0] in " ".join(at(session).do)


@pytest.mark.parametrize(
    ("left_out", "said", "led_to"), [(False, "cut check first", "cut check"), (True, "the tests", "checks")]
)
def test_beside_a_suspect_the_first_row_says_what_comes_and_the_headline_when(left_out, said, led_to) -> None:
    """visit.md: the cut check before lies between the questions and the checks; its test is "later" till then."""
    session = visit("what changed")
    if left_out:
        session.skip("cut check", "no sheet")
        session.begin("what changed")
    for _ in QUESTIONS:
        perform(session, at(session), "answer", option="not known")
    session.answer("weak", "toward one corner")
    step = at(session)
    assert said in step.choices[0].label
    assert ("later" in step.figure) is not left_out
    perform(session, step, step.choices[0].key)
    assert (at(session).key, at(session).part) == ("next-part", led_to)


def test_the_machine_is_switched_off_and_on_once_each() -> None:
    """However the suspects are ordered, checks with hands in come together; it never cuts with "attended" unsaid."""
    session = visit("checks")
    came = checked(session)
    assert came[-1] == "verdict"
    assert came.count("isolated") == 1
    assert came.count("powered") <= 1
    assert came.count("attended") == 1
    assert {"focus", "bed", "lens", "water", "tube", "extraction"} <= set(came)
    assert came.index("isolated") < min(came.index("bed"), came.index("lens"))
    assert came.index("attended") < min(came.index("focus"), came.index("tube"))


def test_a_bed_that_slopes_is_found_by_its_gaps_and_looked_at_again_once_it_is_level() -> None:
    """The gaps decide, not a word; after levelling the same check clears it."""
    session = visit("checks")
    session.gate("isolated")
    assert at(session).item == "bed" or "bed" in checked(session)
    session.check("bed", "bad", **SLOPES)
    checked(session)
    assert (at(session).action, session.verdict().cause) == ("Found: bed", "bed")
    assert any("2.4 mm" in line for line in at(session).do)
    perform(session, at(session), "check-again")
    for _ in range(3):
        if at(session).gate:
            perform(session, at(session), "acknowledge")
    assert at(session).item == "bed"
    perform(session, at(session), "check-figures", figures=LEVEL)
    assert session.checks()["bed"].state == "cleared"
    assert at(session).action != "Found: bed"


@pytest.mark.parametrize("part", ["checks", "beam path"])
def test_with_water_too_warm_nothing_is_pulsed_or_cut(part: str) -> None:
    """In whatever part: the step says so, with the key out, until new figures say otherwise."""
    session = visit(part)
    session.check("water", "bad", celsius=33.0)
    checked(session)
    step = at(session)
    assert (step.key, step.item, step.tone) == ("halt", "water", "stop")
    assert "33 °C" in step.do[0]
    perform(session, step, "check-figures", figures={"celsius": 32.0})
    assert at(session).key == "halt"
    perform(session, at(session), "check-figures", figures={"celsius": 22.0})
    assert at(session).key != "halt"


def test_typed_figures_are_read_back_kept_half_typed_and_refused_with_a_sentence() -> None:
    """Lengths in the person's own unit; what cannot be is said, and nothing is entered."""
    session = visit("checks")
    session.gate("isolated")
    session.gate("attended")
    step = _until_bed(session)
    (choice,) = (each for each in step.choices if each.wants == "figures")
    form = form_of(session, step, choice, IN_INCHES)
    keep_drafted(session, choice, {"front_left": "1/4"}, IN_INCHES)
    assert stands(session, choice, form, IN_INCHES)["front_left"] == "1/4"
    assert stands(session, choice, form_of(session, step, choice, IN_MM), IN_MM)["front_left"] == "1/4 in"
    typed = {"front_left": "1/4", "back_right": "6,2 mm"}
    assert form.read(typed) == {"front_left": pytest.approx(6.35), "back_right": 6.2}
    for wrong, sentence in (({"front_left": "x"}, "front left"), ({"front_left": "99"}, "0 to 200"), ({}, "Nothing")):
        with pytest.raises(InputError, match=sentence):
            form.read(wrong)
    before = session.events
    enter_figures(session, step, choice, form, typed, IN_INCHES)
    assert len(session.events) == len(before) + 1
    assert session.effective[-1].figures == {"front_left": pytest.approx(6.35), "back_right": 6.2}


def _until_bed(session: Session) -> Step:
    for _ in range(20):
        step = at(session)
        if step.item == "bed":
            return step
        perform(
            session,
            step,
            *(("acknowledge",) if step.gate else ("checked",)),
            **({} if step.gate else {"option": "good"}),
        )
    raise AssertionError("the bed is not checked")


def test_an_option_that_is_none_of_the_answers_is_refused() -> None:
    """With what could have been said."""
    session = visit("what changed")
    with pytest.raises(InputError, match=r"none of the answers.*toward one corner"):
        perform(session, at(session), "answer", option="sideways")
    assert not any(event.kind == "answer" for event in session.events)
    assert [event.name for event in session.events if isinstance(event, Gate)] == ["rules"]


def test_what_the_verdict_asks_to_look_at_can_be_looked_at() -> None:
    """Also a check that nothing spoke for before, so that it was not asked: one key leads to it, and on."""
    session = visit("checks")
    checked(session)
    asked = []
    for _ in range(20):
        verdict = session.verdict()
        if verdict.ends != "test":
            break
        perform(session, at(session), "check-again")
        came = checked(session)
        asked.append(came[:-1][-1])
        assert ABOUT[verdict.cause].check == asked[-1]
    assert verdict.ends != "test"
    assert "rail" in asked
