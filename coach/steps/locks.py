"""Lock nuts that were slackened for a turn, and are to be tightened before the job is done."""

from collections.abc import Iterable

from coach.advice.facts import MirrorTurn
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


def turned_before(session: Session, mirror: int, screw: str) -> bool:
    """Whether that screw was turned since its mirror's lock nuts were last said to be tight: its nut is slack."""
    for event in reversed(session.effective):
        match event:
            case Lock(mirror=locked) if locked == mirror:
                return False
            case Turn(mirror=turned) if turned == mirror and event.screws.get(screw):
                return True
    return False


def before_turn(session: Session, mirror: int, screw: str) -> str:
    """How its nut stands, and what is done at it, before that screw is turned."""
    if turned_before(session, mirror, screw):
        return "Slacken its nut, finger-tight so far."
    return "Slacken its lock nut."


AFTER_TURN = "The screw held still by its key, its nut finger-tight until all are tightened."
"""How a nut stays between rounds (common practice): tightened, it moves the mount and has to be slackened again."""


def at_the_nuts(session: Session, turns: Iterable[MirrorTurn]) -> tuple[str, ...]:
    """What is done at the lock nuts before and after these turns, one thing after the other."""
    slackened = (
        f"Mirror {turn.mirror}, screw {name}: {before_turn(session, turn.mirror, name)}"
        for turn in turns
        for name in turn.screws
    )
    return ("Key out.", *slackened, f"After each: {AFTER_TURN[:1].lower()}{AFTER_TURN[1:]}")


def tighten_words(mirrors: tuple[int, ...]) -> str:
    """How slack lock nuts are tightened: "Lock nuts of mirrors 1 and 2: one mirror's first, screws held."."""
    return f"{nuts_of(mirrors).capitalize()}: one mirror's first, screws held"


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
