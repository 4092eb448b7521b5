"""Why something is advised about the head: facts without a sentence and a unit; `coach.head.words` says them."""

from dataclasses import dataclass
from typing import Literal

from coach.head.outlook import HeadOutlook, Suspect


@dataclass(frozen=True)
class NozzleFirst:
    """Nothing is known of the nozzle in this round: one mark under it tells whether the beam comes through at all."""

    again: bool
    """Something was adjusted before."""


@dataclass(frozen=True)
class HeightNeeded:
    """A mark on the card at this height, so that two of them tell the lean."""

    lowered: float
    lens: bool
    second: bool


@dataclass(frozen=True)
class LensOut:
    """The beam hardly passes the nozzle, or not at all: whether it is upright is seen without lens and nozzle."""

    off: float | None
    """mm off the nozzle's middle; None: nothing came through."""


@dataclass(frozen=True)
class TooCloseToTell:
    """Within what is good or not: one more mark tells."""

    now: HeadOutlook


@dataclass(frozen=True)
class DriveOpen:
    """Nobody knows which way mirror 3's screws drive: a small turn tells."""

    screw: str


@dataclass(frozen=True)
class LeansWithoutLens:
    """The beam leans before the lens: that is mirror 3."""

    now: HeadOutlook


NoMoreMarks = Literal["longer", "enough", "cut", "same round"]
"""Why no mark comes before hands: marks were weighed and take longer; there are so many that more tell little; the
rim would cut the next as well; or hands are at it in this round, and the marks come after."""


@dataclass(frozen=True)
class OffBelow:
    """The focused beam leans, or passes beside the nozzle's middle; what was found out of it, or ""."""

    now: HeadOutlook
    suspect: Suspect
    unmarked: NoMoreMarks = "longer"


@dataclass(frozen=True)
class Upright:
    """Lean and nozzle are good, or as good as can be had."""

    now: HeadOutlook
    adjusted: bool
    as_it_is: bool = False


@dataclass(frozen=True)
class BadlySeated:
    """Lens or nozzle stand farther off than screws should make up for."""

    part: Suspect
    off: float | None
    """mm; None: nothing comes through, and the beam is upright without it."""


@dataclass(frozen=True)
class NothingToTurn:
    """It is out, and nothing that can be turned or moved helps."""

    now: HeadOutlook


@dataclass(frozen=True)
class HeadTooCoarse:
    """Nothing further is expected to help."""

    now: HeadOutlook
    rounds: int


HeadReason = (
    NozzleFirst
    | HeightNeeded
    | LensOut
    | TooCloseToTell
    | DriveOpen
    | LeansWithoutLens
    | OffBelow
    | Upright
    | BadlySeated
    | NothingToTurn
    | HeadTooCoarse
)
