"""From question to question: what an answer leads to, and where back leads."""

from coach.describing.description import Description
from coach.describing.profile import machine_of, missing
from coach.describing.questions import questions
from coach.units import Unit

OVERVIEW = "overview"
"""Stands in place of a question's key for the list of all values."""


def taken(description: Description, key: str, text: str, unit: Unit) -> Description:
    """With that answer, as typed.  Raises InputError, also where a machine's places would not fit its travel."""
    found = description.answered(key, text, unit)
    if key == "stations.places" and not missing(found):
        machine_of(found)
    return found


def following(before: Description, after: Description, at: str, *, listed: bool) -> str:
    """Where an answer to the question `at` leads.

    `listed` says that all values were listed already: then back to the list, by way of what only now matters.
    """
    known = {question.key for question in questions(before)}
    keys = [question.key for question in questions(after)]
    later = keys[keys.index(at) + 1 :] if at in keys else []
    if listed:
        later = [key for key in later if key not in known and key not in after.answers]
    return later[0] if later else OVERVIEW


def preceding(description: Description, at: str, *, listed: bool) -> str | None:
    """Where back leads from `at`; None from the first question."""
    keys = [question.key for question in questions(description)]
    if at not in keys:
        return keys[-1]
    if listed:
        return OVERVIEW
    place = keys.index(at)
    return keys[place - 1] if place else None
