"""A sheet in lines: written to be printed, or typed in tape by tape with the questions of measuring."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import cast

from coach.errors import CoachError, InputError
from coach.files import write_new
from coach.machine import Machine
from coach.plain.cautions import caution_lines
from coach.plain.measuring import measure
from coach.plain.talk import Back, Talk, numbered
from coach.session.session import Session
from coach.steps import dosing
from coach.steps.entries import entry_words
from coach.steps.table import cautions_for
from coach.worksheet.html import html
from coach.worksheet.into import OWN, begun_alone, begun_in, half_typed, sessions_for
from coach.worksheet.sheet import sheet_of
from coach.worksheet.typed_in import Row, Seen, TypedIn
from coach.worksheet.words import (
    ABOUT,
    DAY_LEAD,
    DOSE_LEAD,
    ENOUGH,
    day_row,
    dose_row,
    dose_said,
    row_lines,
    row_words,
    seen_question,
    seen_rows,
)


def on_paper(talk: Talk, folder: Path, machine: Path, begun: Callable[[Session], None]) -> Path | None:
    """Write a sheet, or type one in; the session to go on in, if that is wanted.  Raises CoachError, Back, Ended.

    `begun` is told into which session one is typed, before anything is.
    """
    options = numbered((("print", "Write a worksheet to print"), ("type", "Type a worksheet in")))
    described = Machine.load(machine)
    if talk.choose("Which one?", options, 1) == "print":
        _write(talk, described, f"{machine.stem}-worksheet.html")
        return None
    sheet = _sheet(talk, folder, described)
    begun(sheet.session)
    SheetDesk(talk, sheet).run()
    return sheet.session.path


def _write(talk: Talk, machine: Machine, usual: str) -> None:
    path = Path(talk.ask(f"To which file? Enter alone is {usual}, in the folder you are in.", usual)).expanduser()
    write_new(path, html(sheet_of(machine, datetime.now().astimezone().date(), talk.wording)))
    talk.say(f"The worksheet is in {path}. A browser prints it.")


def _sheet(talk: Talk, folder: Path, machine: Machine) -> TypedIn:
    """Into an open session, where it goes on as it was left, or into one of its own."""
    offered = sessions_for(folder, machine.name)
    rows = {f"into {place}": into for place, into in enumerate(offered)}
    options = numbered([*((key, into.label) for key, into in rows.items()), ("own", OWN)])
    chosen = talk.choose("Into which session?", options, 1) if offered else "own"
    if chosen == "own":
        return _begun(talk, machine, folder)
    half = half_typed(rows[chosen].path)
    return half if half is not None else _begun_in(talk, rows[chosen].path)


def _begun(talk: Talk, machine: Machine, folder: Path) -> TypedIn:
    while True:
        try:
            return begun_alone(machine, folder, talk.ask(f"{DAY_LEAD} Enter alone is today.", "today"))
        except InputError as error:
            talk.say(str(error))


def _begun_in(talk: Talk, path: Path) -> TypedIn:
    while True:
        try:
            return begun_in(path, talk.ask(f"{DAY_LEAD} Enter alone is today.", "today"))
        except InputError as error:
            talk.say(str(error))


class SheetDesk:
    """Leads through the tapes of one sheet until the person goes on in the session."""

    def __init__(self, talk: Talk, sheet: TypedIn) -> None:
        self._talk, self._sheet = talk, sheet

    def run(self) -> None:
        """Offer the tapes, the next one first.  Raises Back, Home, Quit and Ended."""
        talk = self._talk
        talk.say(ABOUT, *caution_lines(cautions_for("measure")))
        while True:
            rows, following = self._sheet.rows(), self._sheet.following()
            own = {"dose": dose_row(self._sheet), "day": day_row(self._sheet), "undo": "Take the last entry back"}
            listed = [(f"tape {row.blank.number}", row_words(row, talk.wording)) for row in rows]
            options = numbered([*listed, *own.items(), ("enough", ENOUGH)])
            talk.gap()
            at = rows.index(following) + 1 if following is not None else len(options)
            chosen = talk.choose("Which one?", options, at)
            if chosen == "enough":
                return
            acts = {"dose": self._dose, "day": self._day, "undo": self._undo}
            acts |= {f"tape {row.blank.number}": partial(self._tape, row) for row in rows}
            try:
                acts[chosen]()
            except Back:
                talk.say("Back at the sheet.")
            except CoachError as error:
                talk.say(f"Not entered. {error}")

    def _tape(self, row: Row) -> None:
        """What is on it, then its mark.  Raises CoachError, Back and Ended."""
        if row.stands not in ("waits", "typed"):
            self._talk.say(*row_lines(row, self._talk.wording))
            seen = cast(Seen, self._talk.choose(seen_question(row), numbered(seen_rows()), 1))
            self._sheet.say(row, seen)
            row = next(each for each in self._sheet.rows() if each.blank.number == row.blank.number)
        if row.stands in ("waits", "typed"):
            measure(self._talk, self._sheet.session, self._sheet.purpose(row), None)
            self._talk.say(f"Saved. {entry_words(self._sheet.session.effective[-1], self._talk.wording)}.")
        else:
            self._talk.say(f"Saved. {row_words(row, self._talk.wording)}.")

    def _dose(self) -> None:
        self._talk.say(DOSE_LEAD)
        names = dosing.dose_fields(self._sheet.session.machine.pulse)
        stands = self._sheet.dose
        typed = {
            name: self._talk.ask(f"{dosing.LABELS[name]}?{_kept(stands, name)}", stands.get(name, ""))
            for name in names
        }
        self._sheet.set_dose(typed)
        self._talk.say(dose_said(typed))

    def _day(self) -> None:
        self._sheet.set_day(self._talk.ask(DAY_LEAD, self._sheet.day.isoformat()))
        self._talk.say(f"{day_row(self._sheet)}.")

    def _undo(self) -> None:
        self._talk.say(f"Taken back: {entry_words(self._sheet.undo(), self._talk.wording)}.")


def _kept(stands: dict[str, str], name: str) -> str:
    return f" Enter alone keeps {stands[name]}." if name in stands else " Enter alone: not known."
