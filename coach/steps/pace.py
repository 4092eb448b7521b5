"""How fast this person works: from the times of what was entered, without pauses."""

from dataclasses import dataclass, field
from statistics import median
from typing import assert_never

from coach.advice.advice import Left
from coach.session.described import Described
from coach.session.events import (
    Amend,
    Arrive,
    Best,
    Disturbed,
    Event,
    Finish,
    Gate,
    Lock,
    Mark,
    Mended,
    Miss,
    Note,
    Opened,
    Plan,
    Pulse,
    Refused,
    Shift,
    Turn,
    Undo,
    effective,
)
from coach.session.head_events import BedMark, HeadPulse, NozzleMark, Pointer
from coach.session.part_events import Begin, End, Item, Skip
from coach.session.visit_events import Answer, Baseline, Care, Check, Cut, SheetLaid

PAUSE = 15.0
"""Minutes without an entry from which somebody did something else."""
ENOUGH_PULSES = 3
"""Pulses to be timed before anything is said: fewer are no pace."""
COARSE_FROM = 10
"""Minutes from which an estimate is rounded to `STEP`; below, to whole minutes."""
STEP = 5


@dataclass(frozen=True)
class Pace:
    """Medians in minutes; None where nothing was timed."""

    pulse: float | None = None
    """From the end of what was done before (way and tape included) to the mark that is measured, or missed."""
    adjusting: float | None = None
    """A whole round: from the last mark through all that was turned, moved or locked before the next one."""
    pulses: int = 0
    """How many pulses were timed."""


@dataclass(frozen=True)
class TimeLeft:
    """How long what remains takes this person."""

    minutes: int
    """Rounded as one says it."""
    whole: bool
    """Whether turning is counted too, and not the pulses alone."""


@dataclass
class _Watch:
    """Runs through the events with a stopwatch; `broken`: a pause fell into what is being timed."""

    minutes: float = 0.0
    begun: bool = False
    broken: bool = False
    round: float | None = None
    round_broken: bool = False
    pulses: list[float] = field(default_factory=list)
    rounds: list[float] = field(default_factory=list)

    def passes(self, minutes: float) -> None:
        """Time until the next entry; a clock that was set back is a pause too."""
        if 0 <= minutes <= PAUSE:
            self.minutes += minutes
        else:
            self.broken = True

    def opened(self) -> None:
        """The program was closed in between: what was begun has lost its time."""
        self.broken = self.begun or self.broken
        self.round_broken = self.round_broken or self.round is not None

    def gate(self) -> None:
        """What is read before the job, or before it goes on, and other parts of the visit are no part of the pace."""
        if not self.begun:
            self.minutes, self.broken = 0.0, False

    def adjusted(self) -> None:
        """Something was turned, moved or locked: the round is longer by what passed since."""
        self.round = (self.round or 0.0) + self.minutes
        self.round_broken = self.round_broken or self.broken
        self._anew()

    def under_way(self) -> None:
        """To the next pulse: what was adjusted before it is a whole round."""
        self.begun = True
        if self.round is not None and not self.round_broken:
            self.rounds.append(self.round)
        self.round, self.round_broken = None, False

    def marked(self) -> None:
        """A pulse came to its end."""
        self.under_way()
        if not self.broken:
            self.pulses.append(self.minutes)
        self._anew()

    def _anew(self) -> None:
        self.minutes, self.begun, self.broken = 0.0, False, False


def pace(events: tuple[Event, ...]) -> Pace:
    """This person's pace so far.  What was taken back counts as time, not as work done; pure."""
    watch, counting = _Watch(), {event.id for event in effective(events)}
    for before, event in zip((None, *events), events, strict=False):
        if isinstance(event, Opened):
            watch.opened()
            continue
        if before is not None:
            watch.passes((event.at - before.at).total_seconds() / 60)
        if event.id not in counting:
            continue
        match event:
            case Gate() | Answer() | Check() | Cut() | SheetLaid() | Care() | Baseline():
                watch.gate()
            case Begin() | End() | Skip() | Item():
                watch.gate()
            case Plan():
                watch.begun = True
            case Turn() | Shift() | Lock():
                watch.adjusted()
            case Arrive() | Pulse():
                watch.under_way()
            case Mark() | Miss():
                watch.marked()
            case HeadPulse() | BedMark() | NozzleMark() | Pointer():
                watch.gate()
            case Disturbed() | Described() | Refused() | Mended() | Best() | Amend() | Note() | Finish() | Undo():
                pass  # its time is part of what is under way
            case _:
                assert_never(event)
    return Pace(
        median(watch.pulses) if watch.pulses else None,
        median(watch.rounds) if watch.rounds else None,
        len(watch.pulses),
    )


def time_left(at: Pace, left: Left) -> TimeLeft | None:
    """What remains at this pace; None while too little was timed to say so.

    As long as no round was timed only the pulses can be told of, and that is said.
    """
    if at.pulse is None or at.pulses < ENOUGH_PULSES or left.pulses < 1:
        return None
    minutes = left.pulses * at.pulse + left.rounds * (at.adjusting or 0.0)
    if minutes <= 0:
        return None
    rounded = STEP * round(minutes / STEP) if minutes >= COARSE_FROM else round(minutes)
    return TimeLeft(max(rounded, 1), at.adjusting is not None or round(left.rounds) == 0)


def minutes_words(time: TimeLeft | None) -> str:
    """In words: "about 25 minutes at your pace"; "" where nobody can tell."""
    if time is None:
        return ""
    words = f"about {time.minutes} minute{'s' if time.minutes > 1 else ''} at your pace"
    return words if time.whole else f"{words}, turning not counted"


def minutes_briefly(time: TimeLeft) -> str:
    """The same where room is short: "about 25 min left"."""
    return f"about {time.minutes} min {'left' if time.whole else 'of pulses'}"
