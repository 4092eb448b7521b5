"""From events to what is believed of mirror 3, lens and nozzle."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from coach.head import belief as heads
from coach.head.belief import HeadBelief
from coach.head.marks import HeadMark
from coach.machine import Machine
from coach.session.changes import rails_mended
from coach.session.events import (
    Best,
    Disturbed,
    Event,
    Lock,
    Mended,
    Refused,
    Shift,
    Turn,
)
from coach.session.head_events import BedMark, NozzleMark
from coach.session.replay import OF_THE_HEAD
from coach.session.visit_events import Care
from coach.tuning import TUNING, Head, Tuning


@dataclass(frozen=True, eq=False)
class HeadReplay:
    """What is believed after so many events, to go on from: each entry then costs as much as the first."""

    machine: Machine
    belief: HeadBelief
    events: tuple[Event, ...] = ()
    begun: bool = False
    """Whether the head's part of the job has: before that what is done to the beam changes nothing known."""

    @classmethod
    def initial(cls, machine: Machine, today: date, tuning: Tuning = TUNING) -> "HeadReplay":
        """Before any event; `today` is when they began."""
        return cls(machine, HeadBelief.initial(machine, today, tuning))

    def leads_to(self, machine: Machine, events: tuple[Event, ...]) -> bool:
        """Whether these events go on from those that were seen, on the same machine."""
        return machine == self.machine and events[: len(self.events)] == self.events

    def after(self, events: tuple[Event, ...]) -> "HeadReplay":
        """After all of these events, none of which is an undo; they begin with those seen."""
        belief, begun = self.belief, self.begun
        mended = rails_mended(events)
        for event in events[len(self.events) :]:
            begun = begun or _about_head(event)
            if begun:
                belief = heads.beam_changed(belief) if event.id in mended else _after(belief, event)
        return replace(self, belief=belief, events=events, begun=begun)


def head_belief(machine: Machine, events: Iterable[Event], today: date, tuning: Tuning = TUNING) -> HeadBelief:
    """The belief after these events, none of which is an undo; `today` is when they began."""
    return HeadReplay.initial(machine, today, tuning).after(tuple(events)).belief


def _about_head(event: Event) -> bool:
    """Whether the head's part of the job begins with it."""
    match event:
        case BedMark() | NozzleMark() | Turn(mirror=3) | Lock(mirror=3) | Shift(part="lens") | Refused():
            return True
        case Mended() | Best():
            return event.cause in OF_THE_HEAD
        case _:
            return False


def _after(belief: HeadBelief, event: Event) -> HeadBelief:
    match event:
        case BedMark() | NozzleMark():
            return heads.mark(belief, mark_of(event, belief.tuning.head))
        case Turn(mirror=3):
            return heads.turn(belief, event.screws)
        case Shift(part="lens" | "head"):
            return heads.shift(belief, event.part, event.up, event.right, event.back)
        case Turn() | Shift():
            return heads.beam_changed(belief)
        case Lock(mirror=3):
            return heads.lock(belief)
        case Disturbed():
            return heads.disturb(belief, event.part)
        case Care(taken_out=True):
            return heads.disturb(belief, "tube" if event.optic == "combiner" else event.optic)
        case Refused():
            return heads.refuse(belief, event.part)
        case Mended(cause="nozzle" | "lens" | "head coarse"):
            return heads.reseat(belief)
        case Mended(cause="no levers"):
            return belief
        case Mended():
            return heads.beam_changed(belief)
        case Best():
            return heads.accept(belief, event.cause)
        case _:
            return belief


def mark_of(event: BedMark | NozzleMark, tuning: Head) -> HeadMark:
    """A mark as the belief takes it; the middle of one that the rim cut is not the beam's: more doubt."""
    if isinstance(event, BedMark):
        sd = math.hypot(event.sd or tuning.card_sd, tuning.bed_play)
        return HeadMark("bed", event.right, event.back, sd, event.lowered, event.lens)
    sd = max(event.sd or tuning.nozzle_sd, TUNING.readings.least_sd) + (tuning.cut_sd if event.cut else 0.0)
    return HeadMark("nozzle", event.right, event.back, sd)
