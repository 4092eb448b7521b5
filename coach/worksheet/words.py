"""What is said while a sheet is typed in."""

from collections.abc import Mapping
from typing import assert_never

from coach.shown import UNIT_WORDS, Wording, day_words
from coach.steps.dosing import read_dose
from coach.steps.entries import entry_words
from coach.steps.stages.marks import OUTCOMES
from coach.steps.words import setting_words, where_from, where_words
from coach.worksheet.typed_in import PULSES, Row, Seen, TypedIn

DAY_LEAD = "On which day were the marks made? They count as of that day: 2026-03-01, today or yesterday."
DOSE_LEAD = "With what the tapes were pulsed, as the sheet says; empty where nobody knows. It counts from here on."
LEFT_EMPTY = "Left empty: nothing to type in"
ABOUT = "A sheet's tapes in its order. What is typed here is kept as what measuring enters; nothing is fired."
ENOUGH = "That is all: go on in the session"


def seen_rows() -> tuple[tuple[Seen, str], ...]:
    """What can be said of a tape, as at the machine."""
    labels: dict[str, str] = {choice.key: choice.label for choice in OUTCOMES}
    return (*((seen, labels[seen]) for seen in PULSES), ("empty", LEFT_EMPTY))


def seen_question(row: Row) -> str:
    """What is asked of a tape."""
    return f"What is on tape {row.blank.number}, {row.blank.shot.name}?"


def row_words(row: Row, wording: Wording) -> str:
    """A blank and how it stands, in one line."""
    shot = row.blank.shot
    return f"{shot.name}{', wide card' if shot.wide else ''}: {_stands_words(row, wording)}"


def _stands_words(row: Row, wording: Wording) -> str:
    match row.stands:
        case "open":
            return "to be typed in"
        case "waits":
            return "a mark, not measured yet"
        case "empty":
            return "left empty"
        case "typed" | "other":
            assert row.event is not None
            said = entry_words(row.event, wording)
            return said.partition(": ")[2] or "missed its target"
        case _:
            assert_never(row.stands)


def row_lines(row: Row, wording: Wording) -> tuple[str, ...]:
    """Where that tape was pulsed, and from where it is measured."""
    shot = row.blank.shot
    where = where_words(shot, wording)
    return (f"{where[:1].upper()}{where[1:]}.", f"Measured is {where_from(shot)}, in {UNIT_WORDS[wording.unit]}.")


def day_row(sheet: TypedIn) -> str:
    """The day, as a row."""
    return f"Made on {day_words(sheet.day)}"


def dose_row(sheet: TypedIn) -> str:
    """The dose, as a row."""
    return f"Pulse: {setting_words(**read_dose(sheet.dose)) or 'not known'}"


def dose_said(typed: Mapping[str, str]) -> str:
    """What was understood of a dose.  Raises InputError."""
    return f"Understood: {setting_words(**read_dose(typed)) or 'not known'}."
