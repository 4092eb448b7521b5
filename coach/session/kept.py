"""A session's document, the file that follows it, and the belief that follows from its events.

Once `keep_in` named a file, every event is written before anything else happens: an entry that could not be saved
was not made.
"""

import os
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from pydantic import ValidationError

from coach import files
from coach.errors import InputError, Unreadable, Unwritable
from coach.machine import Machine
from coach.session import document
from coach.session.checks import checked_when
from coach.session.contradictions import contradictions
from coach.session.counting import Counting
from coach.session.described import Described, as_described
from coach.session.document import Document, Practice
from coach.session.events import EVENT, Amend, Event, Evidence, Gate, Note, Opened, Pulse, Undo
from coach.session.part_events import Begin, newest_part
from coach.session.store import Store
from coach.session.visit_events import Baseline

if TYPE_CHECKING:  # only what tells of the beam, or asks what is believed of it, needs what reckons
    from coach.belief.belief import Belief

TYPED_IN = "part"
"""In the draft of a visit: the part in which it was typed.  What is entered in another part does not end it."""
KEPT_BELIEFS = 8
"""So many of the newest events remember what was believed before them: enough for one plan and its retest."""


class Kept:
    """What happened, kept in a file, and the belief that it makes."""

    def __init__(self, doc: Document) -> None:
        self._doc = doc
        self._path: Path | None = None
        self._stamp: files.Stamp | None = None
        self._loaded: tuple[str, files.Stamp | None] | None = None
        self._machine: Machine | None = None
        self._counting = Counting()
        self._belief: Belief | None = None
        self._before: dict[int, Belief] = {}

    # -- making, loading, saving ------------------------------------------------------------------

    @classmethod
    def start(
        cls, machine: Machine, *, title: str = "", practice: Practice | None = None, created: datetime | None = None
    ) -> Self:
        """A new session, in memory only until `save` or `keep_in`; `created` earlier: it is typed in afterwards.

        Raises InputError for an unusable title, OutOfReach for a day that lies ahead.
        """
        today = now()
        begun = checked_when(created, created or today, today)
        try:
            return cls(Document(title=title or machine.name, created=begun, machine=machine, practice=practice))
        except ValidationError as error:
            raise InputError(files.explain(error)) from None

    @classmethod
    def load(cls, path: Path | str) -> Self:
        """The session in a file.  Raises Unreadable with the line and the reason."""
        file = Path(path)
        stamp = files.stamp(file)  # before reading: what is written in between must not be lost
        doc = document.read(file)
        problems = tuple(contradictions(doc, file))
        if problems:
            raise Unreadable(file, problems[0][1], problems[0][0], problems)
        session = cls(doc)
        session._loaded = os.path.realpath(file), stamp
        return session

    @classmethod
    def resume(cls, path: Path | str) -> Self:
        """The session in a file, from now on kept there; nothing is written before the next event.

        Raises Unreadable; a later method raises Unwritable when another program changed the file since.
        """
        session = cls.load(path)
        session._path = Path(path)
        session._stamp = session._loaded[1] if session._loaded else None
        return session

    def save(self, path: Path | str) -> None:
        """Write the session to a file, atomically.  Raises Unwritable."""
        files.write_toml(Path(path), document.to_table(self._doc))

    def keep_in(self, path: Path | str) -> None:
        """From now on every event is on disk, in this file, before its method returns.

        Raises Unwritable, also when the session was loaded from this file and another program changed it since.
        """
        file = Path(path)
        known = self._loaded is not None and self._loaded[0] == os.path.realpath(file)
        expected = self._loaded[1] if self._loaded and known else files.stamp(file)
        self._stamp = files.write_if_unchanged(file, document.to_table(self._doc), expected)
        self._path = file

    def keep_new(self, folder: Path | str) -> Path:
        """From now on every event is on disk before its method returns, in a new file of that data folder.

        Returns the file, which nobody else's new session shares.  Raises Unwritable.
        """
        table = document.to_table(self._doc)
        self._path, self._stamp = Store(Path(folder)).keep_new(self.title, self.created, table)
        return self._path

    # -- what is known ----------------------------------------------------------------------------

    @property
    def machine(self) -> Machine:
        """The machine's profile as it was when the session began, with what was described of its head since."""
        if self._machine is None:
            self._machine = as_described(self._doc.machine, self.effective)
        return self._machine

    @property
    def began_with(self) -> Machine:
        """The machine's profile as it was when the session began."""
        return self._doc.machine

    @property
    def title(self) -> str:
        """What the session is called in lists."""
        return self._doc.title

    @property
    def created(self) -> datetime:
        """When the session began."""
        return self._doc.created

    @property
    def practice(self) -> Practice | None:
        """The practice bench behind the session, if it is no real machine."""
        return self._doc.practice

    @property
    def path(self) -> Path | None:
        """The file that follows this session, if any."""
        return self._path

    @property
    def events(self) -> tuple[Event, ...]:
        """Everything that was entered, undone entries included."""
        return self._doc.events

    @property
    def effective(self) -> tuple[Event, ...]:
        """The events that still count."""
        self._counting = self._counting.of(self._doc.events)
        return self._counting.effective

    @property
    def draft(self) -> dict[str, str]:
        """What was being typed when the program last saved; empty once it became an event."""
        return {key: text for key, text in self._doc.draft.items() if key != TYPED_IN}

    @property
    def belief(self) -> "Belief":
        """The belief that follows from the events."""
        if self._belief is None:
            from coach.session import replay

            self._belief = replay.replay(self.machine, self.events, self.created.date())
        return self._belief

    def belief_before(self, event: Event) -> "Belief":
        """What was believed just before an event that counts; kept for the newest ones, else replayed."""
        if event.id not in self._before:
            from coach.belief.belief import Belief
            from coach.session import replay

            earlier = [other for other in self.effective if other.id < event.id]
            start = Belief.initial(self.machine, self.created.date())
            self._before[event.id] = replay.advance(start, earlier)
        return self._before[event.id]

    def keep_draft(self, draft: Mapping[str, str]) -> None:
        """Keep what is being typed, so that a crash loses nothing.

        Raises Unwritable; it is then remembered in memory, and on disk with the next writing.
        """
        part = newest_part(self.effective)
        kept = {**draft, TYPED_IN: part} if draft and part else dict(draft)
        doc = self._doc.model_copy(update={"draft": kept})
        try:
            self._write(doc)
        except Unwritable:
            if "".join(draft.values()).isprintable():  # half a character would stop every later writing too
                self._doc = doc
            raise

    # -- inside -----------------------------------------------------------------------------------

    def _add(self, kind: str, **fields: Any) -> None:
        """Check, save, then remember one event; `at` among its fields: when it happened, where that was not now."""
        when = checked_when(fields.pop("at", None), self.created, now())
        number = self.events[-1].id + 1 if self.events else 1
        try:
            event: Event = EVENT.validate_python({"id": number, "at": when, "kind": kind, **fields})
        except ValidationError as error:
            raise InputError(files.explain(error)) from None
        belief, before = self._following(event)
        typed_in = self._doc.draft.get(TYPED_IN)
        elsewhere = typed_in is not None and typed_in != newest_part(self.effective)
        stays = elsewhere or isinstance(event, Opened | Gate | Note | Pulse | Baseline | Begin)
        draft = self._doc.draft if stays else {}
        self._write(self._doc.model_copy(update={"events": (*self.events, event), "draft": draft}))
        self._belief, self._before = belief, before
        if isinstance(event, Undo | Described):
            self._machine = None

    def _following(self, event: Event) -> "tuple[Belief | None, dict[int, Belief]]":
        """What is believed after the event, and what was before the newest ones; None: to be replayed when asked for.

        Raises what `check_possible` does: what cannot be is not written.
        """
        if isinstance(event, Undo | Amend):
            return None, {}
        if self._belief is None and not isinstance(event, Evidence):
            return None, self._before
        from coach.session import replay

        before = {**dict(list(self._before.items())[-KEPT_BELIEFS:]), event.id: self.belief}
        return replay.after(self.belief, event), before

    def _write(self, doc: Document) -> None:
        if self._path is not None:
            self._stamp = files.write_if_unchanged(self._path, document.to_table(doc), self._stamp)
        self._doc = doc


def now() -> datetime:
    """This moment, with its zone, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)
