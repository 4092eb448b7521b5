"""Where the program begins: what was interrupted first, then machines, practice, finished sessions."""

import secrets
from collections.abc import Callable, Iterator
from datetime import datetime
from functools import partial
from pathlib import Path

from coach.describing.drafts import Draft, begin, begin_change, discard, drafts
from coach.errors import CoachError, InputError, Unreadable
from coach.machine import Machine
from coach.plain.describing import Describing
from coach.plain.history import HistoryDesk
from coach.plain.job import Job
from coach.plain.leaving import Home, Quit
from coach.plain.listing import answering_lines, glossary_lines
from coach.plain.reporting import reported
from coach.plain.sharing import shared, taken_up
from coach.plain.sheets import on_paper
from coach.plain.talk import Back, Talk, numbered
from coach.plain.upkeep import UpkeepDesk
from coach.practice.begun import begun, practicable
from coach.practice.visit_kinds import ANY
from coach.session.document import Practice
from coach.session.found import Found
from coach.session.session import Session
from coach.session.starting import started_visit
from coach.session.store import Store
from coach.session.summary import Summary
from coach.steps.parts.table import PARTS
from coach.steps.results import NOT_YET, left_words
from coach.steps.stored import Stored, same_practice, session_words
from coach.steps.visit_words import PART_LEAD
from coach.upkeep.at_home import DueAt, at_home, row_words
from coach.upkeep.begun import check_up
from coach.upkeep.log import MachineLog

SEEDS = 10_000
MACHINES = "No machine is described yet."
VISIT = "It cuts worse than it did: the whole visit"
ALONE = "Align the beam alone"
LATER = "That word belongs to a session"
Row = tuple[str, Callable[[], None]]
"""What can be chosen, and what then happens."""


class HomeDesk:
    """Leads the conversation from the list of machines and sessions into one of them, and back."""

    def __init__(self, talk: Talk, folder: Path) -> None:
        self._talk, self._folder = talk, folder
        self.session: Session | None = None
        """The session that was open last."""
        self.described = ""
        """Where the machine is that was described since, or the half of its description."""

    def stay(self) -> None:
        """Offer what there is until the person quits.  Raises Quit and Ended."""
        while True:
            self._talk.led_by(self._carry_out)
            self._talk.gap()
            try:
                self._try(self._offer())
            except (Back, Home):
                continue

    def _try(self, chosen: Callable[[], None]) -> None:
        try:
            chosen()
        except CoachError as error:
            self._talk.say(str(error))

    def _offer(self) -> Callable[[], None]:
        """The choice made, to be carried out.  Raises Unreadable for a folder that cannot be read."""
        now = datetime.now().astimezone()
        try:
            here, (begun, broken) = at_home(self._folder, now.date()), drafts(self._folder)
        except OSError as error:
            raise Unreadable(self._folder, f"it cannot be read ({error.strerror or error})") from None
        found = here.found
        rows = [*self._rows(found, begun, now), *self._due_rows(here.due), *self._finished_rows(found, now)]
        self._talk.say("Alignment coach, plain lines. Machines and sessions:")
        problems = (*found.problems, *broken, *here.problems)
        self._talk.say(*(f"Could not be read, and was left as it is: {problem}" for problem in problems))
        self._talk.say(*(() if found.machines else (MACHINES,)))
        acts = {f"row {place}": act for place, (_, act) in enumerate(rows)}
        options = numbered([(key, label) for key, (label, _) in zip(acts, rows, strict=True)])
        return acts[self._talk.choose("Which one?", options, 1)]

    def _rows(self, found: Stored, begun: tuple[Draft, ...], now: datetime) -> Iterator[Row]:
        yield from ((f"Resume {session_words(s, now)}", self._opening(s.path)) for s in found.unfinished)
        for draft in begun:
            what = "changing" if draft.machine else "describing"
            yield f"Go on {what} {draft.name}", self._going_on(draft)
        for machine in found.machines:
            if machine.content:
                yield self._machine_row(machine, found.last.get(machine.content.name), now)
        yield "Describe a machine", lambda: self._describe(begin(self._folder))
        yield "Practise on the demo machine", self.practise
        yield "Rehearse a whole visit on it", self.rehearse

    def _due_rows(self, due: tuple[DueAt, ...]) -> Iterator[Row]:
        """What upkeep is due, a row for each machine."""
        yield from ((row_words(each, due), partial(self._keep_well, each.machine)) for each in due)

    def _finished_rows(self, found: Stored, now: datetime) -> Iterator[Row]:
        yield from ((f"Look at {session_words(s, now)}", self._opening(s.path)) for s in found.finished)

    def _keep_well(self, machine: str) -> None:
        """The upkeep of the machine of that name.  Raises Unreadable, Back, Quit and Ended."""
        UpkeepDesk(self._talk, MachineLog.open(machine, self._folder), partial(self._check_up, machine)).run()

    def _check_up(self, name: str) -> None:
        """A ten-minute check-up of the machine of that name.  Raises Unreadable, Home, Quit and Ended."""
        store = Store(self._folder)
        self._begin(check_up(store.find_machine(name), store.visits(name)))

    def _machine_row(self, machine: Found[Machine], last: Found[Summary] | None, now: datetime) -> Row:
        """A machine, and how its last finished session left it."""
        assert machine.content is not None
        stood = left_words(last.path, now, self._talk.wording) if last else NOT_YET
        name, label = machine.content.name, f"{machine.content.name}: {stood}"
        return label, lambda: self._machine_chosen(name, label, machine.path)

    def _opening(self, path: Path) -> Callable[[], None]:
        return lambda: self.open_session(path)

    # machines

    def _machine_chosen(self, name: str, label: str, path: Path) -> None:
        self._talk.say(f"{label}.")
        acts = {
            "visit": lambda: self._begin(started_visit(Machine.load(path))),
            "begin": lambda: self._begin(Session.start(Machine.load(path))),
            "part": lambda: self._one_part(path),
            "change": lambda: self._describe(begin_change(self._folder, path)),
            "upkeep": lambda: self._keep_well(name),
            "paper": lambda: self._on_paper(path),
            "history": lambda: HistoryDesk(self._talk, self._folder, name).run(),
        }
        labels = (
            VISIT, ALONE, "One part of a visit", "Change its description", "Upkeep: what is due, what to do",
            "Worksheet: print one, type one in", "History: what drifts, when to look again",
        )  # fmt: skip
        acts[self._talk.choose("Which one?", numbered(tuple(zip(acts, labels, strict=True))), 1)]()

    def _on_paper(self, machine: Path) -> None:
        """A worksheet is written or typed in; then on in its session.  Raises CoachError, Home, Quit and Ended."""
        path = on_paper(self._talk, self._folder, machine, self._has)
        if path is not None:
            self.open_session(path)

    def _one_part(self, machine: Path) -> None:
        """A visit that begins with one part; the others can be gone to from there."""
        self._talk.say(PART_LEAD)
        parts = {part.name: f"{part.title} (about {part.minutes} min)" for part in PARTS}
        chosen = self._talk.choose("Which part?", numbered(tuple(parts.items())))
        self._begin(started_visit(Machine.load(machine), next(part for part in parts if part == chosen)))

    def _going_on(self, draft: Draft) -> Callable[[], None]:
        """Go on with a half-described machine, or throw the half away."""

        def ask() -> None:
            what = "The machine itself stays as it is." if draft.machine else "It is no machine yet."
            self._talk.say(f"Half described, kept in {draft.path}. {what}")
            options = numbered((("on", "Go on"), ("away", "Throw these answers away")))
            if self._talk.choose("Which one?", options, 1) == "on":
                self._describe(draft)
            else:
                discard(draft)
                self._talk.say("Thrown away.")

        return ask

    def _describe(self, draft: Draft) -> None:
        """Describe to the end, then offer a session on the machine.  Raises Home, Quit and Ended."""
        describing = Describing(self._talk, self._folder, draft)
        try:
            path = describing.run()
        finally:
            self.described = describing.whereabouts() or self.described
        self._talk.led_by(self._carry_out)
        self._talk.say(f"{self.described} Its description can be changed at any time.")
        options = numbered((("visit", VISIT), ("begin", ALONE), ("home", "Back to the list")))
        match self._talk.choose("Which one?", options, 1):
            case "visit":
                self._begin(started_visit(Machine.load(path)))
            case "begin":
                self._begin(Session.start(Machine.load(path)))

    # sessions

    def practise(self) -> None:
        """A new practice session of its own seed.  Raises Home, Quit and Ended."""
        self._begin(begun(Practice(seed=secrets.randbelow(SEEDS))))

    def rehearse(self) -> None:
        """A new visit to practise, of its own seed.  Raises Home, Quit and Ended."""
        self._begin(begun(Practice(kind=ANY, seed=secrets.randbelow(SEEDS))))

    def practise_again(self, practice: Practice) -> None:
        """The practice that was asked for; an unfinished one of its kind and seed may be resumed."""
        found = same_practice(self._folder, practice)
        if found is not None:
            self._talk.led_by(self._carry_out)
            self._talk.say(f"There is one already, not finished: {session_words(found)}.")
            options = numbered((("resume", "Resume it"), ("anew", "Begin anew")))
            if self._talk.choose("Which one?", options, 1) == "resume":
                self.open_session(found.path)
                return
        self._begin(begun(practice))

    def open_session(self, path: Path) -> None:
        """Go on with a stored session.  Raises Unreadable, UnknownName, Home, Quit and Ended."""
        self._lead(practicable(Session.resume(path)))

    def _begin(self, session: Session) -> None:
        session.keep_new(self._folder)
        self._lead(session)

    def _has(self, session: Session) -> None:
        self.session, self.described = session, ""

    def _lead(self, session: Session) -> None:
        self._has(session)
        Job(self._talk, self._folder, session).run()

    def _carry_out(self, word: str, rest: str) -> None:
        """The words while no session is open."""
        match word:
            case "quit":
                raise Quit
            case "back" | "home" | "again":
                raise Back
            case "help":
                self._talk.say(f"Machines and sessions are files in {self._folder}.", *answering_lines())
            case "glossary":
                self._talk.say(*glossary_lines())
            case "report":
                path = self._which_session()
                self._talk.say(*reported(Session.load(path), path, rest, self._folder))
            case "share":
                shared(self._talk, self._which_session(), rest)
            case "import":
                taken_up(self._talk, self._folder, rest)
            case _:
                raise InputError(f"{LATER}, and none is open", expected="one of the answers above")

    def _which_session(self) -> Path:
        """The file of the session to be reported or shared.  Raises InputError where there is none."""
        now = datetime.now().astimezone()
        found = at_home(self._folder, now.date()).found
        sessions = (*found.unfinished, *found.finished)
        if not sessions:
            raise InputError("There is no session yet", expected="one of the answers above")
        paths = {str(each.path): each.path for each in sessions}
        options = numbered(tuple((str(each.path), session_words(each, now)) for each in sessions))
        return paths[self._talk.choose("Which one?", options, 1)]
