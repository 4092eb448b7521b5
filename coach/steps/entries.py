"""Events and times in a few words, for lists and for what an undo took back."""

from datetime import datetime
from typing import Literal, assert_never

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
    Outcome,
    Plan,
    Pulse,
    Refused,
    Shape,
    Shift,
    Turn,
    Undo,
    effective,
)
from coach.session.head_events import BedMark, HeadPulse, NozzleMark, Pointer
from coach.session.part_events import Begin, End, Item, Skip
from coach.session.visit_events import Answer, Baseline, Care, Check, Cut, SheetLaid
from coach.shown import Wording
from coach.steps.below_head import below_head_words, described_words
from coach.steps.bumped import out_words
from coach.steps.part_words import part_words
from coach.steps.table import CONFIRMS
from coach.steps.visit_words import visit_doing, visit_words
from coach.steps.words import named, setting_words, shift_words, turn_words

EntryState = Literal["counts", "taken back", "corrected since"]
OUTCOMES: dict[Outcome, str] = {
    "mark": "a mark",
    "nothing": "nothing seen",
    "flare": "a flame",
    "double": "two marks",
    "mount": "a scorch beside the target",
}
SHAPES: dict[Shape, str] = {"round": "", "crescent": ", a crescent", "cut": ", cut off", "double": ", double"}


def entry_words(event: Event, wording: Wording) -> str:
    """One entry in a few words, beginning with a capital."""
    match event:
        case Opened():
            return "Program opened"
        case Gate():
            return f"Confirmed: {CONFIRMS.get(event.name, event.name)}"
        case Note():
            return f"Note: {event.text}"
        case Undo():
            return f"Took entry {event.takes_back} back"
        case Disturbed():
            return out_words(event.part)
        case Described():
            return described_words(event)
        case Refused():
            return f"Cannot be moved: {named(event.part)}{f' ({event.axis})' if event.axis else ''}"
        case Mended():
            return f"Seen to, go on: {event.cause}"
        case Best():
            return f"Align to the best that can be had: {event.cause}"
        case Finish():
            return "Finished"
        case Arrive() | Pulse() | Mark() | Miss() | Amend():
            return _mark_words(event, wording)
        case Plan() | Turn() | Shift() | Lock():
            return _adjusting_words(event, wording)
        case Answer() | Check() | Cut() | SheetLaid() | Care() | Baseline():
            return visit_words(event, wording)
        case HeadPulse() | BedMark() | NozzleMark() | Pointer():
            return below_head_words(event, wording)
        case Begin() | End() | Skip() | Item():
            return part_words(event)
        case _:
            assert_never(event)


def _mark_words(event: Arrive | Pulse | Mark | Miss | Amend, wording: Wording) -> str:
    match event:
        case Arrive():
            setting = setting_words(event.ms, event.power, event.layers)
            return (
                f"At {event.station}, set otherwise: {setting}" if setting else f"Head at {event.station}, fresh tape"
            )
        case Pulse():
            seen = OUTCOMES[event.outcome] + SHAPES[event.shape]
            return f"Pulse at {event.station}: {seen}{setting_words(event.ms, event.power, event.layers, ' with ')}"
        case Mark():
            kept = ", kept although questioned" if event.kept else ""
            whole = SHAPES[event.shape]
            return f"Mark at {event.station}: {wording.place(event.u, event.v)}{whole}{kept}"
        case Miss():
            return f"Missed the tape at {event.station}"
        case Amend():
            return f"Entry {event.of} corrected: {wording.place(event.u, event.v)}"
        case _:
            assert_never(event)


def _adjusting_words(event: Plan | Turn | Shift | Lock, wording: Wording) -> str:
    match event:
        case Plan():
            return "Set out to adjust"
        case Turn():
            turned = ", ".join(f"{name} {turn_words(amount, wording)}" for name, amount in event.screws.items())
            return f"Mirror {event.mirror}: {turned}"
        case Shift():
            return f"{event.part.capitalize()} moved {shift_words(event, wording)}"
        case Lock():
            return f"Lock nuts of mirror {event.mirror} tightened"
        case _:
            assert_never(event)


def entries_listed(events: tuple[Event, ...]) -> list[tuple[Event, EntryState]]:
    """Everything a person entered, in order, with how it stands now."""
    counting = {event.id for event in effective(events)}
    corrected = {event.of for event in events if isinstance(event, Amend) and event.id in counting}

    def state(event: Event) -> EntryState:
        if event.id in corrected:
            return "corrected since"
        return "counts" if event.id in counting or isinstance(event, Undo) else "taken back"

    return [(event, state(event)) for event in events if not isinstance(event, Opened)]


def doing_words(events: tuple[Event, ...]) -> str:
    """What a session that counts these events was in the middle of."""
    for event in reversed(events):
        match event:
            case Pulse(outcome="mark"):
                return f"measuring {event.station}"
            case Pulse() | Arrive():
                return f"pulse at {event.station}"
            case Mark() | Miss():
                return f"after the mark at {event.station}"
            case HeadPulse() | BedMark() | NozzleMark() | Pointer():
                return "lens and nozzle"
            case Plan() | Turn() | Shift() | Lock():
                return "adjusting"
            case Answer() | Check() | Cut() | SheetLaid() | Care() | Baseline():
                if doing := visit_doing(event):
                    return doing
            case Begin() | End() | Skip() | Item():
                return f'at the part "{event.part}"'
            case Opened() | Gate() | Disturbed() | Described() | Refused() | Mended() | Best() | Amend() | Note():
                continue
            case Finish() | Undo():
                continue
            case _:
                assert_never(event)
    return "at the beginning"


def when_words(when: datetime, now: datetime) -> str:
    """A time as people say it: "today 21:14", "yesterday 21:14", "3 March 21:14"."""
    days = (now.astimezone().date() - when.astimezone().date()).days
    local = when.astimezone()
    if days in (0, 1):
        return f"{'yesterday' if days else 'today'} {local:%H:%M}"
    year = f" {local.year}" if local.year != now.astimezone().year else ""
    return f"{local.day} {local:%B}{year} {local:%H:%M}"
