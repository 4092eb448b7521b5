"""Lock nuts that were slackened for a turn, and are to be tightened before the job is done."""

from coach.session.events import Lock, Turn
from coach.session.session import Session


def loose_locks(session: Session) -> tuple[int, ...]:
    """The mirrors that were turned and whose lock nuts nobody has said to be tightened since."""
    loose: set[int] = set()
    for event in session.effective:
        if isinstance(event, Turn):
            loose.add(event.mirror)
        elif isinstance(event, Lock):
            loose.discard(event.mirror)
    return tuple(sorted(loose))


def beam_locks(session: Session) -> tuple[int, ...]:
    """Of these, the mirrors before the head: a mark at each station confirms them."""
    return tuple(mirror for mirror in loose_locks(session) if mirror != 3)


def lock_words(mirrors: tuple[int, ...]) -> str:
    """What the lock nuts still ask for: "lock nuts of mirrors 1 and 2, then a mark at each station"."""
    if not mirrors:
        return ""
    return f"{nuts_of(mirrors)}, then a mark at each station"


def slack_words(session: Session) -> str:
    """What is read back where the beam is to be left with lock nuts slack; "" where all are tight."""
    mirrors = loose_locks(session)
    if not mirrors:
        return ""
    return (
        f"Not said to be tight: {nuts_of(mirrors)}. Slack ones let the mirror wander; tightening moves its mount a "
        "little, which only new marks show. Leave it so all the same."
    )


def nuts_of(mirrors: tuple[int, ...]) -> str:
    """Whose lock nuts: "lock nuts of mirrors 1 and 2"."""
    return f"lock nuts of mirror{'s' if len(mirrors) > 1 else ''} {' and '.join(map(str, mirrors))}"
