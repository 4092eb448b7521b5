"""Finding one of many sessions from the first screen: words are asked for, then what they fit is offered."""

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from textual.app import App

from coach.steps.stored import session_words
from coach.tui.program import program_of
from coach.tui.screens.asking import Ask, Field, Typed
from coach.tui.screens.choices import Entry
from coach.tui.screens.dialogs import Pick

if TYPE_CHECKING:
    from coach.session.found import Found
    from coach.session.summary import Summary

MOST = 30
"""So many are offered; more words leave fewer."""
LEAD = "Part of a machine's or session's name, a day (2026-03-01, or its beginning), a month, practice, unfinished."


def find_session(app: App[None], sessions: Sequence["Found[Summary]"]) -> None:
    """Ask for words and offer the sessions of which all are true; the one chosen is opened."""

    def fitting(typed: Typed) -> list["Found[Summary]"]:
        from coach.session.search import found_by

        return found_by(typed["words"], sessions)

    def said(typed: Typed) -> str:
        return _said(len(fitting(typed)))

    box = Ask("Find a session", LEAD, (Field("words", "Words"),), said, lambda typed: None, enter="show them")
    app.push_screen(box, lambda done: _offer(app, fitting(box.typed)) if done else None)


def _said(count: int) -> str:
    return f"{count} session{'' if count == 1 else 's'}."


def _offer(app: App[None], found: Sequence["Found[Summary]"]) -> None:
    now = datetime.now().astimezone()
    entries = [
        Entry(str(number), f"{'Look at' if each.content.finished else 'Resume'} {session_words(each, now)}")
        for number, each in enumerate(found[:MOST])
        if each.content
    ]
    if not entries:
        program_of(app).tell("No session is like that.", "Find a session")
        return
    said = f"{_said(len(found))}{f' The {MOST} worked on last:' if len(found) > MOST else ''}"
    box = Pick("Found", (said,), entries)
    app.push_screen(box, lambda key: program_of(app).open_session(found[int(key)].path) if key else None)
