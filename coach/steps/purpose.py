"""What a measurement is for: a new mark, or an old one measured again."""

from collections.abc import Callable
from dataclasses import dataclass

from coach.advice.advice import Shot
from coach.advice.shots import expected_shot
from coach.reading.entries import entries_from, manner_from
from coach.reading.method import Entries
from coach.reading.methods import CARRIED_WIDTH
from coach.reading.model import Reading
from coach.session.events import Amend, Mark, Pulse, effective
from coach.session.session import Session
from coach.steps.measuring import as_entered
from coach.steps.perform import perform
from coach.steps.step import Step


@dataclass(frozen=True)
class Purpose:
    """One measurement."""

    key: str
    """Says in the draft which mark the entries belong to."""
    shot: Shot
    """Where, and where the mark is expected."""
    start: Entries
    """What the fields begin with."""
    pulse: int
    """The event of the pulse that made the mark; 0 where none was entered."""
    save: Callable[[Reading], None]
    """Makes the entry.  Raises CoachError."""


def for_step(session: Session, step: Step) -> Purpose:
    """The mark of a step that asks for one.

    The fields begin with what was typed for this very pulse before, if anything was; else with the method, the face
    and the unit that were used last.
    """
    assert step.shot is not None
    pulse = next(event.id for event in reversed(session.effective) if isinstance(event, Pulse))
    measured = [event for event in session.events if isinstance(event, Mark | Amend) and event.typed]
    same = [event for event in measured if isinstance(event, Mark) and pulse_of(session, event) == pulse]
    start = entries_from(same[-1].typed) if same else manner_from(measured[-1].typed) if measured else {}
    start = width_before(session) | start
    return _purpose(session, pulse, step.shot, start, lambda r: perform(session, step, "measured", reading=r))


def width_before(session: Session) -> Entries:
    """The width of the last mark on which it was measured, for who does not measure it again; {} where none was."""
    widths = [event.width for event in session.effective if isinstance(event, Mark) and event.width]
    return {CARRIED_WIDTH: f"{widths[-1]:.2f} mm"} if widths else {}


def pulse_of(session: Session, mark: Mark) -> int:
    """The event of the pulse that made a mark, also where both were taken back since; 0 where none was entered."""
    before = effective(tuple(event for event in session.events if event.id < mark.id))
    return next((event.id for event in reversed(before) if isinstance(event, Pulse)), 0)


def for_mark(session: Session, mark: Mark) -> Purpose:
    """A mark that counts, to be measured again."""

    def save(reading: Reading) -> None:
        session.amend(mark.id, **as_entered(reading))

    shot = expected_shot(session.belief, Shot(mark.station, mark.x, mark.y, mark.target, wide=mark.wide))
    return _purpose(session, pulse_of(session, mark), shot, entries_from(mark.typed), save, f"mark {mark.id}")


def _purpose(
    session: Session, pulse: int, shot: Shot, start: Entries, save: Callable[[Reading], None], key: str = ""
) -> Purpose:
    """A draft belongs to one pulse (or one mark that is corrected) and is never shown for another."""
    key, draft = key or f"pulse {pulse}", session.draft
    return Purpose(key, shot, draft if draft.get("for") == key else {"for": key, **start}, pulse, save)
