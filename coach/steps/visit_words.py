"""The entries around the beam's path in a few words: answers, checks, cuts, cleaning."""

from typing import assert_never

from coach.session.visit_events import Answer, Baseline, Care, Check, Cut, SheetLaid
from coach.shown import Wording, day_words
from coach.triage.figures import CALLED, FIGURES
from coach.triage.questions import question

PART_LEAD = "A part can be gone to at any time, and again."
ALONE = "This session is about the beam's path alone; a visit with other parts begins on the first screen"
VisitEvent = Answer | Check | Cut | SheetLaid | Care | Baseline


def visit_words(event: VisitEvent, wording: Wording) -> str:
    """One entry in a few words, beginning with a capital."""
    match event:
        case Answer():
            return f"{question(event.question).asks} {event.answer.capitalize()}"
        case Check():
            figures = ", ".join(_figure(event, key, wording) for key in event.figures)
            return f"Checked {event.name}: {event.result}{f' ({figures})' if figures else ''}"
        case Cut():
            return f"Cut{', warm,' if event.warm else ''} at {event.station}: {_speeds(event)} ({event.material})"
        case SheetLaid():
            power = f" at {event.power:g} %" if event.power is not None else ""
            return f"Sheet laid in: {event.material}{power}"
        case Care():
            return f"{event.optic.capitalize()}: {event.result}{', was taken out' if event.taken_out else ''}"
        case Baseline():
            if event.marks:
                return f"Compared with the marks of {day_words(max(mark.on for mark in event.marks))}"
            if event.cuts is None:
                return f"The tube's usual current: {event.current:g} mA"
            return f"Compared with the cuts of {day_words(event.cuts.on)} ({event.cuts.material})"
        case _:
            assert_never(event)


def _figure(event: Check, key: str, wording: Wording) -> str:
    figure, value = FIGURES[event.name][key], event.figures[key]
    amount = wording.exact(value) if figure.unit == "mm" else f"{value:g} {figure.unit}"
    return f"{CALLED[key]} {amount}"


def _speeds(cut: Cut) -> str:
    if cut.fastest is None:
        return f"none fell through from {cut.next:g} mm/s on"
    if cut.next is None:
        return f"all fell through up to {cut.fastest:g} mm/s"
    return f"through at {cut.fastest:g}, not at {cut.next:g} mm/s"


def visit_doing(event: VisitEvent) -> str:
    """What a session was in the middle of at this entry; "" where it was at nothing by it."""
    match event:
        case Answer():
            return "what changed"
        case Check():
            return f"checked {event.name}"
        case Cut():
            return f"cut check, {event.station}"
        case SheetLaid():
            return "cut check"
        case Care():
            return f"cleaning, {event.optic}"
        case Baseline():
            return ""
        case _:
            assert_never(event)
