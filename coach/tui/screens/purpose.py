"""What a measurement is for: a new mark, or an old one measured again."""

from collections.abc import Callable
from dataclasses import dataclass

from coach.advice.advice import Shot
from coach.reading.model import Reading
from coach.session.events import Mark, Pulse, effective
from coach.session.session import Session
from coach.steps.measuring import kept
from coach.steps.perform import perform
from coach.steps.step import Step
from coach.tui.screens.ways import Entries, entries_from


@dataclass(frozen=True)
class Purpose:
    """One measurement."""

    key: str
    """Says in the draft which mark the entries belong to."""
    shot: Shot
    """Where, and where the mark is expected."""
    start: Entries
    """What the fields begin with."""
    save: Callable[[Reading], None]
    """Makes the entry.  Raises CoachError."""


def for_step(session: Session, step: Step) -> Purpose:
    """The mark of a step that asks for one; the fields begin with what was typed before, if anything was."""
    assert step.shot is not None
    pulse = next(event for event in reversed(session.effective) if isinstance(event, Pulse))
    counting = {event.id for event in effective(session.events)}
    taken_back = [
        event
        for event in session.events
        if isinstance(event, Mark) and event.id not in counting and event.id > pulse.id
    ]
    start = entries_from(taken_back[-1].typed) if taken_back else {}
    return _purpose(
        session, f"pulse {pulse.id}", step.shot, start, lambda r: perform(session, step, "measured", reading=r)
    )


def for_mark(session: Session, mark: Mark) -> Purpose:
    """A mark that counts, to be measured again."""

    def save(reading: Reading) -> None:
        final = kept(reading)
        session.amend(mark.id, final.u, final.v, sd=final.sd, kept=bool(reading.questions), typed=reading.typed)

    mean, cov = session.belief.expected(mark.x, mark.y, mark.target)
    sd = float(max(cov[0, 0], cov[1, 1]) ** 0.5)
    shot = Shot(mark.station, mark.x, mark.y, mark.target, float(mean[0]), float(mean[1]), sd)
    return _purpose(session, f"mark {mark.id}", shot, entries_from(mark.typed), save)


def _purpose(session: Session, key: str, shot: Shot, start: Entries, save: Callable[[Reading], None]) -> Purpose:
    draft = session.draft
    return Purpose(key, shot, draft if draft.get("for") == key else {"for": key, **start}, save)
