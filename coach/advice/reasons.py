"""Why an advice is given: facts without a sentence and without a unit.  `coach.advice.words` says them."""

from dataclasses import dataclass

from coach.advice.facts import Outlook, Shot
from coach.belief.firing import Rivals
from coach.belief.measurements import Sighting
from coach.machine import Side


@dataclass(frozen=True)
class Contradicts:
    """A reading does not fit the others, which expect the mark at `shot`."""

    sighting: Sighting
    shot: Shot


@dataclass(frozen=True)
class AllCentred:
    """Every station is within the tolerance (mm), with that probability; whether anything was turned or moved."""

    tolerance: float
    chance: float
    turned: bool = True
    at_edge: tuple["MirrorAtEdge", ...] = ()
    """Mirrors that are badly hit and left so."""


@dataclass(frozen=True)
class BestThereIs:
    """Nothing further helps with faults that were taken as they are; mm, and what is lost there at worst."""

    faults: tuple[str, ...]
    """Causes of a stop."""
    worst: float
    tolerance: float
    lost: float
    lean: float
    turned: bool = True


@dataclass(frozen=True)
class Confirming:
    """Probably all is well, and this station still lacks its mark.

    `locked`: lock nuts were tightened since the last adjustment.
    """

    shot: Shot
    locked: bool = False


@dataclass(frozen=True)
class FirstMark:
    """Nothing was marked yet: of the places where a mark is sure to land, this one tells most."""

    shot: Shot


@dataclass(frozen=True)
class TellsMost:
    """A mark there tells most.  `locked` as for `Confirming`."""

    shot: Shot
    locked: bool = False


@dataclass(frozen=True)
class Nearer:
    """The stations themselves may miss."""

    shot: Shot


@dataclass(frozen=True)
class TooClose:
    """Within or beyond the tolerance: too close to tell without one more mark."""

    shot: Shot


@dataclass(frozen=True)
class BeforeBlame:
    """The marks do not fit together; the oddest is made again before the machine is blamed."""

    shot: Shot


@dataclass(frozen=True)
class SearchMirror2:
    """Even the nearest mark may miss at the head."""

    shot: Shot


@dataclass(frozen=True)
class WideFirst:
    """No mark is sure enough to land on tape: a wide card catches it."""

    shot: Shot


@dataclass(frozen=True)
class NothingSeen:
    """A pulse left nothing, and why is open: one more there, stronger."""

    shot: Shot
    rivals: Rivals


@dataclass(frozen=True)
class NothingSeenWide:
    """A pulse left nothing, and another on the same tape is not sure enough to land: a wide card there."""

    shot: Shot
    rivals: Rivals


@dataclass(frozen=True)
class NotFiring:
    """Steps enough were made: does it fire at all?"""

    shot: Shot
    rivals: Rivals
    pulses: int
    """So many of them left nothing here."""


@dataclass(frozen=True)
class Clipped:
    """The mark at that station is not whole: the beam is cut on its way, so look at mirror 2."""

    station: str
    shot: Shot


@dataclass(frozen=True)
class MirrorUnsure:
    """All stations are centred; whether that mirror is well hit, only with that probability."""

    mirror: int
    chance: float
    again: bool
    """It was marked, and seems to be hit badly."""
    shot: Shot


@dataclass(frozen=True)
class DriveUnknown:
    """A small turn tells which way the screws drive: for each mirror the probability that clockwise pushes."""

    push: tuple[tuple[int, float], ...]
    then: Outlook


@dataclass(frozen=True)
class Drift:
    """How far the believed mark wanders along the whole leg behind a mirror, mm."""

    mirror: int
    u: float
    v: float
    sd: float
    """mm, on the axis that is less sure."""


@dataclass(frozen=True)
class Drifting:
    """The mark wanders along the legs whose mirrors are to be turned."""

    drifts: tuple[Drift, ...]
    then: Outlook
    marks: int
    """So many marks were made so far, in the whole session: with one or two of them the most is a guess."""
    later: tuple[str, ...]
    """Parts that will probably have to be moved afterwards …"""
    in_the_end: Outlook
    """… and how things would stand then."""


@dataclass(frozen=True)
class OffTheSameWay:
    """All stations are off by (u, v) mm on average, to `sd` mm; moving the part cures it."""

    u: float
    v: float
    sd: float
    part: str
    right_after_turns: bool
    """No mark was made since the turns."""
    then: Outlook


@dataclass(frozen=True)
class TooCoarse:
    """Nothing more is expected to help; mm.  What that costs at worst: a fraction of the beam, degrees of lean."""

    worst: float
    tolerance: float
    lost: float
    lean: float


@dataclass(frozen=True)
class TriedEnough:
    """So many rounds that another is no better hope; mm."""

    rounds: int
    worst: float
    tolerance: float


@dataclass(frozen=True)
class BeamNotFound:
    """No pulse is left whose mark is sure to land on a tape."""


@dataclass(frozen=True)
class NoScrews:
    """The profile has no screws of mirrors 1 and 2."""


@dataclass(frozen=True)
class OddStation:
    """The marks at one place agree with each other and with nothing else."""

    station: str
    chance: float


@dataclass(frozen=True)
class SomethingLoose:
    """The marks jump more than any reading does."""

    chance: float


@dataclass(frozen=True)
class GantryYaws:
    """The four corners disagree crosswise; `residual` mm are left at a corner whatever the screws do."""

    chance: float
    residual: float


@dataclass(frozen=True)
class MirrorAtEdge:
    """The beam meets a mirror (u, v) mm off its middle, as seen on its own tape; a fraction of it passes beside."""

    mirror: int
    side: Side
    u: float
    v: float
    lost: float


Reason = (
    Contradicts
    | AllCentred
    | BestThereIs
    | Confirming
    | FirstMark
    | TellsMost
    | Nearer
    | TooClose
    | BeforeBlame
    | SearchMirror2
    | WideFirst
    | NothingSeen
    | NothingSeenWide
    | NotFiring
    | Clipped
    | MirrorUnsure
    | MirrorAtEdge
    | DriveUnknown
    | Drifting
    | OffTheSameWay
    | TooCoarse
    | TriedEnough
    | BeamNotFound
    | NoScrews
    | OddStation
    | SomethingLoose
    | GantryYaws
)
