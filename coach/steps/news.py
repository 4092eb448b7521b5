"""What the last mark and the last turns taught, for the step that follows them; in a check-up, what moved."""

from coach.advice.lesson_words import lesson_words, retest_words
from coach.advice.lessons import lessons, retest
from coach.session.changes import rails_mended
from coach.session.events import Disturbed, Lock, Mark, Mended, Miss, Shift, Turn
from coach.session.replay import after, sighting_of
from coach.session.session import Session
from coach.shown import Wording
from coach.steps.moved import since_begun
from coach.steps.moved_words import comparison_lines

HANDS = Turn | Shift | Lock | Disturbed | Mended
"""Entries after which another mark is expected than before."""


def news(session: Session, wording: Wording) -> tuple[str, ...]:
    """Expected against seen for the newest mark of a retest, and lessons that it taught.

    Before a turn: whether the beam lies where the last visit left it, where the session was begun with that; else
    empty.  Empty too once hands were at the machine since: what was expected then would stand beside what is
    expected now.
    """
    events, mended = session.effective, rails_mended(session.effective)
    last = next((e for e in reversed(events) if isinstance(e, Mark | Miss | HANDS) or e.id in mended), None)
    if not isinstance(last, Mark | Miss):
        return ()
    before = session.belief_before(last)
    if not before.adjustments:
        return _since_last_visit(session, wording)
    known = set(lessons(before))
    taught = tuple(lesson_words(lesson) for lesson in lessons(after(before, last)) if lesson not in known)
    return (retest_words(retest(before, sighting_of(last, before.tuning)), wording), *taught)


def _since_last_visit(session: Session, wording: Wording) -> tuple[str, ...]:
    """Once every station was marked that was marked then, or as soon as something moved by more than chance."""
    seen = since_begun(session)
    if seen is None or (seen.missing and seen.verdict != "moved"):
        return ()
    return comparison_lines(seen, wording)[:1]
