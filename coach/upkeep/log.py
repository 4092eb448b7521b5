"""A machine's log of upkeep: what was done when, how long the machine was used, and what is due.

`MachineLog` is part of the public Python interface (docs/guide.md).  Like a session it stores what happened and
computes the rest; what visits did is read from their sessions (`coach.upkeep.visited`).
"""

import contextlib
from collections.abc import Iterable, Mapping
from contextlib import AbstractContextManager, nullcontext
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from pydantic import ValidationError

from coach import files
from coach.errors import InputError, NothingToUndo
from coach.machine import Machine
from coach.paths import data_folder
from coach.session.document import Document
from coach.session.events import Undo
from coach.session.kept import now
from coach.session.store import Store, Visits, visits_among
from coach.steps.stored import Stored, stored
from coach.upkeep import document
from coach.upkeep.document import LogDocument, path_of
from coach.upkeep.entries import Counted, Done, Entry, Every, counting
from coach.upkeep.items import Item, item_called
from coach.upkeep.standing import Standing, due_first, items_of, standings
from coach.upkeep.use import checked_day, checked_reading, reading_of, readings, used_until
from coach.upkeep.visited import VISITED, Visited, visited, visited_by

if TYPE_CHECKING:  # what is due is known without what reckons
    from coach.steps.moved import Comparison


class MachineLog:
    """What was done to keep one machine well, and what is due."""

    def __init__(self, doc: LogDocument, *, path: Path | None = None, sessions: Iterable[Document] = (),
                 visits: tuple[Visited, ...] | None = None, described: date | None = None) -> None:  # fmt: skip
        """`sessions`: those on the machine among them count as visits; `visits`: what they did, if known.

        `described`: from when the machine is known, as far as files tell.
        """
        self._described = described
        self._doc, self._path = doc, path
        self._sessions = sessions if isinstance(sessions, Visits) else tuple(sessions)
        self._visits = visited(self._sessions, doc.machine) if visits is None else visits
        self._stamp: files.Stamp | None = None

    # -- making, loading, saving ------------------------------------------------------------------

    @classmethod
    def start(cls, machine: Machine | str) -> Self:
        """A new log, in memory only until `save`.  Raises InputError for an unusable name."""
        name = machine if isinstance(machine, str) else machine.name
        try:
            return cls(LogDocument(machine=name))
        except ValidationError as error:
            raise InputError(files.explain(error)) from None

    @classmethod
    def load(cls, path: Path | str) -> Self:
        """The log in a file, in memory from then on.  Raises Unreadable with the line and the reason."""
        return cls(document.read(Path(path)))

    @classmethod
    def open(
        cls, machine: Machine | str, folder: Path | str | None = None, sessions: Iterable[Document] | None = None
    ) -> Self:
        """That machine's log in the data folder, a new one where there is none; from now on kept there.

        `folder`: left out, the person's own.  `sessions`: those on the machine among them count as visits; left out,
        they are read from the folder, those that cannot be read left aside.  Nothing is written before the first
        entry.  Raises Unreadable for a log that cannot be read, which is left as it is.
        """
        name = machine if isinstance(machine, str) else machine.name
        root = Path(folder) if folder is not None else data_folder()
        if sessions is None:
            return cls.among(name, root, stored(root, (VISITED,)))
        known = tuple(sessions)
        begun = [each.created for each in known if each.machine.name == name and each.practice is None]
        log = cls(
            cls.start(name)._doc, path=path_of(root, name), sessions=known, described=first_known(root, name, begun)
        )
        log._catch_up()
        return log

    @classmethod
    def among(cls, machine: str, folder: Path, found: Stored) -> Self:
        """That machine's log, as `open` gives it, where the folder was asked for `VISITED` already."""
        visits = visited_by(found.facts, machine)
        sessions = visits_among(found.sessions, machine)
        mine = (each.content for each in found.sessions if each.content)
        begun = [each.created for each in mine if each.machine.name == machine and each.practice is None]
        log = cls(cls.start(machine)._doc, path=path_of(folder, machine), sessions=sessions, visits=visits,
                  described=first_known(folder, machine, begun))  # fmt: skip
        log._catch_up()
        return log

    def save(self, path: Path | str) -> None:
        """Write the log to a file, atomically.  Raises Unwritable."""
        files.write_toml(Path(path), document.to_table(self._doc))

    # -- what is known ----------------------------------------------------------------------------

    @property
    def machine(self) -> str:
        """The machine's name."""
        return self._doc.machine

    @property
    def path(self) -> Path | None:
        """The file that follows this log, if any."""
        return self._path

    @property
    def events(self) -> tuple[Entry, ...]:
        """Everything that was entered, undone entries included."""
        return self._doc.events

    @property
    def last(self) -> Done | Counted | Every | None:
        """The newest entry that counts, which `undo` would take back."""
        return next(reversed(counting(self.events)), None)

    @property
    def items(self) -> tuple[Item, ...]:
        """Every item with this machine's interval: `.name`, `.title`, `.do`, `.cautions`, `.days`, `.hours`,
        `.source`."""
        return items_of(counting(self.events))

    def standing(self, today: date | None = None) -> tuple[Standing, ...]:
        """How every item stands on a day (left out: today), in the order of `items`; later entries are left out."""
        return standings(counting(self.events), self._visits, today or _today(), self.since)

    @property
    def since(self) -> date | None:
        """From when what was never noted is counted: when the machine was described, as far as that is known."""
        known = [self._described, self.events[0].at.date() if self.events else None]
        return min((day for day in known if day is not None), default=None)

    def due(self, today: date | None = None) -> tuple[Standing, ...]:
        """What is due on a day (left out: today): what is latest by its interval first.

        Each has `.item`, `.last` (None: never noted, and due since the machine was described), `.days_over`,
        `.hours_over`.
        """
        return due_first(self.standing(today))

    def hours(self, today: date | None = None) -> float | None:
        """What the counter of hours showed last by that day; None where nobody read it."""
        read = [reading for reading in readings(counting(self.events)) if reading.on <= (today or _today())]
        return read[-1].hours if read else None

    def used(self, today: date | None = None) -> float | None:
        """Hours of use from the first reading to the last by that day, over all counters; None without a reading."""
        return used_until(readings(counting(self.events)), today or _today())

    def check_up(self) -> "Comparison | None":
        """Whether the newest visit's marks lie where those of the last finished one before it lay, and where not.

        None without two such visits.  `.verdict` is "as it was", "moved", "one mark" (it alone lies elsewhere: mark
        it again) or "too few"; `.stations` has `.right`, `.up` and their doubt `.sd`, mm; `.moved` those that are
        more than chance; `.since` the day of the marks before.
        """
        from coach.steps.moved import since_last_visit

        return since_last_visit(self._sessions, self.machine)

    # -- entering ---------------------------------------------------------------------------------

    def done(self, item: str, *, hours: float | None = None, on: date | None = None, note: str = "") -> None:
        """An item was done, today or `on` another day; `hours`: what the counter showed.

        Raises UnknownName, InputError for a day in the future, OutOfReach for hours that run backwards or faster
        than days, Unwritable.
        """
        known = item_called(item).name
        self._add(Done, item=known, on=on or _today(), hours=hours, note=" ".join(note.split()))

    def count(self, hours: float, *, on: date | None = None, anew: bool = False) -> None:
        """The counter of hours of use shows `hours`, today or `on` another day; `anew`: it is a new counter.

        Raises InputError for a day in the future, OutOfReach for hours that run backwards or faster than days,
        Unwritable.
        """
        self._add(Counted, hours=hours, on=on or _today(), anew=anew)

    def every(self, item: str, *, days: int | None = None, hours: float | None = None) -> None:
        """On this machine an item is due every so many days, or hours of use, whichever comes first.

        Neither: the item is left out here.  Raises UnknownName, InputError, Unwritable.
        """
        self._add(Every, item=item_called(item).name, days=days, hours=hours)

    def undo(self) -> Done | Counted | Every:
        """Take the last entry back; returns it.  Raises NothingToUndo, Unwritable."""
        with self._alone():
            self._catch_up()
            last = self.last
            if last is None:
                raise NothingToUndo("Nothing was entered in this log that could be taken back.")
            self._add(Undo, takes_back=last.id)
            return last

    # -- inside -----------------------------------------------------------------------------------

    def _alone(self) -> AbstractContextManager[None]:
        """Nobody else writes between the look at the file and the entry.  Raises Unwritable."""
        return files.locked(self._path) if self._path is not None else nullcontext()

    def _catch_up(self) -> None:
        """Go on from what another program wrote meanwhile: entries only come on top.  Raises Unreadable."""
        if self._path is not None and (stamp := files.stamp(self._path)) not in (self._stamp, None):
            self._doc = document.read(self._path)
            self._stamp = stamp  # of before the reading: what is written in between must not be lost

    def _add(self, kind: type[Entry], **fields: Any) -> None:
        """Check, save, then remember one entry."""
        with self._alone():
            self._catch_up()
            self._write(self._with(kind, fields))

    def _with(self, kind: type[Entry], fields: Mapping[str, Any]) -> LogDocument:
        """The log with one more entry.  Raises InputError."""
        number = self.events[-1].id + 1 if self.events else 1
        try:
            entry = kind.model_validate({"id": number, "at": now(), **fields})
        except ValidationError as error:
            raise InputError(files.explain(error)) from None
        if isinstance(entry, Done | Counted):
            checked_day(entry.on, _today())
            if (new := reading_of(entry)) is not None:
                checked_reading(readings(counting(self.events)), new)
        return self._doc.model_copy(update={"events": (*self.events, entry)})

    def _write(self, doc: LogDocument) -> None:
        if self._path is not None:
            self._stamp = files.write_if_unchanged(self._path, document.to_table(doc), self._stamp)
        self._doc = doc


def first_known(folder: Path, machine: str, begun: Iterable[datetime]) -> date | None:
    """The first day of which files tell that a machine was there: its profile's, or its first session's."""
    path = Store(folder).machine_path(machine)
    times = [each.astimezone().date() for each in begun]
    with contextlib.suppress(OSError):
        times.append(datetime.fromtimestamp(path.stat().st_mtime).astimezone().date())
    return min(times, default=None)


def _today() -> date:
    return now().date()
