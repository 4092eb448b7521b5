"""What stands on a sheet, as plain data: blanks with their fields, where one looks from, what to beware of."""

from dataclasses import dataclass
from datetime import date
from typing import assert_never

from coach.advice.advice import Shot
from coach.machine import Machine
from coach.shown import IN_MM, UNIT_WORDS, Wording, day_words
from coach.steps.cautions import (
    AIR,
    BEAM,
    EYEWEAR,
    HANDS,
    NOT_FIRING,
    SPLIT,
    WAIT,
    Caution,
    with_always,
)
from coach.steps.measuring import tape_of
from coach.steps.words import card_words, where_words
from coach.worksheet.blanks import Blank, across, blanks_of

CAUTIONS = with_always((BEAM, EYEWEAR, NOT_FIRING, WAIT, HANDS, AIR, SPLIT))
"""Everything that the steps of pulsing and measuring warn of: the sheet is read where no screen is."""
WIDEST = 182.0
"""mm; what is drawn in true scale has to fit within the margins of A4 (210 wide) and of Letter (279.4 high)."""
NARROW, LEAST_WRITTEN, WRITTEN = 85.0, 40.0, 70.0
"""mm: two blanks side by side have so much each; what is written needs so much of it, and has so much elsewhere."""
BORDER = 7.0
"""mm around the circle, for up, left and right."""
LEAST_STEP = 0.1
"""mm; a smaller distance than this nobody measures on a tape."""


@dataclass(frozen=True)
class Drawn:
    """One blank in true scale, mm."""

    circle: float
    """Radius of the opening, the mirror or the card."""
    tolerance: float
    go_on: float | None
    """Radius of the dashed ring; None where the sheet ends, or the ring would leave the tape."""
    reach: float
    """How far out the crosshair goes."""

    @property
    def half(self) -> float:
        """Half of the drawing's side."""
        return max(self.circle, self.reach) + BORDER

    @property
    def fits(self) -> bool:
        """Whether it has room on the paper."""
        return 2 * self.half <= WIDEST

    @property
    def beside(self) -> float:
        """Width of what is written down beside it, mm."""
        return WRITTEN if self.broad else NARROW - 2 * self.half

    @property
    def broad(self) -> bool:
        """Whether it needs the whole width."""
        return NARROW - 2 * self.half < LEAST_WRITTEN


@dataclass(frozen=True)
class Place:
    """One blank with its words."""

    number: int
    name: str
    where: str
    circle_is: str
    """What the circle stands for, with its size."""
    drawn: Drawn
    fields: tuple[str, ...]
    """What is written down, with its unit."""
    then: str
    """Whether the next pulse may be made."""


@dataclass(frozen=True)
class Sheet:
    """Everything that is printed."""

    title: str
    about: str
    steps: tuple[str, ...]
    places: tuple[Place, ...]
    cautions: tuple[Caution, ...]


def sheet_of(machine: Machine, today: date, wording: Wording = IN_MM) -> Sheet:
    """The sheet of a machine."""
    wording = wording.on(machine.frame)
    blanks = blanks_of(machine, today)
    about = f"Printed {day_words(today)}, for the machine as it is described then."
    places = tuple(_place(machine, blank, wording) for blank in blanks)
    return Sheet(f"Worksheet: {machine.name}", about, steps(machine, blanks, wording), places, CAUTIONS)


def steps(machine: Machine, blanks: tuple[Blank, ...], wording: Wording) -> tuple[str, ...]:
    """What is done with the sheet at the machine, in order."""
    front = "front" if machine.path.side == "left" else "back"
    card = (card_words(machine, wording),) if any(blank.shot.wide for blank in blanks) else ()
    return (
        "In the order of the numbers, one at a time: hands out, head to its place; then laser supply off, key out, "
        "fresh tape on the opening, rim pressed in; hands out, key in; one short pulse; key out, wait, look.",
        *card,
        "Write UP and the number on each tape before it comes off. Stick it here, sticky side down: up and left are "
        "as seen by someone facing the tape's outer face, which the beam hit. Right at the head is toward the "
        f"{front} of the machine.",
        "Measure on the tape, not on the paper: each gap from the imprint of the rim to the near edge of the mark, "
        "straight left, right, above and below its middle.",
        "A mark outside the dashed ring, or none: make no further pulse from this sheet. Type in what you have; the "
        "coach says what comes next. A mark that is not whole, or two marks: write that down in place of gaps.",
    )


def _place(machine: Machine, blank: Blank, wording: Wording) -> Place:
    shot = blank.shot
    reach = machine.tape.readable(shot.target, shot.wide)
    ring = None if blank.go_on is None or blank.go_on < LEAST_STEP else blank.go_on
    drawn = Drawn(across(machine, shot) / 2, machine.tolerance, ring, reach)
    return Place(
        blank.number,
        shot.name,
        where_words(shot, wording),
        f"{_circle_words(shot)}, {wording.exact(2 * drawn.circle)} across",
        drawn,
        _fields(machine, shot, wording),
        _then(blank, drawn, wording),
    )


def _circle_words(shot: Shot) -> str:
    if shot.wide:
        return "Circle: the wide card, its cross on the opening's middle"
    match shot.target:
        case "head":
            return "Circle: the opening at the head"
        case "mirror 1" | "mirror 2":
            return f"Circle: {shot.target}"
        case _:
            assert_never(shot.target)


def _fields(machine: Machine, shot: Shot, wording: Wording) -> tuple[str, ...]:
    unit = UNIT_WORDS[wording.unit]
    gaps = ("Left gap", "Right gap", "Top gap", "Bottom gap")
    offsets = ("Right of cross (left: −)", "Above cross (below: −)")
    lengths = (*(gaps if tape_of(machine, shot).opening is not None else offsets), "Mark's width")
    dose = ("Pulse, ms", "Power, %", "Layers of tape")
    return (*(f"{name}, {unit}" for name in lengths), "Round, cut off, two, none", *dose)


def _then(blank: Blank, drawn: Drawn, wording: Wording) -> str:
    """In words what the dashed ring says; the distance rounded down."""
    if blank.go_on is None:
        return "The last one: type the sheet in."
    following = blank.number + 1
    if blank.go_on < LEAST_STEP:
        return f"Before {following} is pulsed type this in: the coach says whether it is sure of its target."
    marks = {1: "this mark lies", 2: "marks 1 and 2 lie"}.get(blank.number, f"marks 1 to {blank.number} all lie")
    finer = LEAST_STEP if wording.unit == "mm" else LEAST_STEP / 4
    limit = blank.go_on // finer * finer
    ring = " (dashed ring)" if drawn.fits else ""
    return f"Go on to {following} only if {marks} within {wording.length(limit)} of the middle{ring}."
