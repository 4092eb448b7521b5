"""What is asked before anything is measured, one question at a time, and what the answers speak for."""

from coach.session.session import Session
from coach.shown import Wording
from coach.steps.about import About
from coach.steps.cautions import NOT_FIRING, SUPPLY
from coach.steps.kind import ChoiceKind, Option, Said, Stage, StepKind
from coach.steps.stages.ends import END_PART
from coach.steps.suspects_said import leading, lines_about, test_words
from coach.steps.visit_deeds import answer, enough, part_anew
from coach.steps.visit_progress import state_of
from coach.triage.questions import QUESTIONS, question

CUT_FIRST = "The cut check comes first: beside it a mending shows what it changed."
MOST_SUSPECTS = 3
"""Suspects that are said on the step; all of them stand in the help and in the shell."""


BRIEF = {
    "weak": "Where are cuts weak?",
    "since": "Weak cuts since when?",
    "fades": "Cuts fade when warm?",
    "edge": "How is the cut's edge?",
    "moved": "Machine moved?",
    "changed": "Parts changed?",
    "material": "New material?",
}
"""The questions in large letters, each to be read alone."""


def _asked(about: About, session: Session, wording: Wording) -> Said:
    assert about.item is not None
    asked = question(about.item)
    place = next(number for number, each in enumerate(QUESTIONS, start=1) if each.key == asked.key)
    given = session.answers().get(asked.key, ())
    several = ("More than one may be so: say each, then that this is all.",) if asked.many else ()
    so_far = (f"So far: {', '.join(given)}.",) if about.more else ()
    return Said(
        "What changed",
        BRIEF[asked.key],
        f"{place} of {len(QUESTIONS)}",
        (asked.asks, "Nothing is measured or touched yet: say what you know.", *several, *so_far),
    )


def _answers(about: About, session: Session) -> tuple[Option, ...]:
    """The answers that can still be given; beside another one only those that may stand beside it."""
    assert about.item is not None
    asked = question(about.item)
    given = session.answers().get(asked.key, ()) if about.more else ()
    left = [each for each in asked.answers if each not in given and not (given and each in asked.alone)]
    return tuple(Option(each, each[0].upper() + each[1:]) for each in left)


def _suspected(about: About, session: Session, wording: Wording) -> Said:
    ordered = session.suspects()
    first = leading(ordered)
    odd = tuple(doubt.asks for doubt in session.doubts())
    tested = first is not None and first.test != ""
    later = "later, " if _cut_first(session) else ""
    return Said(
        "What changed",
        f"Suspect: {first.name}" if first is not None else "No suspect yet",
        f"test: {later}{first.minutes:g} min" if first is not None and tested else "",
        (
            *odd,
            *(words for each in ordered[:MOST_SUSPECTS] for words in lines_about(each)),
        ),
        why=f"{test_words(ordered)}{f' {CUT_FIRST}' if later else ''}",
        labels={"end-part": _goes_on(session, tested=tested)},
    )


def _cut_first(session: Session) -> bool:
    """Whether the cut check before anything is done still lies between the questions and the tests."""
    return state_of("cut check", session.effective) not in ("done", "left out")


def _goes_on(session: Session, *, tested: bool) -> str:
    """Where the first row leads, which is not to the suspect's test where something comes before it."""
    if _cut_first(session):
        return "Go on: cut check first" if tested else "Go on: the cut check"
    waits = state_of("checks", session.effective) not in ("done", "left out")
    return "Go on: the tests" if waits else "Go on with the visit"


ANSWER = ChoiceKind(key="answer", label="", wants="option", does=answer, makes="answer", options=_answers)
ENOUGH = ChoiceKind(
    key="enough", label="That is all", does=enough, makes="item", offered=lambda about, session: about.more
)
AGAIN = ChoiceKind(key="part-again", label="Ask me all of it again", does=part_anew, makes="item")

QUESTIONS_STAGE = Stage(
    "Questions",
    (
        StepKind(
            key="ask",
            says=_asked,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=(ANSWER, ENOUGH),
            about=("part", "item"),
        ),
        StepKind(
            key="suspects",
            says=_suspected,
            own_cautions=(NOT_FIRING, SUPPLY),
            choices=(END_PART, AGAIN),
            about=("part",),
            danger_begins=True,
        ),
    ),
)
