"""Amounts and where to go, as steps and entries say them."""

from typing import Protocol, assert_never

from coach.advice.advice import Shot
from coach.frame import NEAR_ENOUGH
from coach.machine import Machine
from coach.parts import Direction
from coach.shown import Direction as Way
from coach.shown import Wording

BOTH_SENSES: dict[Direction, tuple[str, str]] = {
    "up": ("up", "down"),
    "right": ("to the right", "to the left"),
    "back": ("to the back", "to the front"),
}
"""What moving a part by a positive and by a negative amount is called."""


WAY_SIGNS: dict[Way, str] = {"CLOCKWISE": "↻", "COUNTERCLOCKWISE": "↺", "": ""}
"""A direction as something to see: the word never stands in the large type without it."""


KEY_OUT = "laser supply off, key out"
"""Said before hands go in, once the head stands where it should."""
KEY_IN = "Hands out, key in."
"""Said only where a pulse is made."""
MEASURE = "Key out, measure"
"""In the largest letters wherever hands go to what a pulse left: also over the form, which opens at once."""
OUT_AGAIN = "Then key out, before hands go in."
"""Said there too: what a pulse left is looked at and fetched with the laser off."""


def dose_words(ms: float | None, power: float | None, lead: str = "") -> str:
    """A pulse's dose as far as it is known: "84 ms at 12 %"; "" where nothing is."""
    parts = [f"{ms:g} ms"] if ms is not None else []
    parts += [f"{power:g} %"] if power is not None else []
    return lead + " at ".join(parts) if parts else ""


def setting_words(ms: float | None, power: float | None, layers: int | None, lead: str = "") -> str:
    """A dose with the tape it is for, as far as they are known: "84 ms at 12 %, 2 layers of tape"."""
    tape = f"{layers} layer{'' if layers == 1 else 's'} of tape" if layers is not None else ""
    parts = [part for part in (dose_words(ms, power), tape) if part]
    return lead + ", ".join(parts) if parts else ""


def where_words(shot: Shot, wording: Wording) -> str:
    """Where the head goes, in words."""
    match shot.target:
        case "head":
            return f"head at {wording.head(shot.x, shot.y)}"
        case "mirror 2":
            along = f"{wording.axes(shot.x, shot.y)[1]} {wording.unit}"
            return f"gantry at {along}, the head anywhere along it"
        case "mirror 1":
            return "gantry and head anywhere out of the way"
        case _:
            assert_never(shot.target)


def go_words(shot: Shot, wording: Wording) -> str:
    """The same for whoever drives the head there, with how near is near enough."""
    where = where_words(shot, wording)
    return where if shot.target == "mirror 1" else f"{where}; within {wording.length(NEAR_ENOUGH, 0)} is near enough"


def card_words(machine: Machine, wording: Wording) -> str:
    """A wide card, in words."""
    radius = wording.exact(machine.tape.wide)
    return (
        f"A card of {radius} radius before the opening, its cross on the middle: plain paper or board, never PVC "
        "or foil; nothing behind it that burns."
    )


def where_from(shot: Shot) -> str:
    """From what a mark is measured: a wide card stands before the opening, no rim leaves an imprint in it."""
    return f"where the mark lies {'from the cross on the card' if shot.wide else 'against the imprint of the rim'}"


TOP_OF_KEY: dict[Way, str] = {"CLOCKWISE": "RIGHT", "COUNTERCLOCKWISE": "LEFT", "": ""}
"""Where the top of a key on the screw sets out to, for someone facing the screw's head."""


def key_words(way: Way) -> str:
    """A direction as something to do: "the top of the key goes LEFT"; nothing where nothing is turned."""
    return f"the top of the key goes {TOP_OF_KEY[way]}" if way else ""


def named(part: str) -> str:
    """A part with its article, where it has one: "mirror 2", "the tube"."""
    return part if part[-1].isdigit() else f"the {part}"


class Amounts(Protocol):
    """How far something is moved, mm in the machine's frame."""

    @property
    def up(self) -> float: ...
    @property
    def right(self) -> float: ...
    @property
    def back(self) -> float: ...


def shift_words(moved: Amounts, wording: Wording) -> str:
    """A shift's amounts in words: "1.2 mm up and 0.4 mm to the front"."""
    amounts: dict[Direction, float] = {"up": moved.up, "right": moved.right, "back": moved.back}
    said = [moved_words(direction, amount, wording) for direction, amount in amounts.items() if amount]
    return " and ".join(said) or "not at all"


def moved_words(direction: Direction, amount: float, wording: Wording, places: int = 1) -> str:
    """One direction of a shift that is not nothing: "1.2 mm up"; mm."""
    plus, minus = BOTH_SENSES[direction]
    return f"{wording.length(abs(amount), places)} {plus if amount > 0 else minus}"


def way_words(way: Way) -> str:
    """A direction with its sign, for the large type: "↻ clockwise"; nothing where nothing is turned."""
    return f"{WAY_SIGNS[way]} {way.lower()}" if way else ""


def turn_words(turns: float, wording: Wording) -> str:
    """A turn in words: "7 ticks (42°) clockwise", or "⅛ turn (45°) clockwise"."""
    words = wording.turns(turns)
    if not words.direction:
        return words.fraction
    way = way_words(words.direction) if wording.way_signs else words.direction.lower()
    return f"{turn_amount(turns, wording)} ({words.degrees}) {way}"


def turn_amount(turns: float, wording: Wording) -> str:
    """How far a turn goes, as this person wants it said: "7 ticks", or "⅛ turn"."""
    words = wording.turns(turns)
    return words.ticks if wording.turns_in == "minutes" else words.fraction
