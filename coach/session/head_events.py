"""What happens below mirror 3: marks on the bed and under the nozzle, and the pointer."""

from typing import Annotated, Literal

from pydantic import Field

from coach.machine import Finite
from coach.session.happened import Happened

FARTHEST_LOWERED = 1000.0
"""mm; no bed goes down farther."""
Lowered = Annotated[float, Field(ge=0, le=FARTHEST_LOWERED, allow_inf_nan=False)]
"""mm by which the bed stood below its usual height."""
Sd = Annotated[float, Field(gt=0, le=100, allow_inf_nan=False)] | None
Typed = dict[str, str]
HeadStop = Literal["nozzle", "lens", "no levers", "head coarse"]
"""Causes of stops about lens and nozzle (`coach.head`): the beam before them is as it was."""


HeadShot = Literal["bed", "nozzle", "pointer"]
"""Where a pulse below mirror 3 goes: a card on the bed, tape under the nozzle, a card for the pointer's spot."""
HeadOutcome = Literal["mark", "nothing", "flare"]


class HeadPulse(Happened):
    """One short firing below mirror 3, and what was seen; the mark is measured afterwards."""

    kind: Literal["head_pulse"] = "head_pulse"
    target: HeadShot
    outcome: HeadOutcome
    lowered: Lowered = 0.0
    lens: bool = True
    """Whether lens and nozzle were in."""


class BedMark(Happened):
    """A mark on a card fixed to the bed, mm on the card from wherever its owner counts, seen from above."""

    kind: Literal["bed_mark"] = "bed_mark"
    right: Finite
    back: Finite
    lowered: Lowered = 0.0
    lens: bool = False
    """Whether the lens was in."""
    sd: Sd = None
    """None: the usual doubt, `coach.tuning.Head.card_sd`."""
    typed: Typed = Field(default_factory=dict)


class NozzleMark(Happened):
    """A mark on tape under the nozzle, mm from the middle of the rim's imprint, seen from above."""

    kind: Literal["nozzle_mark"] = "nozzle_mark"
    right: Finite | None = None
    """None, with `back`: nothing came through the nozzle."""
    back: Finite | None = None
    cut: bool = False
    """The rim cut it, so that its middle is not the beam's."""
    sd: Sd = None
    """None: the usual doubt, `coach.tuning.Head.nozzle_sd`."""
    typed: Typed = Field(default_factory=dict)


class Pointer(Happened):
    """Where the pointer's spot lay beside a mark, mm, seen from above; the bed `lowered` mm below its usual place."""

    kind: Literal["pointer"] = "pointer"
    right: Finite
    back: Finite
    lowered: Lowered = 0.0
    typed: Typed = Field(default_factory=dict)
