"""One answer each: from what a person types to the text that is kept, and from that to its value.

What is kept reads the same everywhere: lengths without a unit are mm, inches have theirs behind them.  Whatever
cannot be used raises InputError with one sentence.
"""

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Literal

from coach.errors import InputError, OutOfReach
from coach.frame import Frame
from coach.machine import Point, Station
from coach.threads import PITCHES, pitch_of_thread
from coach.units import Length, Unit, parse_length

LARGEST = 10_000.0
"""mm; no machine is larger."""
COARSEST = 5.0
"""mm per turn; no screw is coarser."""
LONGEST_NAME = 60
KINDS: dict[str, Literal["pivot", "screw"]] = {"pivot": "pivot", "screw": "screw", "p": "pivot", "s": "screw"}
POINTS_EXAMPLE = "A pivot -20 -20; B screw 20 -20; C screw -20 20"
STATIONS_EXAMPLE = "back-left 20 380; middle 300 200; front-right 580 20"


def name(text: str) -> str:
    """A machine's name as it is kept.  Raises InputError."""
    plain = " ".join(text.split())
    if not plain or not plain.isprintable() or len(plain) > LONGEST_NAME:
        reason = f"is longer than {LONGEST_NAME} characters" if len(plain) > LONGEST_NAME else "is no name"
        raise InputError(
            f"The name {plain[:20]!r} {reason}", expected="a few words to know it by", example="Shed laser"
        )
    return plain


def size(text: str, unit: Unit, what: str, *, may_be_nothing: bool = False, largest: float = LARGEST) -> Length:
    """A size in mm, with how it was typed; `largest` in mm.  Raises InputError, OutOfReach for one that cannot be."""
    found = parse_length(text, unit, what)
    start = f"{what[:1].upper()}{what[1:]} of {text.strip()!r}"
    example = "600, 600,5 or 23.6 in" if largest > 100 else "1, 1,5 or 1/16 in"
    if found.mm < 0 or (found.mm == 0 and not may_be_nothing):
        raise OutOfReach(
            f"{start} is not a size",
            expected="a length of 0 or more" if may_be_nothing else "a length of more than nothing",
            example=example,
        )
    if found.mm > largest:
        raise OutOfReach(f"{start} cannot be", expected=f"at most {largest:g} mm", example=example)
    return found


def kept(length: Length) -> str:
    """A length as it is kept: as typed, with the unit behind it where it would otherwise read as mm."""
    if length.unit == "mm":
        return length.typed
    try:
        said = parse_length(length.typed).unit == "in"
    except InputError:  # a fraction, which only inches may be
        said = False
    return length.typed if said else f"{length.typed} in"


def plain(value: float) -> str:
    """A number that reads back as exactly this value."""
    digits = format(Decimal(repr(value)), "f")
    return digits.removesuffix(".0")


def screw(text: str, unit: Unit) -> dict[str, str | float]:
    """A thread of the table, or a pitch in mm: the entry in the mount's table.  Raises InputError, UnknownName."""
    stripped = text.strip()
    if stripped.replace(" ", "") in PITCHES or stripped[:1].isalpha():
        pitch_of_thread(stripped)
        return {"thread": stripped}
    advance = parse_length(stripped, unit, "the pitch").mm
    if not 0 < advance <= COARSEST:
        reason = "moves nothing" if advance <= 0 else "is coarser than any mount's screw"
        raise OutOfReach(
            f"A pitch of {stripped!r} {reason}", expected="the screw's advance per turn, in mm", example="0.7"
        )
    return {"pitch": advance}


def points(text: str, unit: Unit = "mm") -> tuple[Point, Point, Point]:
    """Three points from "A pivot -20 -20; B screw 20 -20; C screw -20 20".  Raises InputError.

    Names may be left out (A, B, C), and pivot and screw shortened to p and s.  Lengths without a unit are in `unit`.
    """
    pieces = [piece.split() for piece in re.split(r"[;\n]", text) if piece.strip()]
    if len(pieces) != 3 or any(len(words) < 3 or words[-3].lower() not in KINDS for words in pieces):
        raise InputError(
            f"The points {' '.join(text.split())!r} cannot be read",
            expected="three points, each with a name, pivot or screw, x and y",
            example=POINTS_EXAMPLE,
        )
    first, second, third = (
        Point(
            name=name,
            kind=KINDS[words[-3].lower()],
            x=_place(words[-2], unit, f"x of point {name}"),
            y=_place(words[-1], unit, f"y of point {name}"),
        )
        for name, words in (
            (_short_name(" ".join(words[:-3]) or letter), words) for words, letter in zip(pieces, "ABC", strict=True)
        )
    )
    return first, second, third


def _short_name(text: str) -> str:
    if not text.isprintable() or len(text) > LONGEST_NAME:
        raise InputError(f"{text[:20]!r} is no name that can be kept", expected="a letter or a word", example="A")
    return text


def _place(text: str, unit: Unit, what: str) -> float:
    """A coordinate in mm.  Raises InputError, OutOfReach."""
    found = parse_length(text, unit, what).mm
    if abs(found) > LARGEST:
        raise OutOfReach(f"{what} cannot be {text!r}", expected=f"at most {LARGEST:g} mm either way", example="-20")
    return found


def points_kept(three: Sequence[Point]) -> str:
    """Points as they are kept, in mm."""
    return "; ".join(f"{p.name} {p.kind} {plain(p.x)} {plain(p.y)}" for p in three)


def stations(text: str, unit: Unit = "mm") -> tuple[Station, ...]:
    """Stations from "back-left 20 380; middle 300 200; front-right 580 20".  Raises InputError."""
    pieces = [piece.split() for piece in re.split(r"[;\n]", text) if piece.strip()]
    if len(pieces) < 3 or any(len(words) < 3 for words in pieces):
        raise InputError(
            f"The stations {' '.join(text.split())[:60]!r} cannot be read",
            expected="at least three, each with a name, X and Y",
            example=STATIONS_EXAMPLE,
        )
    return tuple(
        Station(
            name=name,
            x=_place(words[-2], unit, f"X of station {name}"),
            y=_place(words[-1], unit, f"Y of station {name}"),
        )
        for name, words in ((_short_name(" ".join(words[:-2])), words) for words in pieces)
    )


def counted(some: Sequence[Station], frame: Frame) -> tuple[Station, ...]:
    """Stations from the controller's numbers to the machine's frame, or back."""
    return tuple(Station(name=s.name, x=x, y=y) for s in some for x, y in [frame.counted(s.x, s.y)])


def stations_kept(some: Sequence[Station]) -> str:
    """Stations as they are kept, in mm."""
    return "; ".join(f"{s.name} {plain(s.x)} {plain(s.y)}" for s in some)
