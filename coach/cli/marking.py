"""`mark`, `miss` and `nothing`: what one pulse left on the tape, measured in one of several ways."""

from argparse import Namespace
from dataclasses import replace

from coach.advice.advice import Shot
from coach.advice.pulse_words import rivals_words
from coach.belief.firing import rivals
from coach.cli.entered import entered
from coach.cli.firing import dose_of, made_of, pulses_of, remarks
from coach.cli.where import length, session_of, spot_of
from coach.cli.words import offset_words, spot_words, typed_words
from coach.errors import InputError
from coach.frame import Frame
from coach.machine import Machine
from coach.reading.method import Method
from coach.reading.methods import METHODS, OPTIONS
from coach.reading.model import Reading
from coach.reading.offsets import from_offsets
from coach.session.checks import checked_sd
from coach.session.spots import spot
from coach.shown import IN_MM
from coach.steps.measuring import as_entered, kept, questioned, tape_of
from coach.tuning import TUNING

BY_TABLE = tuple(method for method in METHODS if method.shell is not None)
EXTRAS = {name for method in BY_TABLE for name in method.shell_extras}
"""What can be told besides the numbers."""
PLAIN = ("u", "v")
"""The offset alone, however it was measured."""
ABOUT_HOW = ("method", *OPTIONS)
"""What `typed` holds besides the numbers themselves."""


def mark(arguments: Namespace) -> int:
    """Enter a mark; a questioned one only with --keep, then with a wider doubt, or with --looked-twice, in full."""
    session = session_of(arguments)
    shot = spot_of(session, arguments)
    method = _method(arguments)
    sd = checked_sd(length(arguments.sd, arguments.unit, "the doubt"))
    reading = _reading(arguments, method, session.machine, shot)
    if sd is not None:
        reading = replace(reading, sd=sd)
    asked = replace(questioned(session, shot, reading), looked_twice=arguments.looked_twice)
    if asked.questions and not (arguments.keep or arguments.looked_twice):
        sentences = " ".join(question.sentence(IN_MM) for question in asked.questions)
        raise InputError(f"Nothing was entered: {sentences} To keep it, add --keep, or --looked-twice where it is so")
    figures = as_entered(asked)
    if method is None and sd is None and not asked.questions:
        figures["sd"] = None  # a plain offset carries the usual doubt, which the session leaves unsaid
    if arguments.width is not None:
        figures["width"] = length(arguments.width, arguments.unit, "the mark's width")
    dose, before = dose_of(arguments), pulses_of(session)
    at, made = made_of(arguments, session)
    figures["typed"] |= made
    session.mark(shot.name, **spot(shot), **dose, shape=arguments.shape, at=at, **figures)
    echo = _echo(shot, session.machine.frame, kept(asked), bool(asked.questions))
    entered(session, " ".join([echo, *remarks(session, shot, before)]))
    return 0


def miss(arguments: Namespace) -> int:
    """Enter that a pulse left no mark on the tape."""
    session = session_of(arguments)
    shot = spot_of(session, arguments)
    dose, (at, _) = dose_of(arguments), made_of(arguments, session)
    session.miss(shot.name, **spot(shot), at=at, **dose)
    entered(session, f"No mark at {spot_words(shot, session.machine.frame)}. Ask for advice before the next pulse.")
    return 0


def nothing(arguments: Namespace) -> int:
    """Enter that a pulse left nothing, nobody knows why: not firing, too weak, or missed."""
    session = session_of(arguments)
    shot = spot_of(session, arguments)
    dose, before, (at, _) = dose_of(arguments), pulses_of(session), made_of(arguments, session)
    session.nothing(shot.name, **spot(shot), at=at, **dose)
    why = rivals(session.belief)
    said = f": {rivals_words(why)}" if why is not None else ""
    echo = f"Nothing seen at {spot_words(shot, session.machine.frame)}{said}."
    entered(session, " ".join([echo, *remarks(session, shot, before), "Ask for advice before the next pulse."]))
    return 0


def _echo(shot: Shot, frame: Frame, reading: Reading, was_kept: bool) -> str:
    typed = {key: value for key, value in reading.typed.items() if key not in ABOUT_HOW}
    words = [
        f"Mark at {spot_words(shot, frame)}: {offset_words(reading.u, reading.v)}, "
        f"doubt {IN_MM.length(reading.sd, 2)}{', kept' if was_kept else ''}{typed_words(typed)}.",
        *reading.notes(IN_MM),
    ]
    return " ".join(words)


def _numbers(method: Method | None) -> tuple[str, ...]:
    """The arguments that hold a method's numbers; of None, the offset alone."""
    return PLAIN if method is None else tuple(field.argument for field in method.fields)


def _needed(method: Method | None) -> tuple[str, ...]:
    """The flags that have to come together; () where some of them are enough."""
    if method is None:
        return tuple(f"--{name}" for name in PLAIN)
    return () if method.shell and method.shell.enough else tuple(field.flags[0] for field in method.fields)


def _asked_for(method: Method | None) -> str:
    """What has to be given for a method."""
    if method is None or not (method.shell and method.shell.enough):
        return " and ".join(_needed(method))
    return f"{method.shell.enough} {' '.join(field.flags[0] for field in method.fields if field.needed is None)}"


def _method(arguments: Namespace) -> Method | None:
    """The one method by which the reading was given; None: the offset alone.

    Raises InputError for none, two, or half of one.
    """
    methods: tuple[Method | None, ...] = (None, *BY_TABLE)
    used = [method for method in methods if any(getattr(arguments, name) is not None for name in _numbers(method))]
    if not used:
        raise InputError(
            "No reading was given",
            expected=f"one of: {'; '.join(map(_asked_for, methods))}",
            example="--u 1,2 --v -0,4",
        )
    given = {name for method in used for name in _numbers(method) if getattr(arguments, name) is not None}
    own = () if used[0] is None else used[0].shell_extras
    strange = {name for name in EXTRAS if name not in own and getattr(arguments, name) is not None}
    if len(used) > 1 or strange:
        names = ", ".join(sorted(f"--{name.replace('_', '-')}" for name in given | strange))
        raise InputError(f"The reading is given in more than one way at once ({names})", expected="one way")
    needed = _needed(used[0])
    missing = [flag for flag in needed if flag.removeprefix("--").replace("-", "_") not in given]
    if missing:
        raise InputError(f"{missing[0]} is missing", expected=f"{' and '.join(needed)} together")
    return used[0]


def _reading(arguments: Namespace, method: Method | None, machine: Machine, shot: Shot) -> Reading:
    """The reading by its method.  Raises InputError or OutOfReach."""
    if method is None:
        reading = from_offsets(arguments.u, arguments.v, unit=arguments.unit, face=arguments.face)
        return replace(reading, sd=TUNING.readings.sd)
    tape = tape_of(machine, shot)
    if method.needs_opening:
        tape = replace(tape, opening=_opening(arguments, machine, shot))
    entries = {"unit": arguments.unit, "face": arguments.face}
    typed = {field.key: getattr(arguments, field.argument) for field in method.fields}
    entries |= {key: text for key, text in typed.items() if text is not None}
    if method.own_option is not None:
        said, values = getattr(arguments, method.own_option), OPTIONS[method.own_option].values
        entries[method.own_option] = next((v.key for v in values if v.in_shell == said), values[0].key)
    return method.read(entries, tape, IN_MM)


def _opening(arguments: Namespace, machine: Machine, shot: Shot) -> float:
    """The diameter of the opening whose rim the gaps start from, mm."""
    given = length(arguments.opening, arguments.unit, "the opening")
    if given is not None:
        return given
    if shot.target == "head":
        return machine.aperture.head
    raise InputError(
        f"The diameter of {shot.target}'s own opening is not in the machine's profile",
        expected="--opening with its diameter, or another way to measure",
        example="--opening 25",
    )
