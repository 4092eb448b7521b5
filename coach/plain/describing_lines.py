"""The questions about a machine as they are said."""

from coach.describing.description import Description
from coach.describing.question import Question
from coach.describing.questions import options, questions
from coach.describing.words import is_guessed, said, value_words
from coach.plain.aloud import quiet
from coach.plain.cautions import caution_lines
from coach.plain.talk import Option, numbered
from coach.shown import Wording
from coach.steps.cautions import while_describing

GUESS = "not known"
"""Stands among a closed question's answers for leaving it guessed."""
UNITS = {"mm": "in mm", "in": "in inches"}


def title(question: Question) -> str:
    """What is asked about, as a line begins."""
    return f"{question.title[:1].upper()}{question.title[1:]}"


def asked_lines(asked: tuple[Question, ...], question: Question) -> list[str]:
    """Which question of how many, and how to find the answer out."""
    words = quiet(question.ask)
    end = "" if words.endswith("?") else "."
    return [f"Question {asked.index(question) + 1} of {len(asked)}. {words}{end}", *question.how]


def warned_lines(question: Question | None, *, sources: bool = False) -> list[str]:
    """What to beware of while measuring a machine."""
    cautions = while_describing(question.at if question is not None else "")
    return caution_lines(cautions, sources=sources)


def all_values(description: Description, wording: Wording) -> list[str]:
    """Every value, guessed ones named."""
    return [f"{title(question)}: {said(description, question, wording)}." for question in questions(description)]


def choice_options(
    question: Question, description: Description, wording: Wording
) -> tuple[tuple[Option, ...], int | None]:
    """The answers, and the number that Enter alone takes: what stands, else the guess, else none."""
    rows = [(option.key, option.label) for option in options(question, description)]
    stands = description.answers.get(question.key)
    if stands is not None and stands not in dict(rows):
        rows.append((stands, f"As it is: {value_words(description, question, wording)}"))
    if is_guessed(description.unanswered(question.key), question):
        guess = value_words(description.unanswered(question.key), question, wording)
        rows.append((GUESS, f"Not known: it is guessed, {guess}"))
        stands = stands or GUESS
    offered = numbered(rows)
    if stands is None and not question.required:
        words = value_words(description, question, wording)
        stands = next((option.key for option in offered if option.label == words), None)
    return offered, next((option.number for option in offered if option.key == stands), None)


def typed_prompt(question: Question, description: Description, entry: str, wording: Wording) -> str:
    """What is asked for, in which unit, and what Enter alone does."""
    asked = f"{title(question)}, {UNITS[wording.unit]}?" if question.kind == "length" else f"{title(question)}?"
    if entry:
        return f"{asked} Typed before: {entry}. Enter alone takes it."
    words = value_words(description, question, wording)
    if question.key in description.answers:
        return f"{asked} Enter alone keeps {words}."
    if question.required:
        return asked
    return f"{asked} Enter alone: {'it is guessed, ' if is_guessed(description, question) else ''}{words}."
