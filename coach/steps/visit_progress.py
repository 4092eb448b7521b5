"""How far a visit is, by its events alone."""

from itertools import takewhile
from typing import Literal

from coach.session.events import Event, Gate, Note, Opened, Shift
from coach.session.part_events import ANEW, Begin, End, Item, Skip
from coach.session.session import Session
from coach.session.visit_events import Baseline, Care
from coach.visit import VISIT_PARTS, VisitPart

State = Literal["to come", "now", "left open", "done", "left out"]
"""What became of a part; "left open" where the person went to another before its end."""
Power = Literal["on", "off", "off when it was left"]
"""Whether the machine is unplugged; what was said before the program was opened again has to be seen to again."""


def since_begun(session: Session, part: VisitPart) -> tuple[Event, ...]:
    """The events that count from when that part was last gone to; all of them where it never was."""
    events = session.effective
    begun = max((n for n, event in enumerate(events) if isinstance(event, Begin) and event.part == part), default=-1)
    return events[begun + 1 :]


def since_anew(events: tuple[Event, ...], part: VisitPart) -> tuple[Event, ...]:
    """The events that count from when that part's list was last begun anew; all of them where it never was."""
    anew = max(
        (n for n, e in enumerate(events) if isinstance(e, Item) and (e.part, e.name) == (part, ANEW)), default=-1
    )
    return events[anew + 1 :]


def out_of(optic: str) -> str:
    """Name of the entry that says that an optic has to come out of its mount."""
    return f"{optic} out"


def said_out(events: tuple[Event, ...], optic: str) -> bool:
    """Whether it was said, since that optic was last cleaned, that it has to come out of its mount."""
    for event in reversed(events):
        match event:
            case Item(part="clean", name=name) if name == out_of(optic):
                return True
            case Care(optic=cleaned) if cleaned == optic:
                return False
    return False


def part_now(events: tuple[Event, ...]) -> VisitPart | None:
    """The part that the person is in; None between two parts."""
    for event in reversed(events):
        match event:
            case Begin():
                return event.part
            case End() | Skip():
                return None
    return None


def one_part_alone(events: tuple[Event, ...]) -> bool:
    """Whether the person came for one part: it was gone to by itself, and nothing else since but closing up."""
    begun = {event.part for event in events if isinstance(event, Begin)}
    left_out = {event.part for event in events if isinstance(event, Skip)}
    return VISIT_PARTS[0] not in begun and len(begun - {"close up"}) <= 1 and left_out <= {"close up"}


def state_of(part: VisitPart, events: tuple[Event, ...]) -> State:
    """What became of a part."""
    last = next((e for e in reversed(events) if isinstance(e, Begin | End | Skip) and e.part == part), None)
    match last:
        case None:
            return "to come"
        case Begin():
            if part_now(events) == part:
                return "now"
            return "done" if _only_looked_at(part, events) else "left open"
        case End():
            return "done"
        case Skip():
            return "left out"


def _only_looked_at(part: VisitPart, events: tuple[Event, ...]) -> bool:
    """Whether the part was through, and nothing was entered in it when it was gone to once more."""
    begun = max(n for n, event in enumerate(events) if isinstance(event, Begin) and event.part == part)
    after = takewhile(lambda event: not isinstance(event, Begin), events[begun + 1 :])
    entered = any(not isinstance(event, Gate | Note | Opened | Baseline) for event in after)
    return not entered and state_of(part, events[:begun]) == "done"


def power_now(events: tuple[Event, ...]) -> Power:
    """What was last said of the machine's power."""
    reopened = False
    for event in reversed(events):
        match event:
            case Opened():
                reopened = True
            case Gate(name="isolated" | "tube-off"):
                return "off when it was left" if reopened else "off"
            case Gate(name="powered") | Shift(part="tube"):  # the tube's own step leads through plugging in
                return "on"
    return "on"
