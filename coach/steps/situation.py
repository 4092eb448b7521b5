"""Where in the job the events leave us.

The order of the questions is the order of the job: a flame, gates, an open measurement, an open plan,
and only then new advice.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import assert_never

from coach.advice.advice import Shot
from coach.belief.transitions import DISTURBED
from coach.session.changes import rails_mended
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
)
from coach.session.head_events import BedMark, HeadPulse, NozzleMark, Pointer
from coach.session.part_events import Begin, End, Item, Skip
from coach.session.replay import OF_THE_HEAD
from coach.session.visit_events import Answer, Baseline, Care, Check, Cut, SheetLaid
from coach.steps import gates, kind
from coach.steps.about import About, ScrewTask, ShiftTask


def situation(events: tuple[Event, ...]) -> About | None:
    """From the events that count to the step and what it is about; None when that is the advice's to say."""
    flame = _flame(events)
    if flame is not None:
        return _gated(gates.FLAME_OUT, _shot(flame) if isinstance(flame, Pulse) else None)
    gate = missing_gate(events)
    if gate is not None:
        return _gated(gate)
    gone, mended = False, rails_mended(events)
    for event in reversed(events):
        match event:
            case Pulse():
                return _after_pulse(event)
            case Begin():  # another part may have moved the head, and taken the tape off
                gone = True
            case Arrive():
                return None if gone else About(key="pulse", shot=_shot(event))
            case Plan(below=True) | Turn(mirror=3) | Shift(part="lens") | Lock(mirror=3) | Refused(part="lens"):
                continue
            case Mended() | Best() if event.cause in OF_THE_HEAD:
                continue
            case Plan() | Turn() | Shift() | Lock():
                return _open_plan(events)
            case Disturbed() if not any(DISTURBED[event.part]):  # behind the opening: no mark there feels it
                continue
            case Mark() | Miss() | Disturbed() | Refused() | Mended() | Best() | Care(taken_out=True):
                return None
            case Opened() | Gate() | Amend() | Note() | Finish() | Undo() | End() | Skip() | Item():
                continue
            case Check() if event.id in mended:  # the head rides otherwise: what was open is asked for anew
                return None
            case Answer() | Check() | Care() | Baseline():  # other parts of the visit: the beam's waits
                continue
            case Cut() | SheetLaid():
                continue
            case HeadPulse() | BedMark() | NozzleMark() | Pointer() | Described():  # below the head likewise
                continue
            case _:
                assert_never(event)
    return None


def _gated(gate: kind.Gate, shot: Shot | None = None, shift: ShiftTask | None = None) -> About:
    return About(key=gates.asking_step(gate), gate=gate.name, shot=shot, shift=shift)


def _after_pulse(pulse: Pulse) -> About | None:
    match pulse.outcome:
        case "mark":
            return About(key="measure", shot=_shot(pulse))
        case "double" | "mount":
            return About(key="elsewhere", shot=_shot(pulse))
        case "nothing" | "flare":  # what follows nothing is advised; a flame is out, else its gate had come first
            return None
        case _:
            assert_never(pulse.outcome)


def flame_waits(events: tuple[Event, ...]) -> bool:
    """Whether a flame was seen of which nobody said that it is out: that comes before all else."""
    return _flame(events) is not None


def _flame(events: tuple[Event, ...]) -> Pulse | HeadPulse | None:
    """The pulse whose flame nobody said was out yet: it comes before every gate, after a resume too."""
    pulse = next((event for event in reversed(events) if isinstance(event, Pulse | HeadPulse)), None)
    burning = pulse is not None and pulse.outcome == "flare"
    return pulse if burning and pulse and not _later(events, pulse, Gate, name=gates.FLAME_OUT.name) else None


def missing_gate(events: tuple[Event, ...]) -> kind.Gate | None:
    """The first gate that is not acknowledged, or has to be acknowledged again since the last opening.

    After the tube was moved the machine was unplugged: what must be true before the beam is on is asked anew.
    While a mark waits to be measured nobody is told to put fresh tape on.
    """
    opening = _last(events, lambda event: isinstance(event, Opened))
    ever, since = (
        {event.name for event in events[start + 1 :] if isinstance(event, Gate)} for start in (-1, opening)
    )
    since_plugged_in = gates_since_plugged_in(events)
    if _tape_waits(events):
        since.add("tape")
    return gates.missing_gate(ever, since, since_plugged_in, visit=any(isinstance(e, Begin) for e in events))


def gates_since_plugged_in(events: tuple[Event, ...]) -> set[str]:
    """Names of the gates acknowledged since the program was opened and the machine was last unplugged."""
    plugged_in = max(
        _last(events, lambda event: isinstance(event, Opened)), _last(events, _plugged_in), _tube_left(events)
    )
    return {event.name for event in events[plugged_in + 1 :] if isinstance(event, Gate)}


def _last(events: tuple[Event, ...], which: Callable[[Event], bool]) -> int:
    """The place of the last such event; −1 where there is none."""
    return max((index for index, event in enumerate(events) if which(event)), default=-1)


def _plugged_in(event: Event) -> bool:
    """Whether the machine was unplugged before that: what must be true before the beam is on is asked anew."""
    return (isinstance(event, Shift) and event.part == "tube") or (
        isinstance(event, Gate) and event.name == "powered"
    )


def _tube_left(events: tuple[Event, ...]) -> int:
    """The place where hands left a tube that was unplugged, unmoved; −1 where that was not last of it.

    It cannot be moved, or something was bumped, which comes first."""
    off = _last(events, lambda event: isinstance(event, Gate) and event.name == gates.TUBE_OFF.name)
    left = _last(events, lambda event: isinstance(event, Disturbed) or _tube_refused(event))
    return left if 0 <= off < left else -1


def _tube_refused(event: Event) -> bool:
    return isinstance(event, Refused) and event.part == "tube"


def _tape_waits(events: tuple[Event, ...]) -> bool:
    last = next((event for event in reversed(events) if isinstance(event, Arrive | Pulse | Mark | Miss)), None)
    return isinstance(last, Pulse) and last.outcome == "mark"


def _shot(event: Arrive | Pulse) -> Shot:
    shot = Shot(event.station, event.x, event.y, event.target, wide=event.wide)
    return replace(shot, ms=event.ms, power=event.power, layers=event.layers)


def _later(events: tuple[Event, ...], than: Event, kind: type[Gate], name: str) -> bool:
    return any(isinstance(event, kind) and event.id > than.id and event.name == name for event in events)


def _open_plan(events: tuple[Event, ...]) -> About | None:
    """The next screw or the shift of the last plan that was not carried out yet, else on to the advice."""
    plan = next((event for event in reversed(events) if isinstance(event, Plan) and not event.below), None)
    left = left_of(plan, events) if plan is not None else None
    if plan is None or not isinstance(left, ShiftTask):
        return About(key="screw", screw=left) if isinstance(left, ScrewTask) else None
    return _part_to_move(events, plan, left)


def left_of(plan: Plan, events: tuple[Event, ...]) -> ScrewTask | ShiftTask | None:
    """The next screw, or the shift, of a plan that was not carried out yet."""
    later = [event for event in events if event.id > plan.id]
    done = {(event.mirror, name) for event in later if isinstance(event, Turn) for name in event.screws}
    wanted = [(int(mirror), name, turns) for mirror, screws in plan.turns.items() for name, turns in screws.items()]
    for number, (mirror, name, turns) in enumerate(wanted, start=1):
        if (mirror, name) not in done:
            return ScrewTask(mirror, name, turns, number, len(wanted))
    moved = any(isinstance(event, Shift) and (plan.below or event.part != "lens") for event in later)
    return ShiftTask(plan.part, plan.up, plan.right, plan.back) if plan.part and not moved else None


def _part_to_move(events: tuple[Event, ...], plan: Plan, task: ShiftTask) -> About:
    """The part of the plan; nobody is sent to the tube before it was said, since the last opening, that it is off."""
    if task.part != "tube":
        return About(key="move", shift=task)
    openings = [event for event in events if isinstance(event, Opened)]
    begun: Event = openings[-1] if openings and openings[-1].id > plan.id else plan
    if not _later(events, begun, Gate, name=gates.TUBE_OFF.name):
        return _gated(gates.TUBE_OFF, shift=task)
    return About(key="move-tube", shift=task)
