"""Setting out to adjust, and why that was advised."""

from coach.advice import words
from coach.session.events import Plan
from coach.session.session import Session
from coach.shown import Wording
from coach.steps import deeds
from coach.steps.kind import ChoiceKind

START = ChoiceKind(key="start", label="Start", does=deeds.set_out, makes="plan")


def plans_reason(session: Session, wording: Wording) -> str:
    """Why the person set out to adjust; nothing where it would be advised no more."""
    reason = session.reason_for(next(event for event in reversed(session.effective) if isinstance(event, Plan)))
    return words.why(reason, wording) if reason is not None else ""
