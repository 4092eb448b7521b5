"""What the last mark and the last turns taught, for the step that follows them."""

from coach.advice.lessons import lessons, retest
from coach.belief.belief import Belief
from coach.session.events import Mark, Miss
from coach.session.replay import advance, after, sighting_of
from coach.session.session import Session


def news(session: Session) -> tuple[str, ...]:
    """Expected against seen for the newest mark of a retest, and lessons that it taught; empty before a turn."""
    events = session.effective
    last = next((i for i in range(len(events) - 1, -1, -1) if isinstance(events[i], Mark | Miss)), None)
    if last is None or not session.belief.adjustments:
        return ()
    before = advance(Belief.initial(session.machine, session.created.date()), events[:last])
    event = events[last]
    if not before.adjustments or not isinstance(event, Mark | Miss):
        return ()
    known = set(lessons(before))
    taught = tuple(sentence for sentence in lessons(after(before, event)) if sentence not in known)
    return (retest(before, sighting_of(event)), *taught)
