"""How a machine stood when its last session was closed, in a few words."""

import math
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from coach.errors import CoachError
from coach.shown import Wording
from coach.tuning import TUNING

if TYPE_CHECKING:
    from coach.session.document import Document
    from coach.session.events import Event

SURE = TUNING.deciding.done_at_least
"""From this chance that every station is within the tolerance on, a machine is called centred."""
NOT_YET = "no session finished yet"
"""Said of a machine without a finished session."""
WEEKS, MONTHS = 21, 90
"""Days from which an age is said in weeks, and in months."""


def result_words(document: "Document", now: datetime, wording: Wording) -> str:
    """What a finished session left behind: "centred, worst 4.0 → 0.4 mm expected, 3 days ago".

    Of a visit first whether it cuts again, and what stayed open.  Before stands what was measured before anything was
    adjusted, where something was.  The belief is computed from the session's events; nothing is stored.
    """
    from coach.advice.outlook import outlook
    from coach.session.events import Mark, effective
    from coach.session.session import Session
    from coach.steps.visit_result import visit_result

    events = effective(document.events)
    age = age_words(document.events[-1].at, now)
    ended = visit_result(document)
    if not any(isinstance(event, Mark) for event in events):
        return f"{ended or 'closed without a mark'}, {age}"
    belief = Session(document).belief
    view = outlook(belief.layout, belief.settled)
    word = "centred" if view.chance >= SURE else "not centred"
    before = worst_before(events)
    began = "" if before is None else f"{wording.amount(before)} → "
    return f"{f'{ended}; ' if ended else ''}{word}, worst {began}{wording.length(view.worst)} expected, {age}"


def left_words(path: Path, now: datetime, wording: Wording) -> str:
    """What the finished session in that file left behind; it was readable a moment ago."""
    from coach.session.document import read

    try:
        return result_words(read(path), now, wording)
    except CoachError:
        return "its last session cannot be read any more"


def ended_words(path: Path) -> str:
    """How the visit in that file ended; it was readable a moment ago."""
    from coach.session.document import read
    from coach.steps.visit_result import visit_result

    try:
        return visit_result(read(path))
    except CoachError:
        return ""


def worst_before(events: "Sequence[Event]") -> float | None:
    """mm, the largest offset that was marked at the head before the first adjustment; None where there was none."""
    from coach.session.events import Mark, Shift, Turn

    offsets: list[float] = []
    for event in events:
        match event:
            case Mark() if event.target == "head":
                offsets.append(math.hypot(event.u, event.v))
            case Turn() | Shift():
                return max(offsets, default=None)
            case _:
                continue
    return None


def age_words(when: datetime, now: datetime) -> str:
    """How long ago a day was: "today", "yesterday", "3 days ago", "4 weeks ago", "5 months ago".

    Where another clock was ahead: "3 days ahead of this clock".
    """
    days = (now.astimezone().date() - when.astimezone().date()).days
    if days < 0:
        return f"{-days} day{'s' if days < -1 else ''} ahead of this clock"
    if days <= 1:
        return "yesterday" if days == 1 else "today"
    if days < WEEKS:
        return f"{days} days ago"
    return f"{days // 7} weeks ago" if days < MONTHS else f"{round(days / 30.4)} months ago"
