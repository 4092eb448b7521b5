"""From question to question: what an answer leads to, and where back leads."""

from collections.abc import Collection

from coach.describing import head_answers
from coach.describing.description import Description
from coach.describing.profile import machine_of, missing, size
from coach.describing.questions import questions
from coach.units import Unit

OVERVIEW = "overview"
"""Stands in place of a question's key for the list of all values."""


def taken(description: Description, key: str, text: str, unit: Unit) -> Description:
    """With that answer, as typed.  Raises InputError, also where it does not fit the others: places, focus."""
    found = description.answered(key, text, unit)
    if key == "stations.places" and not missing(found):
        machine_of(found)
    if key in (head_answers.FOCAL, head_answers.GAP):
        head_answers.checked_gap(size(found, head_answers.GAP), size(found, head_answers.FOCAL))
    return found


def all_keys(description: Description) -> frozenset[str]:
    """What the list of all values holds, by its questions' keys."""
    return frozenset(question.key for question in questions(description))


def following(description: Description, at: str, *, listed: Collection[str]) -> str:
    """Where an answer to the question `at` leads; it is among the description's already.

    `listed` is what the list of all values held when it was shown last, nothing where it was not yet: from a value
    chosen there back to the list, by way of what was not in it.
    """
    keys = [question.key for question in questions(description)]
    later = keys[keys.index(at) + 1 :] if at in keys else []
    if listed:
        later = [key for key in later if key not in listed and key not in description.answers]
    return later[0] if later else OVERVIEW


def preceding(description: Description, at: str, *, listed: Collection[str]) -> str | None:
    """Where back leads from `at`; None from the first question."""
    keys = [question.key for question in questions(description)]
    if at not in keys:
        return keys[-1]
    if listed:
        return OVERVIEW
    place = keys.index(at)
    return keys[place - 1] if place else None
