"""What the person sees at one moment, without any screen, so that any front end can show it."""

from dataclasses import dataclass, field

from coach.advice.advice import Advice, Left, Shot
from coach.steps.cautions import Caution


@dataclass(frozen=True)
class Choice:
    """Something the person can say now."""

    key: str
    """What `perform` is called with."""
    label: str
    wants: str = ""
    """What must come with it: "" nothing, "reading", "turns", "shift" or "mirror"."""


@dataclass(frozen=True)
class ScrewTask:
    """One screw of a plan: turns, clockwise positive, and its place among the plan's screws."""

    mirror: int
    screw: str
    turns: float
    number: int
    of: int


@dataclass(frozen=True)
class ShiftTask:
    """A shift of a plan, mm in the machine's frame."""

    part: str
    up: float
    right: float
    back: float


@dataclass(frozen=True)
class Standing:
    """How far the job is."""

    pulses: int
    rounds: int
    worst: float
    """mm, expected largest station offset."""
    chance: float
    """Probability that every station is within tolerance."""
    left: Left
    """Pulses and rounds that probably remain."""
    places: tuple[tuple[str, bool], ...]
    """The way through the job: names of the stages, and whether each is behind us; the first that is not is now."""
    minutes: str = ""
    """What remains at this person's own pace: "about 25 minutes at your pace"; empty while nobody can tell."""


@dataclass(frozen=True)
class Step:
    """One step of the job."""

    key: str
    title: str
    action: str
    """What to do now, a few words, for the large type."""
    figure: str
    """The figure that belongs to the action: a station, an amount."""
    do: tuple[str, ...]
    """What to do, in short lines."""
    why: str
    cautions: tuple[Caution, ...]
    choices: tuple[Choice, ...]
    advice: Advice | None = None
    shot: Shot | None = None
    """The station in question."""
    screw: ScrewTask | None = None
    shift: ShiftTask | None = None
    gate: str = ""
    news: tuple[str, ...] = ()
    """What the last mark taught: expected against seen, and lessons about the screws."""
    look_at: tuple[str, ...] = field(default=())
