"""Where in the job the events leave us.

The order of the questions is the order of the job: gates, a flame, an open measurement, an open plan,
and only then new advice.
"""

from dataclasses import dataclass

from coach.advice.advice import Shot
from coach.session.events import (
    Arrive,
    Event,
    Gate,
    Lock,
    Mark,
    Miss,
    Opened,
    Plan,
    Pulse,
    Shift,
    Turn,
)
from coach.steps import gates
from coach.steps.step import ScrewTask, ShiftTask


@dataclass(frozen=True)
class Situation:
    """The step's key and what it is about."""

    key: str
    gate: gates.Gate | None = None
    shot: Shot | None = None
    screw: ScrewTask | None = None
    shift: ShiftTask | None = None
    why: str = ""


def situation(events: tuple[Event, ...]) -> Situation:
    """From the events that count to the step; key "advice" when the next step is the advice's to name."""
    flame = _flame(events)
    if flame is not None:
        return Situation("flare", gate=gates.FLAME_OUT, shot=_shot(flame))
    gate = missing_gate(events)
    if gate is not None:
        return Situation(gate.step, gate=gate)
    for event in reversed(events):
        match event:
            case Pulse(outcome="flare"):
                break
            case Pulse(outcome="mark"):
                return Situation("measure", shot=_shot(event))
            case Pulse(outcome="nothing"):
                return Situation("nothing", shot=_shot(event))
            case Arrive():
                return Situation("pulse", shot=_shot(event))
            case Plan() | Turn() | Shift() | Lock():
                return _open_plan(events)
            case Mark() | Miss():
                break
    return Situation("advice")


def _flame(events: tuple[Event, ...]) -> Pulse | None:
    """The pulse whose flame nobody said was out yet: it comes before every gate, after a resume too."""
    pulse = next((event for event in reversed(events) if isinstance(event, Pulse)), None)
    burning = pulse is not None and pulse.outcome == "flare"
    return pulse if burning and pulse and not _later(events, pulse, Gate, name=gates.FLAME_OUT.name) else None


def missing_gate(events: tuple[Event, ...]) -> gates.Gate | None:
    """The first gate that is not acknowledged, or has to be acknowledged again since the last opening.

    While a mark waits to be measured nobody is told to put fresh tape on.
    """
    opening = max((i for i, event in enumerate(events) if isinstance(event, Opened)), default=-1)
    ever = {event.name for event in events if isinstance(event, Gate)}
    since = {event.name for event in events[opening + 1 :] if isinstance(event, Gate)}
    if _tape_waits(events):
        since.add("tape")
    return gates.missing_gate(ever, since)


def _tape_waits(events: tuple[Event, ...]) -> bool:
    last = next((event for event in reversed(events) if isinstance(event, Arrive | Pulse | Mark | Miss)), None)
    return isinstance(last, Pulse) and last.outcome == "mark"


def _shot(event: Arrive | Pulse) -> Shot:
    return Shot(event.station, event.x, event.y, event.target)


def _later(events: tuple[Event, ...], than: Event, kind: type[Gate], name: str) -> bool:
    return any(isinstance(event, kind) and event.id > than.id and event.name == name for event in events)


def _open_plan(events: tuple[Event, ...]) -> Situation:
    """The next screw or the shift of the last plan that was not carried out yet, else on to the advice."""
    plan = next((event for event in reversed(events) if isinstance(event, Plan)), None)
    if plan is None:
        return Situation("advice")
    later = [event for event in events if event.id > plan.id]
    done = {(event.mirror, name) for event in later if isinstance(event, Turn) for name in event.screws}
    wanted = [(int(mirror), name, turns) for mirror, screws in plan.turns.items() for name, turns in screws.items()]
    for number, (mirror, name, turns) in enumerate(wanted, start=1):
        if (mirror, name) not in done:
            task = ScrewTask(mirror, name, turns, number, len(wanted))
            return Situation("screw", screw=task, why=plan.why)
    if plan.part and not any(isinstance(event, Shift) for event in later):
        return Situation("move", shift=ShiftTask(plan.part, plan.up, plan.right, plan.back), why=plan.why)
    return Situation("advice")
