"""What `mark`, `miss` and `nothing` say of the pulse itself: its dose, and what is remarkable in it."""

from argparse import Namespace
from datetime import datetime

from coach.advice.facts import Shot
from coach.errors import InputError
from coach.session.events import Mark, Pulse, Typed
from coach.session.kept import now
from coach.session.moments import moment_of
from coach.session.pulse_checks import Dose
from coach.session.session import Session
from coach.session.store import LAST
from coach.steps.dosing import beyond_ceiling, other_layers, read_dose


def dose_of(arguments: Namespace) -> Dose:
    """ms, power and layers as they were typed.  Raises InputError or OutOfReach."""
    return read_dose({"ms": arguments.ms, "power": arguments.power, "layers": arguments.layers})


def made_of(arguments: Namespace, session: Session) -> tuple[datetime | None, Typed]:
    """When it was made where it is typed in afterwards, and what is kept of that.  Raises InputError, OutOfReach."""
    if arguments.made is None:
        return None, {}
    from coach.worksheet.made import MADE, checked_made  # for paper alone

    if arguments.session == LAST:
        raise InputError(
            "What is typed in afterwards may belong to another session than the one worked on last",
            expected="the session's name",
            example=session.path.stem if session.path else "",
        )
    day = checked_made(arguments.made, session)
    return moment_of(day, now()), {MADE: day.isoformat()}


def remarks(session: Session, shot: Shot, before: tuple[Pulse | Mark, ...]) -> list[str]:
    """What is worth saying of the newest pulse beside those before it: no refusal, it has happened."""
    newest = next(e for e in reversed(session.effective) if isinstance(e, Pulse | Mark))
    said = [beyond_ceiling(before, newest.ms), other_layers(before, newest.layers)]
    there = any(isinstance(e, Mark) and (e.x, e.y, e.target) == (shot.x, shot.y, shot.target) for e in before)
    if isinstance(newest, Pulse) and there:
        said.append(
            f"A mark was made at {shot.name} before: if nothing was moved since, this pulse was none, or weak."
        )
    return [words for words in said if words]


def pulses_of(session: Session) -> tuple[Pulse | Mark, ...]:
    """Every pulse and mark that counts so far."""
    return tuple(e for e in session.effective if isinstance(e, Pulse | Mark))
