"""What was read and done as tables of plain values, for other programs: units stand in the columns' names.

Lengths are in mm and in the machine's frames, whatever the person likes to read; times are ISO 8601 with their
offset.  A value is a number, a text, yes or no, or None where it was not entered.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from coach.report.so_far import finished
from coach.session.events import Amend, Event, Lock, Mark, Miss, Pulse, Shift, Turn
from coach.session.head_events import BedMark, NozzleMark, Pointer
from coach.session.replay import sighting_of
from coach.session.session import Session
from coach.session.visit_events import Check, Cut
from coach.steps.entries import EntryState, entries_listed
from coach.triage.figures import FIGURES

Value = str | float | int | bool | None
Row = dict[str, Value]
VERSION = 1
"""Of the columns; it grows when one changes its meaning or goes."""
COMMON = ("entry", "time", "state")
COLUMNS: Mapping[str, tuple[str, ...]] = {
    "readings": (
        *COMMON, "kind", "station", "target", "head_x_mm", "head_y_mm", "right_mm", "up_mm", "back_mm", "doubt_mm",
        "width_mm", "shape", "lens_in", "bed_lowered_mm", "pulse_ms", "power_percent", "tape_layers", "wide_card",
        "kept_although_questioned", "corrects_entry", "typed",
    ),
    "adjustments": (*COMMON, "kind", "part", "screw", "turns_clockwise", "right_mm", "up_mm", "back_mm", "typed"),
    "cuts": (
        *COMMON, "station", "fastest_through_mm_per_s", "next_not_through_mm_per_s", "material", "power_percent"
    ),
    "checks": (*COMMON, "check", "result", "figure", "value", "unit"),
}  # fmt: skip
"""Of each table, in their order."""


def tables(session: Session) -> dict[str, list[Row]]:
    """Every table with its rows, each row with all of its table's columns."""
    listed = tuple(entries_listed(session.events))
    makers: dict[str, Callable[[Session, Event], Iterator[Row]]] = {
        "readings": _readings, "adjustments": _adjustments, "cuts": _cuts, "checks": _checks
    }  # fmt: skip
    return {
        name: [
            dict.fromkeys(COLUMNS[name]) | _common(event, state) | row
            for event, state in listed
            for row in make(session, event)
        ]
        for name, make in makers.items()
    }


def document(session: Session) -> dict[str, Any]:
    """The tables and whose they are, as JSON has them."""
    about: Row = {
        "title": session.title,
        "machine": session.machine.name,
        "begun": session.created.astimezone().isoformat(timespec="seconds"),
        "finished": finished(session),
        "practice": session.practice is not None,
    }
    return {"version": VERSION, "session": about, **tables(session)}


def _common(event: Event, state: EntryState) -> Row:
    return {"entry": event.id, "time": event.at.astimezone().isoformat(timespec="seconds"), "state": state}


def _typed(typed: Mapping[str, str]) -> str | None:
    return "; ".join(f"{name} {text}" for name, text in typed.items()) or None


def _readings(session: Session, event: Event) -> Iterator[Row]:
    match event:
        case Mark():
            sd = sighting_of(event, session.belief.tuning).sd
            read: Row = {"right_mm": event.u, "up_mm": event.v, "doubt_mm": sd, "width_mm": event.width}
            more: Row = {"shape": event.shape, "kept_although_questioned": event.kept, "typed": _typed(event.typed)}
            yield {"kind": "mark", **_fired(event), **read, **more}
        case Miss():
            yield {"kind": "missed", **_fired(event)}
        case Pulse() if event.outcome != "mark":
            yield {"kind": event.outcome, **_fired(event)}
        case Amend():
            read = {"right_mm": event.u, "up_mm": event.v, "doubt_mm": event.sd, "width_mm": event.width}
            more = {"kept_although_questioned": event.kept, "typed": _typed(event.typed)}
            yield {"kind": "correction", "corrects_entry": event.of, **read, **more}
        case BedMark() | NozzleMark() | Pointer():
            yield _below(event)


def _fired(event: Mark | Miss | Pulse) -> Row:
    return {
        "station": event.station,
        "target": event.target,
        "head_x_mm": event.x,
        "head_y_mm": event.y,
        "pulse_ms": event.ms,
        "power_percent": event.power,
        "tape_layers": event.layers,
        "wide_card": event.wide,
    }


def _below(event: BedMark | NozzleMark | Pointer) -> Row:
    flat: Row = {"right_mm": event.right, "back_mm": event.back, "typed": _typed(event.typed)}
    match event:
        case BedMark():
            return {"kind": "bed mark", "doubt_mm": event.sd, "lens_in": event.lens,
                    "bed_lowered_mm": event.lowered, **flat}  # fmt: skip
        case NozzleMark():
            return {"kind": "nozzle mark", "doubt_mm": event.sd, "shape": "cut" if event.cut else "round", **flat}
        case Pointer():
            return {"kind": "pointer", "bed_lowered_mm": event.lowered, **flat}


def _adjustments(session: Session, event: Event) -> Iterator[Row]:
    match event:
        case Turn():
            for screw, turns in event.screws.items():
                yield {"kind": "turn", "part": f"mirror {event.mirror}", "screw": screw, "turns_clockwise": turns,
                       "typed": _typed(event.typed)}  # fmt: skip
        case Shift():
            yield {"kind": "move", "part": event.part, "right_mm": event.right, "up_mm": event.up,
                   "back_mm": event.back, "typed": _typed(event.typed)}  # fmt: skip
        case Lock():
            yield {"kind": "lock nuts tightened", "part": f"mirror {event.mirror}"}


def _cuts(session: Session, event: Event) -> Iterator[Row]:
    if isinstance(event, Cut):
        yield {"station": event.station, "fastest_through_mm_per_s": event.fastest,
               "next_not_through_mm_per_s": event.next, "material": event.material,
               "power_percent": event.power}  # fmt: skip


def _checks(session: Session, event: Event) -> Iterator[Row]:
    """One row for every figure; one without where there is none."""
    if isinstance(event, Check):
        said: Row = {"check": event.name, "result": event.result}
        for key, value in event.figures.items():
            yield {**said, "figure": key, "value": value, "unit": FIGURES[event.name][key].unit}
        if not event.figures:
            yield said
