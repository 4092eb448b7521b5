"""Which session, and which spot on the machine, the arguments mean."""

from argparse import Namespace

from coach.advice.advice import Shot
from coach.cli.folder import store_of
from coach.machine import Target
from coach.session.checks import checked_offset_on, place
from coach.session.session import Session
from coach.units import parse_length


def session_of(arguments: Namespace) -> Session:
    """The session meant by SESSION; every further entry is on disk at once.  Raises UnknownName, Unreadable."""
    return Session.resume(store_of(arguments).find_session(arguments.session))


def length(text: str | None, unit: str, what: str) -> float | None:
    """A typed length in mm, None where nothing was typed.  Raises InputError."""
    if text is None:
        return None
    return parse_length(text, "in" if unit == "in" else "mm", what).mm


def spot_of(session: Session, arguments: Namespace) -> Shot:
    """Where the pulse was made: a station, a point of one's own, or a point that the coach has just advised.

    Raises UnknownName, InputError or OutOfReach.
    """
    x = length(arguments.x, arguments.unit, "x")
    y = length(arguments.y, arguments.unit, "y")
    target: Target = arguments.target or "head"
    if x is None and y is None and (advised := _advised(session, arguments)) is not None:
        return advised  # with all that was advised: another tape, a wide card
    if x is not None and y is not None:
        bed = session.machine.bed
        counted = checked_offset_on("x", x, bed.width), checked_offset_on("y", y, bed.depth)
        x, y = session.machine.frame.counted(*counted)
    where = place(session.machine, arguments.station, x, y, target)
    return Shot(where["station"], where["x"], where["y"], target)


def _advised(session: Session, arguments: Namespace) -> Shot | None:
    """The shot of that name in the current advice, unless another tape was named."""
    for shot in session.advice().stations:
        if shot.name == arguments.station and arguments.target in (None, shot.target):
            return shot
    return None
