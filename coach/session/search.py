"""Finding sessions by words: machine, title, file name, day, practice or not, finished or not."""

import unicodedata
from collections.abc import Iterable

from coach.session.found import Found
from coach.session.summary import Summary

FINISHED, OPEN, PRACTICE, VISIT, BROKEN = "finished", "unfinished", "practice", "visit", "broken"
"""Words for what a session is, beside those that stand in it."""


def found_by(words: str, sessions: Iterable[Found[Summary]]) -> list[Found[Summary]]:
    """Those of which every word is true, in the order in which they came; all without a word.

    A word is true where it is part of a name, begins one of the words above, or begins a day or month as it is
    written: "2026-03", "march".  Letters in both cases, and with and without accents, are alike.
    """
    wanted = _plain(words).split()
    return [each for each in sessions if all(_is_true(word, each) for word in wanted)]


def _is_true(word: str, session: Found[Summary]) -> bool:
    return any(word in name for name in _names(session)) or any(each.startswith(word) for each in _said(session))


def _names(session: Found[Summary]) -> list[str]:
    about = session.content
    return [_plain(name) for name in (session.path.stem, *((about.title, about.machine.name) if about else ()))]


def _said(session: Found[Summary]) -> list[str]:
    about = session.content
    if about is None:
        return [BROKEN]
    days = [when.astimezone() for when in (about.created, about.last)]
    said = [
        FINISHED if about.finished else OPEN,
        *(word for day in days for word in (f"{day:%Y-%m-%d}", f"{day:%B}")),
    ]
    said += [PRACTICE, str(about.practice.seed)] if about.practice else []
    said += [VISIT] if about.visit else []
    return [_plain(word) for word in said]


def _plain(text: str) -> str:
    """Without case and accents."""
    apart = unicodedata.normalize("NFKD", text).casefold()
    return "".join(letter for letter in apart if not unicodedata.combining(letter))
