"""The table of measuring methods: front ends show it, the draft and the session's file are read through it."""

from typing import cast

from coach.errors import InputError
from coach.reading.clock import from_clock
from coach.reading.crosshair import Crosshair, crosshair_of, from_crosshair, with_crosshair
from coach.reading.method import Entries, Field, Given, Method, MethodKey, Option, OptionKey, Shell, Tape, Value
from coach.reading.model import Face, Reading
from coach.reading.offsets import Tool, from_offsets
from coach.shown import Unit, Wording
from coach.units import parse_length

OPTIONS: dict[OptionKey, Option] = {
    option.key: option
    for option in (
        Option(
            "face",
            "Which face of the tape is looked at?",
            (
                Value("outer", "Outer face", "which the beam hit"),
                Value("sticky", "Sticky face", "where left and right are swapped"),
            ),
        ),
        Option("unit", "In which unit are numbers without one?", (Value("mm", "Millimetres"), Value("in", "Inches"))),
        Option(
            "to",
            "Where do the gaps end?",
            (Value("edge", "Edge of the mark", "the near one", shell="edges"), Value("centre", "Centre of the mark")),
            shell_help="the mark's near edges, or its centre (edges)",
        ),
        Option(
            "tool",
            "Measured with what?",
            (Value("callipers", "Callipers"), Value("ruler", "Ruler", "which counts as less sure")),
            shell_help="(callipers)",
        ),
    )
}
"""What can be switched."""


def face_of(entries: Given) -> Face:
    """The face of the tape that is looked at."""
    return cast(Face, OPTIONS["face"].stands(entries).key)


def unit_of(entries: Given) -> Unit:
    """The unit of numbers without one."""
    return cast(Unit, OPTIONS["unit"].stands(entries).key)


# -- the cross ------------------------------------------------------------------------------------


def _read_crosshair(entries: Given, tape: Tape, wording: Wording) -> Reading:
    if "cross_u" not in entries:
        raise InputError(
            "The cross was not moved yet",
            expected="the arrow keys to put it on the mark; if the mark is in the very middle, there and back",
        )
    return from_crosshair(crosshair_of(entries), tape.drawn, face=face_of(entries))


def _remembered_crosshair(typed: Given) -> Entries:
    placed = {name: parse_length(typed[name]).mm for name in ("right", "up", "step") if name in typed}
    if len(placed) < 3:
        return {}
    return with_crosshair({}, Crosshair(placed["right"], placed["up"], placed["step"]))


CROSSHAIR = Method(
    key="crosshair",
    label="Crosshair",
    about="Cross, moved over a drawing",
    hint="Arrows move the cross onto the mark; then Enter.",
    options=("face",),
    read=_read_crosshair,
    remembered=_remembered_crosshair,
    by_keys=True,
)

# -- gaps -----------------------------------------------------------------------------------------

CARRIED_WIDTH = "carried_width"
"""The entry, and what is kept with a reading: how wide the mark before was."""
NEEDED_GAPS = 3
"""So many gaps and the mark's width tell where it is; four gaps tell the width too."""


def _read_gaps(entries: Given, tape: Tape, wording: Wording) -> Reading:
    from coach.reading.gaps import GapsTo, from_gaps  # the only method that computes with matrices

    if tape.opening is None:
        raise InputError("The opening's diameter is not known", expected="another way to measure")
    return from_gaps(
        aperture_diameter=tape.opening,
        left=entries.get("left"),
        right=entries.get("right"),
        top=entries.get("top"),
        bottom=entries.get("bottom"),
        to=cast(GapsTo, OPTIONS["to"].stands(entries).key),
        mark_diameter=entries.get("mark"),
        carried_width=entries.get(CARRIED_WIDTH),
        unit=unit_of(entries),
        face=face_of(entries),
        wording=wording,
    )


def _gaps_given(entries: Given) -> int:
    return sum(bool(entries.get(side, "").strip()) for side in ("left", "right", "top", "bottom"))


def _width_needed(entries: Given) -> bool:
    return OPTIONS["to"].stands(entries).key == "edge" and _gaps_given(entries) == NEEDED_GAPS


def _gaps_suffice(entries: Given) -> bool:
    """Whether nothing is left to be asked of this mark.  The width of the mark before is none of its numbers: with it
    three gaps can be read, but whoever types them may go on to the fourth."""
    measured = bool(entries.get("mark", "").strip())
    return _gaps_given(entries) >= NEEDED_GAPS + (not measured)


def _gaps_surer(entries: Given) -> str:
    return "" if _gaps_given(entries) > NEEDED_GAPS else "the fourth gap makes it surer"


def _remembered_gaps(typed: Given) -> Entries:
    entries = {field.key: typed[field.kept_as] for field in GAPS.fields if field.kept_as in typed}
    return entries | ({CARRIED_WIDTH: typed[CARRIED_WIDTH]} if CARRIED_WIDTH in typed else {})


def _gaps_mean(entries: Given) -> str:
    end = "middle" if OPTIONS["to"].stands(entries).key == "centre" else "near edge"
    way = "A gap lies straight left, right, above or below the mark's middle"
    return f"{way}: from the rim's imprint to the mark's {end}."


GAPS = Method(
    key="gaps",
    label="Gaps",
    about="Gaps, from the imprint's rim to the mark: left, right, top and bottom",
    hint="Three gaps and the width, or all four.",
    options=("face", "unit", "to"),
    meaning=_gaps_mean,
    read=_read_gaps,
    enough=_gaps_suffice,
    surer=_gaps_surer,
    remembered=_remembered_gaps,
    fields=(
        Field("left", "Left gap", may_lack=True, swaps=True, shell=("left", "left-gap")),
        Field("right", "Right gap", may_lack=True, swaps=True, shell=("right-gap",)),
        Field("top", "Top gap", may_lack=True, shell=("top", "top-gap")),
        Field("bottom", "Bottom gap", may_lack=True, shell=("bottom", "bottom-gap")),
        Field(
            "mark",
            "Mark's width",
            typed="mark_diameter",
            hint="needed beside three gaps",
            carried=CARRIED_WIDTH,
            needed=_width_needed,
            shell_help="needed with three gaps to the edges",
        ),
    ),
    needs_opening=True,
    shell=Shell(
        "gaps straight left, right, above and below the mark's middle, from the rim's imprint to the mark",
        "three or four of",
    ),
)

# -- offsets --------------------------------------------------------------------------------------


def _read_offsets(entries: Given, tape: Tape, wording: Wording) -> Reading:
    return from_offsets(
        entries.get("across", ""),
        entries.get("along", ""),
        unit=unit_of(entries),
        tool=cast(Tool, OPTIONS["tool"].stands(entries).key),
        face=face_of(entries),
        wording=wording,
    )


OFFSETS = Method(
    key="offsets",
    label="Offsets",
    about="Offsets, from the opening's centre: how far to the right and how far up",
    hint="From the centre; left and down are minus.",
    options=("face", "unit", "tool"),
    read=_read_offsets,
    shell=Shell("the mark's centre from the opening's centre, with the tool that measured it"),
    fields=(
        Field(
            "across",
            "To the right",
            "offset",
            typed="right",
            swaps=True,
            hint="to the left is minus",
            shell_help="to the right; negative to the left",
        ),
        Field("along", "Up", "offset", typed="up", hint="down is minus", shell_help="up; negative down"),
    ),
)

# -- the clock's face -----------------------------------------------------------------------------


def _read_clock(entries: Given, tape: Tape, wording: Wording) -> Reading:
    distance, hour = entries.get("distance", ""), entries.get("hour", "")
    return from_clock(distance, hour, unit=unit_of(entries), face=face_of(entries), wording=wording)


BY_CLOCK = Method(
    key="clock",
    label="Clock",
    about="Clock, from the opening's centre: how far, and at which hour, 12 is up",
    hint="From the centre, and which hour it points to.",
    options=("face", "unit"),
    read=_read_clock,
    shell=Shell("distance and clock direction"),
    fields=(
        Field("distance", "Distance"),
        Field(
            "hour",
            "Hour",
            "hour",
            typed="clock",
            detail="12 is up",
            swaps=True,
            hint="such as 2:30",
            shell_help="12 is up, 3 is to the right: 2:30",
        ),
    ),
)

METHODS: tuple[Method, ...] = (CROSSHAIR, GAPS, OFFSETS, BY_CLOCK)
"""All of them, in the order in which they are offered."""


def methods_for(tape: Tape) -> tuple[Method, ...]:
    """The methods that fit the tape."""
    return tuple(method for method in METHODS if method.fits(tape))


def method_named(name: str) -> Method | None:
    """The method of that name; None for one that is none of them."""
    keys: dict[str, MethodKey] = {method.key: method.key for method in METHODS}
    return next((method for method in METHODS if method.key == keys.get(name)), None)
