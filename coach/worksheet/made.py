"""The day on which what is typed in afterwards was made."""

from datetime import date

from coach.errors import InputError, OutOfReach
from coach.session.checks import checked_when
from coach.session.events import Disturbed, Lock, Mark, Shift, Turn
from coach.session.kept import now
from coach.session.moments import moment_of
from coach.session.session import Session
from coach.upkeep.typed import typed_day

MADE = "made"
"""Said in `typed` of a mark that was typed in afterwards: the day on which it was made."""
ADJUSTING = (Turn, Shift, Lock, Disturbed)
"""What the marks before tell nothing of any more."""


def checked_made(text: str, session: Session | None) -> date:
    """The day that is meant, for marks of that session; None: of a new one.  Raises InputError, OutOfReach.

    A mark counts where it stands: what was made before the last adjustment can no more be entered.
    """
    day = typed_day(text, now().date())
    checked_when(moment_of(day, now()), session.created if session else moment_of(day, now()), now())
    adjusted = [event for event in session.effective if isinstance(event, ADJUSTING)] if session else []
    if adjusted and day < (last := adjusted[-1].at.astimezone().date()):
        raise OutOfReach(
            f"{day} lies before the last adjustment of this session, on {last}",
            expected="marks made since then, or a session of its own",
        )
    return day


def last_made(session: Session) -> date | None:
    """The day of the newest mark that was typed in afterwards since the last adjustment; None where there is none."""
    for event in reversed(session.effective):
        if isinstance(event, ADJUSTING):
            return None
        if isinstance(event, Mark) and event.typed.get(MADE):
            try:
                return typed_day(event.typed[MADE], now().date())
            except InputError:  # a hand edit
                return None
    return None
