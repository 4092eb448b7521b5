"""From events to belief: the one mechanism behind resume, undo, edit, review and report."""

from collections.abc import Iterable
from datetime import date

from coach.belief import belief as beliefs
from coach.belief.belief import Belief, Sighting
from coach.machine import Machine
from coach.session.events import Best, Disturbed, Event, Lock, Mark, Mended, Miss, Refused, Shift, Turn, effective
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
    """The belief after one event; events that tell nothing about the beam leave it as it is."""
    match event:
        case Mark() | Miss():
            return beliefs.update(belief, sighting_of(event, belief.tuning))
        case Turn():
            return beliefs.turn(belief, event.mirror, event.screws)
        case Shift():
            return beliefs.shift(belief, event.part, event.up, event.right, event.back)
        case Lock():
            return beliefs.lock(belief, event.mirror)
        case Disturbed():
            return beliefs.disturb(belief, event.part)
        case Refused():
            return beliefs.refuse(belief, event.part, event.axis)
        case Mended():
            return beliefs.mend(belief, event.cause)
        case Best():
            return beliefs.accept(belief, event.cause)
        case _:
            return belief


def sighting_of(event: Mark | Miss, tuning: Tuning) -> Sighting:
    """A mark or a miss as the belief takes it."""
    usual = tuning.readings.wide_sd if event.wide else tuning.readings.sd
    if isinstance(event, Miss):
        return Sighting(event.station, event.x, event.y, event.target, sd=usual, wide=event.wide)
    sd = usual if event.sd is None else event.sd
    return Sighting(event.station, event.x, event.y, event.target, event.u, event.v, sd, event.wide)
