"""The short entries: a new session, turns, shifts, lock nuts, and taking back."""

from argparse import Namespace

from coach.cli.entered import entered
from coach.cli.folder import machine_of, store_of
from coach.cli.out import say
from coach.cli.where import length, session_of
from coach.cli.words import moved_words, screw_words, typed_words
from coach.errors import InputError, OutOfReach
from coach.parts import PARTS, WAYS
from coach.paths import folder_to_begin_in
from coach.session.checks import checked_shift
from coach.session.events import Typed
from coach.session.kept import now
from coach.session.moments import moment_of
from coach.session.session import Session
from coach.shown import IN_MM
from coach.units import parse_turns


def new_session(arguments: Namespace) -> int:
    """Begin a session on a machine; its path is all that is printed."""
    from coach.upkeep.begun import check_up  # the other entries need neither
    from coach.worksheet.made import checked_made

    store = store_of(arguments)
    machine = machine_of(store, arguments.machine)
    folder_to_begin_in(arguments.data)
    if arguments.check_up:
        if arguments.made is not None:
            raise InputError("A check-up is made now", expected="--made without --check-up")
        session = check_up(machine, store.visits(machine.name), arguments.title)
    else:
        made = moment_of(checked_made(arguments.made, None), now()) if arguments.made is not None else None
        session = Session.start(machine, title=arguments.title, created=made)
        if made is not None:
            session.opened()  # now: so that "last" is this one, and not whichever was made after that day
    say(str(session.keep_new(store.folder)))
    return 0


def turn(arguments: Namespace) -> int:
    """Enter turns of one mirror's screws."""
    session = session_of(arguments)
    typed: dict[str, str] = {}
    for word in arguments.screws:
        name, equals, amount = word.rpartition("=")
        if not equals or not name.strip():
            raise InputError(
                f"{word!r} does not say which screw and how far", expected="SCREW=TURNS", example="B=-1/8 C=0,0625"
            )
        if name.strip() in typed:
            raise InputError(f"Screw {name.strip()} is named twice", expected="each screw once")
        typed[name.strip()] = amount.strip()
    turns = {name: parse_turns(amount, f"screw {name}") for name, amount in typed.items()}
    if not any(turns.values()):
        raise InputError("No screw was turned", expected="at least one turn other than 0", example="B=-1/8")
    session.turn(arguments.mirror, turns, typed=typed)
    said = "; ".join(f"{name}={amount}" for name, amount in typed.items())
    entered(
        session, f"Turned at mirror {arguments.mirror}: {screw_words(turns)}, facing the screw heads (typed {said})."
    )
    return 0


def shift(arguments: Namespace) -> int:
    """Enter that a part was moved sideways."""
    session = session_of(arguments)
    typed: Typed = {way: text.strip() for way in WAYS if (text := getattr(arguments, way)) is not None}
    unit = arguments.unit
    up, right, back = (length(typed.get(way), unit, f"the shift {way}") or 0.0 for way in WAYS)
    if not (up or right or back):
        raise InputError("Nothing was moved", expected="--up, --right or --back, in mm", example="--up 1,2")
    part = " ".join(arguments.part.lower().replace("mirror1", "mirror 1").replace("mirror2", "mirror 2").split())
    known = next((each for each in PARTS if each == part), None)  # another is refused by the session
    if known is not None and not arguments.keep:
        from coach.steps.reach import beyond_reach  # the steps of the job: for a note there is no need of them

        question = _too_far(up, right, back)
        question = question or beyond_reach(session, known, {"up": up, "right": right, "back": back}, IN_MM)
        if question:
            raise InputError(f"Nothing was entered: {question} To keep it, add --keep")
    session.shift(part, up=up, right=right, back=back, typed={**typed, "unit": unit})
    entered(session, f"Moved the {part}: {moved_words(up, right, back)}{typed_words(typed)}.")
    return 0


def _too_far(*amounts: float) -> str:
    """Why nobody moves a part so far at once; "" where one may."""
    try:
        for amount in amounts:
            checked_shift("The move", amount)
    except OutOfReach as error:
        return str(error)
    return ""


def lock(arguments: Namespace) -> int:
    """Enter that a mirror's lock nuts were tightened."""
    session = session_of(arguments)
    session.lock(arguments.mirror)
    confirm = "confirm with a mark under the nozzle" if arguments.mirror == 3 else "confirm every station with a mark"
    entered(session, f"Lock nuts of mirror {arguments.mirror} tightened: {confirm}.")
    return 0


def undo(arguments: Namespace) -> int:
    """Take the last entry back."""
    from coach.steps.entries import entry_words
    from coach.steps.undo import take_back

    session = session_of(arguments)
    entered(session, f"Taken back: {entry_words(take_back(session), IN_MM)}.")
    return 0
