"""What happened, in the order it happened: the only thing a session stores besides the machine.

Belief, advice, the current step and every report are computed from these.  Lengths are in mm, turns
in turns with clockwise positive; `typed` keeps what the person entered, units included, word for word.
"""

from typing import Annotated, Any, Literal

from pydantic import Field, TypeAdapter

from coach.machine import LONGEST_PULSE, Finite, Length, Target
from coach.parts import Direction, Moved
from coach.session.described import Described
from coach.session.happened import Happened as _Event
from coach.session.head_events import BedMark, HeadPulse, HeadStop, NozzleMark, Pointer
from coach.session.part_events import Begin, End, Item, Skip
from coach.session.visit_events import Answer, Baseline, Care, Check, Cut, SheetLaid

StopCause = Literal["yaw", "loose", "station", "coarse", "no screws", "off the tape", "not firing", "edge"]
Outcome = Literal["mark", "nothing", "flare", "double", "mount"]
"""What a pulse left: a mark to be measured; nothing that was seen; a flame; two marks; a scorch on the mount or
beside the target."""
Shape = Literal["round", "crescent", "cut", "double"]
DisturbedPart = Literal["tube", "mirror 1", "mirror 2", "mirror 3", "lens", "head", "machine"]
Typed = dict[str, str]
"""What the person entered, field by field, exactly as typed: {"method": "gaps", "left": "4,2", ...}."""


class _AtStation(_Event):
    station: str
    x: Finite
    y: Finite
    target: Target = "head"
    wide: bool = False
    """A wide card stands before the opening, in place of tape."""


class _Fired(_AtStation):
    """The dose of a pulse, as far as it is known."""

    ms: Annotated[float, Field(gt=0, le=LONGEST_PULSE, allow_inf_nan=False)] | None = None
    """How long it was; None: nobody knows, or as long as a finger takes."""
    power: Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)] | None = None
    """The power that was set, per cent."""
    layers: Annotated[int, Field(ge=1, le=20)] | None = None
    """Layers of tape; None: as many as always."""


class Opened(_Event):
    """The program was started on this session (again): the safety gates must be acknowledged anew."""

    kind: Literal["opened"] = "opened"


class Gate(_Event):
    """The person acknowledged a gate: `name` is its key in `coach.steps.gates`."""

    kind: Literal["gate"] = "gate"
    name: str


class Arrive(_Fired):
    """The head stands at the station, fresh tape on the aperture, ready for the pulse.

    With a dose, or layers, where somebody set another than was told.
    """

    kind: Literal["arrive"] = "arrive"


class Pulse(_Fired):
    """One short firing and what was seen."""

    kind: Literal["pulse"] = "pulse"
    outcome: Outcome
    shape: Shape = "round"
    """Of a mark."""


class Mark(_Fired):
    """A mark was measured: its offset and the doubt (standard deviation of each of u and v)."""

    kind: Literal["mark"] = "mark"
    u: Finite
    v: Finite
    sd: Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)] | None = None
    """None: the usual doubt of a reading, `coach.tuning.Readings.sd`."""
    kept: bool = False
    """The coach questioned this reading and the person kept it."""
    width: Length | None = None
    """Its diameter, mm, where it was measured."""
    shape: Shape = "round"
    typed: Typed = {}


class Miss(_Fired):
    """Pulsed, and no mark on the tape: the mark lies outside it."""

    kind: Literal["miss"] = "miss"


class Plan(_Event):
    """Advice to adjust that the person set out to follow; the screws are then ticked off one by one."""

    kind: Literal["plan"] = "plan"
    turns: dict[str, dict[str, Finite]] = {}
    """Mirror number (as text, "1", "2" or "3") to screw name to turns."""
    part: Moved | Literal[""] = ""
    up: Finite = 0.0
    right: Finite = 0.0
    back: Finite = 0.0
    below: bool = False
    """Of mirror 3, lens and nozzle: no business of the beam's path."""


class Turn(_Event):
    """Screws of one mirror were turned, as the person says they were."""

    kind: Literal["turn"] = "turn"
    mirror: int
    screws: dict[str, Finite]
    typed: Typed = {}


class Shift(_Event):
    """A part was moved sideways without tilting it, in the machine's frame."""

    kind: Literal["shift"] = "shift"
    part: Moved
    up: Finite = 0.0
    right: Finite = 0.0
    back: Finite = 0.0
    typed: Typed = {}


class Lock(_Event):
    """The lock nuts of a mirror's mount were tightened, which moves it a little."""

    kind: Literal["lock"] = "lock"
    mirror: int


class Disturbed(_Event):
    """A part was out, or was bumped: what it steers may have moved."""

    kind: Literal["disturbed"] = "disturbed"
    part: DisturbedPart


class Refused(_Event):
    """The person cannot move a part, or not in that direction; it is not asked for again."""

    kind: Literal["refused"] = "refused"
    part: Moved
    axis: Direction | None = None
    """None: in no direction."""


class Mended(_Event):
    """After a stop: what it named was seen to, and may have moved what it touched."""

    kind: Literal["mended"] = "mended"
    cause: StopCause | HeadStop


class Best(_Event):
    """After a stop: the machine is aligned to the best that can be had, the fault taken as it is."""

    kind: Literal["best"] = "best"
    cause: StopCause | HeadStop


class Amend(_Event):
    """A reading made earlier was corrected: the mark with the id `of` now reads (u, v)."""

    kind: Literal["amend"] = "amend"
    of: int
    u: Finite
    v: Finite
    sd: Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)] | None = None
    kept: bool = False
    width: Length | None = None
    """Its diameter, mm, where it was measured again."""
    typed: Typed = {}


class Note(_Event):
    """Anything worth remembering, in the person's own words."""

    kind: Literal["note"] = "note"
    text: str


class Finish(_Event):
    """The person closed the job: it no longer counts as unfinished."""

    kind: Literal["finish"] = "finish"


class Undo(_Event):
    """Takes back the event with the id `takes_back`."""

    kind: Literal["undo"] = "undo"
    takes_back: int


Event = Annotated[
    Opened
    | Gate
    | Arrive
    | Pulse
    | Mark
    | Miss
    | Plan
    | Turn
    | Shift
    | Lock
    | Disturbed
    | Described
    | Refused
    | Mended
    | Best
    | Answer
    | Check
    | Cut
    | SheetLaid
    | Care
    | Baseline
    | HeadPulse
    | BedMark
    | NozzleMark
    | Pointer
    | Begin
    | End
    | Skip
    | Item
    | Amend
    | Note
    | Finish
    | Undo,
    Field(discriminator="kind"),
]

EVENT: TypeAdapter[Any] = TypeAdapter(Event)
"""Checks and reads one event from its table."""

Evidence = Mark | Miss | Pulse | Turn | Shift | Lock | Described | Disturbed | Care | Check | Refused | Mended | Best
"""The events that may tell something about the beam; all others leave what is believed of it as it is."""


def effective(events: tuple[Event, ...]) -> tuple[Event, ...]:
    """The events that still count, in order: undone ones left out, amended marks as they now read."""
    undone = {event.takes_back for event in events if isinstance(event, Undo)}
    counting = [event for event in events if event.id not in undone and not isinstance(event, Undo)]
    amended = {event.of: event for event in counting if isinstance(event, Amend)}
    return tuple(
        _amended(event, amended[event.id]) if isinstance(event, Mark) and event.id in amended else event
        for event in counting
    )


def _amended(mark: Mark, by: Amend) -> Mark:
    read = {"u": by.u, "v": by.v, "sd": by.sd, "kept": by.kept, "typed": by.typed}
    return mark.model_copy(update=read if by.width is None else read | {"width": by.width})


def last_entry(events: tuple[Event, ...]) -> Event | None:
    """The newest event that an undo would take back, or None: what nobody entered cannot be."""
    return next((event for event in reversed(effective(events)) if not isinstance(event, Opened | Baseline)), None)
