"""A sheet that is typed in: how each of its blanks stands, and how what was written becomes entries.

The entries are those of measuring, a pulse and its mark, with the day on which they were made.  What is not yet an
entry (the day, the dose, which tapes were left empty, half a measurement) is the session's draft, so that nothing is
asked twice after the program ended in between.
"""

import contextlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal, Self

from coach.advice.advice import Shot
from coach.errors import CoachError, InputError, NothingToUndo
from coach.machine import Machine
from coach.reading.entries import METHOD, manner_from
from coach.reading.model import Reading
from coach.session.events import Amend, Event, Gate, Mark, Miss, Note, Opened, Outcome, Pulse, Shape
from coach.session.kept import now
from coach.session.moments import moment_of
from coach.session.session import Session
from coach.session.spots import dose, spot
from coach.session.visit_events import Baseline
from coach.steps.dosing import read_dose
from coach.steps.measuring import as_entered, tape_of
from coach.steps.purpose import Purpose, for_mark, width_before
from coach.upkeep.typed import typed_day
from coach.worksheet.blanks import Blank, blanks_of
from coach.worksheet.made import ADJUSTING, MADE, checked_made, last_made

Seen = Literal["mark", "not-whole", "double", "nothing", "mount", "empty"]
"""What is said of a tape: as at the machine after a pulse, but for flames, and that it was left empty."""
Stands = Literal["open", "waits", "typed", "other", "empty"]
"""Nothing said; a mark that is not measured yet; a mark; no mark, or two; left empty."""
PULSES: Mapping[Seen, tuple[Outcome, Shape]] = {
    "mark": ("mark", "round"),
    "not-whole": ("mark", "cut"),
    "double": ("double", "round"),
    "nothing": ("nothing", "round"),
    "mount": ("mount", "round"),
}
DAY, EMPTY, SAID = "sheet-day", "sheet-empty", "sheet-"
"""In the draft: the day, the numbers of the tapes that were left empty, and how all that is the sheet's begins."""
DOSE = ("ms", "power", "layers")
UNASKED = (Gate, Opened, Baseline, Note)


@dataclass(frozen=True)
class Row:
    """One blank, and how it stands."""

    blank: Blank
    stands: Stands
    event: Mark | Miss | Pulse | None = None


class TypedIn:
    """The typing in of one sheet into one session; every entry is on disk before its method returns."""

    def __init__(self, session: Session, day: date, dose: Mapping[str, str], empty: frozenset[int]) -> None:
        self.session, self.day, self.dose, self._empty = session, day, dict(dose), empty
        self.blanks = blanks_of(session.machine, session.created.date())

    @classmethod
    def begin(cls, session: Session, day: date) -> Self:
        """Of a session in which nothing of a sheet was typed yet.  Raises Unwritable."""
        pulse = session.machine.pulse
        known = {"ms": pulse.ms, "power": pulse.power}
        dose = {name: f"{value:g}" for name, value in known.items() if value is not None}
        begun = cls(session, day, dose, frozenset())
        begun._keep()
        return begun

    @classmethod
    def resumed(cls, session: Session) -> Self | None:
        """As it was left; None where no sheet is being typed into that session."""
        draft = session.draft
        if DAY in draft:
            dose = {name: draft[f"{SAID}{name}"] for name in DOSE if f"{SAID}{name}" in draft}
            empty = frozenset(int(each) for each in draft.get(EMPTY, "").split() if each.isdigit())
            with contextlib.suppress(InputError):  # a hand edit
                read_dose(dose)
                return cls(session, typed_day(draft[DAY], now().date()), dose, empty)
        day = last_made(session)
        return cls(session, day, _dose_before(session), frozenset()) if day is not None else None

    # how it stands

    def rows(self) -> tuple[Row, ...]:
        """Every blank of the sheet, in its order."""
        return tuple(self._row(blank) for blank in self.blanks)

    def following(self) -> Row | None:
        """The first blank that waits for something; None where there is none."""
        return next((row for row in self.rows() if row.stands in ("open", "waits")), None)

    def _row(self, blank: Blank) -> Row:
        event = next((e for e in reversed(list(self._since())) if _there(e, blank.shot)), None)
        match event:
            case Mark():
                return Row(blank, "typed", event)
            case Pulse(outcome="mark"):
                return Row(blank, "waits", event)
            case Pulse() | Miss():
                return Row(blank, "other", event)
        return Row(blank, "empty" if blank.number in self._empty else "open")

    def _since(self) -> Iterator[Mark | Miss | Pulse]:
        """What was marked since the last adjustment: before it the same tapes were others."""
        counting = self.session.effective
        last = max((place for place, event in enumerate(counting) if isinstance(event, ADJUSTING)), default=-1)
        yield from (event for event in counting[last + 1 :] if isinstance(event, Mark | Miss | Pulse))

    # what is said

    def say(self, row: Row, seen: Seen) -> None:
        """What is on a tape; a mark is measured afterwards.  Raises CoachError."""
        if seen == "empty":
            self._empty |= {row.blank.number}
            self._keep()
            return
        outcome, shape = PULSES[seen]
        self._empty -= {row.blank.number}
        self._keep()
        shot = replace(row.blank.shot, **read_dose(self.dose))
        self.session.pulse(shot, outcome, shape, at=moment_of(self.day, now()))

    def set_dose(self, typed: Mapping[str, str]) -> None:
        """With what the tapes were pulsed that are typed in from now on.  Raises CoachError."""
        read_dose(typed)
        self.dose = {name: text.strip() for name, text in typed.items() if text.strip()}
        self._keep()

    def set_day(self, text: str) -> None:
        """When the tapes were made that are typed in from now on.  Raises CoachError."""
        self.day = checked_made(text, self.session)
        self._keep()

    def purpose(self, row: Row) -> Purpose:
        """The mark of a blank, to be measured, or to be measured again."""
        match row.event:
            case Mark():
                return self._again(row.event)
            case Pulse(outcome="mark"):
                return self._first(row.event, row.blank.shot)
        raise ValueError(f"blank {row.blank.number} has no mark")

    def _again(self, mark: Mark) -> Purpose:
        again = for_mark(self.session, mark)

        def save(reading: Reading) -> None:
            again.save(replace(reading, typed={**reading.typed, MADE: mark.typed.get(MADE, self.day.isoformat())}))
            self._keep_quietly()

        return replace(again, start={**self._said(), **again.start}, save=save)

    def _first(self, pulse: Pulse, shot: Shot) -> Purpose:
        key, draft, session = f"pulse {pulse.id}", self.session.draft, self.session

        def save(reading: Reading) -> None:
            entered = as_entered(reading)
            entered["typed"] = {**entered["typed"], MADE: self.day.isoformat()}
            session.mark(pulse.station, **spot(pulse), **dose(pulse), shape=pulse.shape, at=pulse.at, **entered)
            self._keep_quietly()

        measured = [e for e in session.events if isinstance(e, Mark | Amend) and e.typed]
        fields = "gaps" if tape_of(session.machine, shot).opening is not None else "offsets"
        start = {METHOD: fields, **width_before(session), **(manner_from(measured[-1].typed) if measured else {})}
        stands = draft if draft.get("for") == key else {"for": key, **start}
        return Purpose(key, shot, {**self._said(), **stands}, pulse.id, save)

    def undo(self) -> Event:
        """Take the newest entry back where it is about a mark; returns it.  Raises NothingToUndo."""
        newest = next((e for e in reversed(self.session.effective) if not isinstance(e, UNASKED)), None)
        if not isinstance(newest, Mark | Miss | Pulse | Amend):
            raise NothingToUndo("Nothing of a sheet was typed in here that could be taken back.")
        taken = self.session.undo(newest.id)
        self._keep()
        return taken

    # on disk

    def _said(self) -> dict[str, str]:
        dose = {f"{SAID}{name}": text for name, text in self.dose.items()}
        empty = {EMPTY: " ".join(map(str, sorted(self._empty)))} if self._empty else {}
        return {DAY: self.day.isoformat(), **dose, **empty}

    def _keep(self) -> None:
        """Keep what is said of the sheet, beside what is being typed for a mark.  Raises Unwritable."""
        rest = {name: text for name, text in self.session.draft.items() if not name.startswith(SAID)}
        self.session.keep_draft({**rest, **self._said()})

    def _keep_quietly(self) -> None:
        """After an entry that stands: what was said of the sheet would be asked again, and nothing else is lost."""
        with contextlib.suppress(CoachError):
            self._keep()


def _there(event: Mark | Miss | Pulse, shot: Shot) -> bool:
    return (event.x, event.y, event.target, event.wide) == (shot.x, shot.y, shot.target, shot.wide)


def _dose_before(session: Session) -> dict[str, str]:
    """The dose of the newest mark."""
    mark = next((event for event in reversed(session.effective) if isinstance(event, Mark)), None)
    values = {name: getattr(mark, name) for name in DOSE} if mark else {}
    return {name: f"{value:g}" for name, value in values.items() if value is not None}


def begun_for(machine: Machine, day: date) -> Session:
    """A new session of that day, to type a sheet into; in memory only."""
    return Session.start(machine, created=moment_of(day, now()))
