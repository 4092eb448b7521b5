"""What can be looked at from any question: the entries, help, the trade's words."""

from collections.abc import Mapping

from coach.plain.cautions import caution_lines
from coach.plain.step_lines import action_words, what_lines
from coach.plain.words import WORDS
from coach.session.events import Event
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.doses_said import dose_lines
from coach.steps.entries import EntryState, entries_listed, entry_words
from coach.steps.glossary import GLOSSARY
from coach.steps.step import Step


def review_lines(session: Session, wording: Wording) -> list[str]:
    """Everything that was entered, the newest last; below it what the doses tell, where they tell anything."""
    listed = entries_listed(session.events)
    if not listed:
        return ["Nothing was entered yet."]
    return [*(_entry_line(event, state, wording) for event, state in listed), *dose_lines(session)]


def _entry_line(event: Event, state: EntryState, wording: Wording) -> str:
    stands = "" if state == "counts" else f", {state}"
    return f"Entry {event.id}, {event.at.astimezone():%H:%M}{stands}: {entry_words(event, wording)}."


def help_lines(step: Step, bench: str) -> list[str]:
    """This step, its cautions with their sources, and how to answer."""
    return [
        f"Now: {step.title}. {action_words(step)}",
        *what_lines(step, bench),
        *caution_lines(step.cautions, sources=True),
        *answering_lines(),
    ]


def answering_lines(words: Mapping[str, str] = WORDS) -> list[str]:
    """How questions are answered, and every word."""
    return [
        "An answer is the number before it, or the beginning of its words. Enter alone takes what the question says.",
        "Numbers take a point or a comma: 1.5 or 1,5. A unit may stand behind them: 3/8 in.",
        "At every question these words can be said instead of an answer:",
        *(f"{word}: {about}." for word, about in words.items()),
    ]


def glossary_lines() -> list[str]:
    """The trade's words, in plain ones."""
    return [f"{word[:1].upper()}{word[1:]}: {meaning}." for word, meaning in GLOSSARY]
