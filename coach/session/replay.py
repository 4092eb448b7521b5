"""From events to belief: the one mechanism behind resume, undo, edit, review and report."""

import math
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import assert_never, get_args

from coach.belief import belief as beliefs
from coach.belief import firing
from coach.belief.belief import Belief, Sighting
from coach.belief.layout import Layout
from coach.belief.measurements import Silence
from coach.machine import Machine
from coach.session.described import Described, with_head
from coach.session.events import (
    Best,
    Disturbed,
    Event,
    Evidence,
    Lock,
    Mark,
    Mended,
    Miss,
    Pulse,
    Refused,
    Shift,
    Turn,
    effective,
)
from coach.session.head_events import HeadStop
from coach.session.possible import check_possible
from coach.session.visit_events import Care, Check
from coach.tuning import TUNING, Tuning


def replay(machine: Machine, events: tuple[Event, ...], today: date, tuning: Tuning = TUNING) -> Belief:
    """The belief after all events that still count."""
    return advance(Belief.initial(machine, today, tuning), effective(events))


def advance(belief: Belief, events: Iterable[Event]) -> Belief:
    """The belief after further events, none of which is an undo or an amendment."""
    for event in events:
        belief = after(belief, event)
    return belief


def after(belief: Belief, event: Event) -> Belief:
    """The belief after one event; events that tell nothing about the beam leave it as it is.

    Raises what `check_possible` does: a slip of a hand edit is told.
    """
    check_possible(belief.layout.machine, event)
    return _after(belief, event) if isinstance(event, Evidence) else belief


def _after(belief: Belief, event: Evidence) -> Belief:
    match event:
        case Mark() | Miss():
            return beliefs.update(belief, sighting_of(event, belief.tuning))
        case Pulse(outcome="nothing"):
            return beliefs.update(belief, sighting_of(event, belief.tuning))
        case Pulse(outcome="flare"):
            return firing.flared(belief, sighting_of(event, belief.tuning))
        case Turn(mirror=3) | Shift(part="lens") | Lock(mirror=3):
            return belief  # what is done behind the head's opening changes nothing before it
        case Described():
            return replace(belief, layout=Layout(with_head(belief.layout.machine, event)))
        case Turn():
            return beliefs.turn(belief, event.mirror, event.screws)
        case Shift():
            return beliefs.shift(belief, event.part, event.up, event.right, event.back)
        case Lock():
            return beliefs.lock(belief, event.mirror)
        case Disturbed():
            return beliefs.disturb(belief, event.part)
        case Care(taken_out=True):
            return beliefs.disturb(belief, "tube" if event.optic == "combiner" else event.optic)
        case Check(name="rail", result="bad"):
            return replace(belief, rail_bad=True)
        case Check(name="rail", result="good") if belief.rail_bad:
            return beliefs.mend(replace(belief, rail_bad=False), "rail")
        case Refused():
            return belief if event.part == "lens" else beliefs.refuse(belief, event.part, event.axis)
        case Mended(cause="not firing"):
            return firing.fires_again(belief)
        case Mended() | Best() if event.cause in OF_THE_HEAD:
            return belief
        case Mended():
            return beliefs.mend(belief, event.cause)
        case Best():
            return beliefs.accept(belief, event.cause)
        case Pulse() | Care() | Check():
            return belief  # a mark is told by itself, and what was only looked at steers as it did
        case _:
            assert_never(event)


OF_THE_HEAD = get_args(HeadStop)
"""Causes that are about lens and nozzle alone."""


def sighting_of(event: Mark | Miss | Pulse, tuning: Tuning) -> Sighting:
    """A mark, a miss, or a pulse that left nothing, as the belief takes it.

    The middle of a mark that is not whole is not the beam's: more doubt.
    """
    usual = tuning.readings.wide_sd if event.wide else tuning.readings.sd
    place = Sighting(
        event.station, event.x, event.y, event.target, sd=usual, wide=event.wide, ms=event.ms, power=event.power
    )
    if isinstance(event, Pulse):
        return replace(place, silence=UNWEIGHED)
    if isinstance(event, Miss):
        return place
    sd = usual if event.sd is None else max(event.sd, tuning.readings.least_sd)
    not_whole = {"crescent": tuning.doses.cut_sd, "cut": tuning.doses.cut_sd, "double": tuning.doses.double_sd}
    sd = math.hypot(sd, not_whole.get(event.shape, 0.0))
    return replace(place, u=event.u, v=event.v, sd=sd, shape=event.shape)


UNWEIGHED = Silence(0.0, 1.0)
"""Of a pulse that left nothing, until the belief weighs it against all others."""
