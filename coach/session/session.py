"""One session: the machine as it was, the events, and what follows from them.

`Session` is the public Python interface (docs/guide.md).  Its methods check what they are given, add an
event and, once `keep_in` named a file, write that file before anything else happens: an entry that could
not be saved was not made.
"""

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from pydantic import ValidationError

from coach import files
from coach.advice.advice import Advice, Shot
from coach.advice.decide import advise
from coach.advice.reasons import Reason
from coach.belief.belief import Belief
from coach.belief.learned import learned_machine
from coach.errors import InputError, NothingToUndo, UnknownName, Unreadable
from coach.machine import Machine, Target
from coach.optics.shifts import shift_effect
from coach.session import document, replay
from coach.session.checks import checked_offset, checked_sd, place
from coach.session.contradictions import contradictions
from coach.session.document import Document, Practice
from coach.session.events import (
    EVENT,
    Amend,
    Event,
    Gate,
    Mark,
    Note,
    Opened,
    Plan,
    Pulse,
    Typed,
    Undo,
    effective,
    last_entry,
)
from coach.session.store import write_if_unchanged

KEPT_BELIEFS = 8
"""So many of the newest events remember what was believed before them: enough for one plan and its retest."""


class Session:
    """What happened on one machine, and what follows from it."""

    def __init__(self, doc: Document) -> None:
        self._doc = doc
        self._path: Path | None = None
        self._stamp: tuple[int, int] | None = None
        self._loaded: tuple[Path, tuple[int, int] | None] | None = None
        self._belief: Belief | None = None
        self._before: dict[int, Belief] = {}

    # -- making, loading, saving ------------------------------------------------------------------

    @classmethod
    def start(cls, machine: Machine, *, title: str = "", practice: Practice | None = None) -> "Session":
        """A new session, in memory only until `save` or `keep_in`.  Raises InputError for an unusable title."""
        try:
            return cls(Document(title=title or machine.name, created=_now(), machine=machine, practice=practice))
        except ValidationError as error:
            raise InputError(files.explain(error)) from None

    @classmethod
    def load(cls, path: Path | str) -> "Session":
        """The session in a file.  Raises Unreadable with the line and the reason."""
        file = Path(path)
        stamp = files.stamp(file)  # before reading: what is written in between must not be lost
        doc = document.read(file)
        problems = tuple(contradictions(doc, file))
        if problems:
            raise Unreadable(file, problems[0][1], problems[0][0], problems)
        session = cls(doc)
        session._loaded = file.resolve(), stamp
        return session

    @classmethod
    def resume(cls, path: Path | str) -> "Session":
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
        known = self._loaded is not None and self._loaded[0] == file.resolve()
        expected = self._loaded[1] if self._loaded and known else files.stamp(file)
        self._stamp = write_if_unchanged(file, document.to_table(self._doc), expected)
        self._path = file

    # -- what is known ----------------------------------------------------------------------------

    @property
    def machine(self) -> Machine:
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
        return effective(self._doc.events)

    @property
    def draft(self) -> dict[str, str]:
        """What was being typed when the program last saved; empty once it became an event."""
        return dict(self._doc.draft)

    @property
    def belief(self) -> Belief:
        """The belief that follows from the events."""
        if self._belief is None:
            self._belief = replay.replay(self.machine, self.events, self.created.date())
        return self._belief

    def belief_before(self, event: Event) -> Belief:
        """What was believed just before an event that counts; kept for the newest ones, else replayed."""
        if event.id not in self._before:
            earlier = [other for other in self.effective if other.id < event.id]
            start = Belief.initial(self.machine, self.created.date())
            self._before[event.id] = replay.advance(start, earlier)
        return self._before[event.id]

    def reason_for(self, plan: Plan) -> Reason | None:
        """Why the adjusting that the person set out to do was advised; None where it would be advised no more."""
        then = advise(self.belief_before(plan))
        turns = {str(turn.mirror): dict(turn.screws) for turn in then.turns}
        same = (turns, then.part, then.up, then.right, then.back) == (
            plan.turns,
            plan.part,
            plan.up,
            plan.right,
            plan.back,
        )
        return then.reason if same else None

    def advice(self) -> Advice:
        """What to do next about the beam; the safety gates are the steps' business."""
        return advise(self.belief)

    def learned(self) -> Machine:
        """The machine with what this session taught about its mounts, for the next session."""
        return learned_machine(self.belief, _now().date())

    # -- what happened ----------------------------------------------------------------------------

    def mark(
        self,
        station: str,
        u: float,
        v: float,
        *,
        x: float | None = None,
        y: float | None = None,
        target: Target = "head",
        sd: float | None = None,
        kept: bool = False,
        typed: Typed | None = None,
    ) -> None:
        """A mark was measured at (u, v) mm.  Raises InputError (unknown station, not a number, …)."""
        where = place(self.machine, station, x, y, target)
        self._add(
            "mark",
            **where,
            u=checked_offset("u", u),
            v=checked_offset("v", v),
            sd=checked_sd(sd),
            kept=kept,
            typed=typed or {},
        )

    def miss(self, station: str, *, x: float | None = None, y: float | None = None, target: Target = "head") -> None:
        """A pulse left no mark on the tape.  Raises InputError."""
        self._add("miss", **place(self.machine, station, x, y, target))

    def turn(self, mirror: int, screws: Mapping[str, float], *, typed: Typed | None = None) -> None:
        """Screws of one mirror were turned (turns, clockwise positive).  Raises InputError."""
        if not isinstance(screws, Mapping) or not screws:
            raise InputError("No screw was named", expected="screw names with turns", example='{"B": -0.125}')
        self.belief.layout.turn_vector(mirror, screws)
        amounts = {name: float(amount) for name, amount in screws.items()}
        self._add("turn", mirror=mirror, screws=amounts, typed=typed or {})

    def shift(
        self,
        part: str,
        *,
        up: float = 0.0,
        right: float = 0.0,
        back: float = 0.0,
        typed: Typed | None = None,
    ) -> None:
        """A part was moved sideways, mm in the machine's frame.  Raises InputError."""
        amounts = {
            name: checked_offset(name, value) for name, value in (("up", up), ("right", right), ("back", back))
        }
        shift_effect(self.machine.path.side, part, **amounts)
        self._add("shift", part=part, typed=typed or {}, **amounts)

    def lock(self, mirror: int) -> None:
        """The lock nuts of a mirror's mount were tightened.  Raises UnknownName."""
        if not self.belief.layout.of_mirror(mirror):
            raise UnknownName(f"Mirror {mirror} has no screws in this machine's profile", expected="mirror 1 or 2")
        self._add("lock", mirror=mirror)

    def disturbed(self, part: str) -> None:
        """A part was out, or was bumped ("machine": no one knows which).  Raises InputError."""
        self._add("disturbed", part=part)

    def amend(
        self,
        of: int,
        u: float,
        v: float,
        *,
        sd: float | None = None,
        kept: bool = False,
        typed: Typed | None = None,
    ) -> None:
        """Correct a mark made earlier: the event with the id `of` now reads (u, v).  Raises InputError."""
        if not any(isinstance(event, Mark) and event.id == of for event in self.effective):
            raise InputError(f"Entry {of} is not a mark that still counts", expected="the number of a mark")
        self._add(
            "amend",
            of=of,
            u=checked_offset("u", u),
            v=checked_offset("v", v),
            sd=checked_sd(sd),
            kept=kept,
            typed=typed or {},
        )

    def undo(self, number: int | None = None) -> Event:
        """Take the last event back, or the one with that id; returns it.  Raises NothingToUndo."""
        if number is None:
            event = last_entry(self.events)
        else:
            event = next((event for event in self.effective if event.id == number), None)
        if event is None:
            raise NothingToUndo("Nothing to undo: no entry is left in this session.")
        self._add("undo", takes_back=event.id)
        return event

    def opened(self) -> None:
        """The program opened this session: the gates must be acknowledged (again)."""
        self._add("opened")

    def gate(self, name: str) -> None:
        """The person acknowledged a safety gate."""
        self._add("gate", name=name)

    def arrive(self, shot: Shot) -> None:
        """The head stands where the next pulse is to be made, with fresh tape."""
        self._add("arrive", station=shot.name, x=shot.x, y=shot.y, target=shot.target)

    def pulse(self, shot: Shot, outcome: Literal["mark", "nothing", "flare"]) -> None:
        """One short firing, and what was seen."""
        self._add("pulse", station=shot.name, x=shot.x, y=shot.y, target=shot.target, outcome=outcome)

    def plan(self, advice: Advice) -> None:
        """The person sets out to follow advice of the kind "turn" or "shift"."""
        turns = {str(turn.mirror): dict(turn.screws) for turn in advice.turns}
        moved = {"up": advice.up, "right": advice.right, "back": advice.back}
        self._add("plan", turns=turns, part=advice.part, **moved)

    def note(self, text: str) -> None:
        """Anything worth remembering.  Raises InputError when empty."""
        if not text.strip():
            raise InputError("The note is empty", expected="a few words")
        self._add("note", text=text.strip())

    def finish(self) -> None:
        """The person closed the job."""
        self._add("finish")

    def keep_draft(self, draft: Mapping[str, str]) -> None:
        """Keep what is being typed, so that a crash loses nothing."""
        self._write(self._doc.model_copy(update={"draft": dict(draft)}))

    # -- inside -----------------------------------------------------------------------------------

    def _add(self, kind: str, **fields: Any) -> None:
        """Check, save, then remember one event."""
        number = self.events[-1].id + 1 if self.events else 1
        try:
            event: Event = EVENT.validate_python({"id": number, "at": _now(), "kind": kind, **fields})
        except ValidationError as error:
            raise InputError(files.explain(error)) from None
        rewrites = isinstance(event, Undo | Amend)
        before = {} if rewrites else {**dict(list(self._before.items())[-KEPT_BELIEFS:]), event.id: self.belief}
        belief = None if rewrites else replay.after(self.belief, event)
        draft = self._doc.draft if isinstance(event, Opened | Gate | Note | Pulse) else {}
        self._write(self._doc.model_copy(update={"events": (*self.events, event), "draft": draft}))
        self._belief, self._before = belief, before

    def _write(self, doc: Document) -> None:
        if self._path is not None:
            self._stamp = write_if_unchanged(self._path, document.to_table(doc), self._stamp)
        self._doc = doc


def _now() -> datetime:
    return datetime.now().astimezone().replace(microsecond=0)
