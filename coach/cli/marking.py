"""`mark` and `miss`: what one pulse left on the tape, measured in one of four ways."""

from argparse import Namespace
from dataclasses import replace

from coach.advice.advice import Shot
from coach.belief.noise import READING_SD
from coach.cli.out import say
from coach.cli.where import length, session_of, spot_of
from coach.cli.words import offset_words, spot_words, typed_words
from coach.errors import InputError
from coach.machine import Machine
from coach.reading.clock import from_clock
from coach.reading.gaps import from_gaps
from coach.reading.model import Reading
from coach.reading.offsets import from_offsets
from coach.session.checks import checked_sd
from coach.shown import IN_MM
from coach.steps.measuring import kept, questioned

WAYS: dict[str, tuple[str, ...]] = {
    "plain": ("u", "v"),
    "tool": ("right", "up", "tool"),
    "gaps": ("left", "right_gap", "top", "bottom", "to", "mark_diameter", "opening"),
    "clock": ("distance", "clock"),
}
"""Each way to measure, and the options that belong to it."""
PAIRS = ("u", "v"), ("right", "up"), ("distance", "clock")
ABOUT_HOW = ("method", "unit", "to", "tool", "face")
"""What `typed` holds besides the numbers themselves."""


def mark(arguments: Namespace) -> int:
    """Enter a mark; a questioned one only with --keep, and then with a wider doubt."""
    session = session_of(arguments)
    spot = spot_of(session, arguments)
    way = _way(arguments)
    sd = checked_sd(length(arguments.sd, arguments.unit, "the doubt"))
    reading = _reading(arguments, way, session.machine, spot)
    if sd is not None:
        reading = replace(reading, sd=sd)
    asked = questioned(session, spot, reading)
    if asked.questions and not arguments.keep:
        sentences = " ".join(question.sentence for question in asked.questions)
        raise InputError(f"Nothing was entered: {sentences} To keep it, add --keep")
    reading = kept(asked)
    # a plain offset carries the usual doubt, which the session leaves unsaid
    usual = way == "plain" and sd is None and not asked.questions
    session.mark(
        spot.name,
        reading.u,
        reading.v,
        x=spot.x,
        y=spot.y,
        target=spot.target,
        sd=None if usual else reading.sd,
        kept=bool(asked.questions),
        typed=reading.typed,
    )
    say(_echo(spot, reading, bool(asked.questions)))
    return 0


def miss(arguments: Namespace) -> int:
    """Enter that a pulse left no mark on the tape."""
    session = session_of(arguments)
    spot = spot_of(session, arguments)
    session.miss(spot.name, x=spot.x, y=spot.y, target=spot.target)
    say(f"No mark at {spot_words(spot.name, spot.x, spot.y, spot.target)}. Ask for advice before the next pulse.")
    return 0


def _echo(spot: Shot, reading: Reading, was_kept: bool) -> str:
    typed = {key: value for key, value in reading.typed.items() if key not in ABOUT_HOW}
    words = [
        f"Mark at {spot_words(spot.name, spot.x, spot.y, spot.target)}: {offset_words(reading.u, reading.v)}, "
        f"doubt {IN_MM.length(reading.sd, 2)}{', kept' if was_kept else ''}{typed_words(typed)}.",
        *reading.notes,
    ]
    return " ".join(words)


def _way(arguments: Namespace) -> str:
    """The one way in which the reading was given.  Raises InputError for none, two, or half of one."""
    given = {name for names in WAYS.values() for name in names if getattr(arguments, name) is not None}
    ways = [way for way, names in WAYS.items() if given & set(names)]
    if not ways:
        raise InputError(
            "No reading was given",
            expected="one of: --u and --v; --right and --up; three or four of --left --right-gap --top --bottom; "
            "--distance and --clock",
            example="--u 1,2 --v -0,4",
        )
    if len(ways) > 1:
        names = ", ".join(sorted(f"--{name.replace('_', '-')}" for name in given))
        raise InputError(f"The reading is given in more than one way at once ({names})", expected="one way")
    for pair in PAIRS:
        missing = [name for name in pair if name in WAYS[ways[0]] and name not in given]
        if missing:
            raise InputError(f"--{missing[0]} is missing", expected=f"--{pair[0]} and --{pair[1]} together")
    return ways[0]


def _reading(arguments: Namespace, way: str, machine: Machine, spot: Shot) -> Reading:
    """The reading in its own way.  Raises InputError or OutOfReach."""
    unit, face = arguments.unit, arguments.face
    if way == "plain":
        reading = from_offsets(arguments.u, arguments.v, unit=unit, face=face)
        return replace(reading, sd=READING_SD)
    if way == "tool":
        return from_offsets(arguments.right, arguments.up, unit=unit, tool=arguments.tool or "callipers", face=face)
    if way == "clock":
        return from_clock(arguments.distance, arguments.clock, unit=unit, face=face)
    return from_gaps(
        aperture_diameter=_opening(arguments, machine, spot),
        left=arguments.left,
        right=arguments.right_gap,
        top=arguments.top,
        bottom=arguments.bottom,
        to="centre" if arguments.to == "centre" else "edge",
        mark_diameter=arguments.mark_diameter,
        unit=unit,
        face=face,
    )


def _opening(arguments: Namespace, machine: Machine, spot: Shot) -> float:
    """The diameter of the opening whose rim the gaps start from, mm."""
    given = length(arguments.opening, arguments.unit, "the opening")
    if given is not None:
        return given
    if spot.target == "head":
        return machine.aperture.head
    raise InputError(
        "The diameter of mirror 2's own opening is not in the machine's profile",
        expected="--opening with its diameter, or another way to measure",
        example="--opening 25",
    )
