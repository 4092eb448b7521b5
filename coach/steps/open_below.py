"""What is open below mirror 3 by the events alone: a pulse, its mark, the next screw, the move."""

from typing import assert_never

from coach.session.events import Best, Disturbed, Event, Lock, Mended, Opened, Plan, Refused, Shift, Turn
from coach.session.head_events import BedMark, HeadPulse, HeadShot, NozzleMark, Pointer
from coach.session.part_events import Begin, Item
from coach.session.visit_events import Care
from coach.steps.about import About, BelowShot, ScrewTask, ShiftTask
from coach.steps.head_deeds import READY
from coach.steps.keys import StepKey
from coach.steps.situation import left_of
from coach.visit import VisitPart

MEASURED_AT: dict[HeadShot, StepKey] = {"bed": "bed-mark", "nozzle": "nozzle-mark", "pointer": "pointer-spot"}
"""The step at which the mark of such a pulse is measured."""


def open_below(events: tuple[Event, ...], part: VisitPart, shot: BelowShot | None) -> About | None:
    """The step that is open in that part, "head" or "pointer"; `shot`: the pulse that is advised.  None: none is."""
    gone = False
    for event in reversed(events):
        match event:
            case HeadPulse() if (event.target == "pointer") == (part == "pointer"):
                return _after_pulse(event, part)
            case Begin() | Opened():  # meanwhile the head may have been moved, or the card taken off
                gone = True
            case Item(name=name) if name == READY and event.part == part:
                return About(key="head-pulse", part=part, below=shot) if shot is not None and not gone else None
            case Plan(below=True) | Turn() | Shift():
                return _open_plan(events) if part == "head" else None
            case BedMark() | NozzleMark() | Pointer() | Lock() | Refused() | Mended() | Best():
                return None
            case Disturbed() | Care(taken_out=True):
                return None
            case _:
                continue
    return None


def _after_pulse(pulse: HeadPulse, part: VisitPart) -> About | None:
    shot = BelowShot(pulse.target, pulse.lowered, pulse.lens)
    match pulse.outcome:
        case "mark":
            return About(key=MEASURED_AT[pulse.target], part=part, below=shot)
        case "nothing":
            return About(key="head-nothing", part=part, below=shot)
        case "flare":  # it is out, else its gate had come first
            return None
        case _:
            assert_never(pulse.outcome)


def _open_plan(events: tuple[Event, ...]) -> About | None:
    """The next screw or the move of the last plan about the head that was not carried out yet."""
    plan = next((event for event in reversed(events) if isinstance(event, Plan) and event.below), None)
    left = left_of(plan, events) if plan is not None else None
    match left:
        case ScrewTask():
            return About(key="head-turn", part="head", screw=left)
        case ShiftTask():
            return About(key="head-shift", part="head", shift=left)
        case None:
            return None
        case _:
            assert_never(left)
