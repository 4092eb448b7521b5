"""What stands in the way: parts that cannot be moved or were bumped, and how to go on after a stop."""

from argparse import Namespace

from coach.advice.advice import Cause
from coach.cli.entered import entered
from coach.cli.where import session_of
from coach.errors import InputError
from coach.head.advice import HeadCause
from coach.parts import Direction
from coach.session.checks import checked_part
from coach.session.events import Refused
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.bumped import disturb, spelled
from coach.steps.entries import entry_words
from coach.steps.reach import take_refusal_back
from coach.steps.stages.done import BEST_OF
from coach.steps.words import BOTH_SENSES, named

ASKS = {
    "shoot": "it asks for a pulse",
    "turn": "it asks for a turn",
    "shift": "it asks for a move",
    "done": "it is done",
}
"""What it says in place of a stop, by the advice's kind."""


def refuse(arguments: Namespace) -> int:
    """Enter that a part cannot be moved, or, with --take-back, that it can."""
    session = session_of(arguments)
    if spelled(arguments.part) == "lens":
        return _refuse_lens(session, arguments)
    part = checked_part(spelled(arguments.part), arguments.axis)
    axis: Direction | None = arguments.axis
    if arguments.take_back:
        take_refusal_back(session, part, axis)
        way = f" {' or '.join(BOTH_SENSES[axis])}" if axis else ""
        entered(session, f"Taken back: {named(part)} can be moved{way}, for all the coach knows.")
    else:
        session.refuse(part, axis)
        entered(session, _last_words(session))
    return 0


def _refuse_lens(session: Session, arguments: Namespace) -> int:
    """The same of the lens tube, which has no directions of its own."""
    if arguments.axis:
        raise InputError("Of the lens no direction is told", expected="lens, without --axis")
    if not arguments.take_back:
        session.refuse("lens")
        entered(session, _last_words(session))
        return 0
    said = [event for event in session.effective if isinstance(event, Refused) and event.part == "lens"]
    if not said:
        raise InputError("Nobody said in this session that the lens cannot be moved")
    for event in said:
        session.undo(event.id)
    entered(session, "Taken back: the lens can be moved, for all the coach knows.")
    return 0


def mended(arguments: Namespace) -> int:
    """Enter that what a stop named was seen to."""
    session = session_of(arguments)
    session.mended(_stopped_below(session) if arguments.head else _stopped(session))
    entered(session, f"{_last_words(session)} Ask for advice again.")
    return 0


def best(arguments: Namespace) -> int:
    """Enter that the machine is aligned to the best that can be had, the fault taken as it is."""
    session = session_of(arguments)
    cause = _stopped_below(session) if arguments.head else _stopped(session)
    if cause not in BEST_OF and not (arguments.head and cause != "no levers"):
        raise InputError(f"With {cause!r} there is no best to align to", expected="what it names to be mended")
    session.best(cause)
    entered(session, f"{_last_words(session)} Ask for advice again.")
    return 0


def disturbed(arguments: Namespace) -> int:
    """Enter that a part was out, or was bumped."""
    session = session_of(arguments)
    entered(session, disturb(session, spelled(arguments.part)))
    return 0


def _stopped(session: Session) -> Cause:
    """Why the coach stopped.  Raises InputError where it did not."""
    advice = session.advice()
    if advice.kind != "stop":
        raise InputError(f"The coach has not stopped: {ASKS[advice.kind]}", expected="coach advise first")
    return advice.cause


def _stopped_below(session: Session) -> HeadCause:
    """Why the coach stopped about mirror 3, lens and nozzle.  Raises InputError where it did not."""
    advice = session.head_advice()
    if advice.kind != "stop":
        raise InputError(
            f"The coach has not stopped at the head: {ASKS[advice.kind]}", expected="coach advise-head first"
        )
    return advice.cause


def _last_words(session: Session) -> str:
    return f"{entry_words(session.effective[-1], IN_MM)}."
