"""Where the program begins: unfinished sessions first, then machines, practice, finished sessions."""

import secrets
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from coach.errors import CoachError, InputError, Unreadable
from coach.machine import Machine
from coach.plain.job import Home, Job, Quit
from coach.plain.listing import answering_lines, glossary_lines
from coach.plain.talk import Back, Talk, numbered
from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.session import Session
from coach.session.store import Store
from coach.steps.places import places, same_practice, session_words

SEEDS = 10_000
MACHINES = "No machine is described yet: coach new-machine --help says how."
LATER = "That word belongs to a session"


class HomeDesk:
    """Leads the conversation from the list of machines and sessions into one of them, and back."""

    def __init__(self, talk: Talk, folder: Path) -> None:
        self._talk, self._folder = talk, folder
        self.session: Session | None = None
        """The session that was open last."""

    def stay(self) -> None:
        """Offer what there is until the person quits.  Raises Quit and Ended."""
        while True:
            self._talk.handler = self._carry_out
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
        try:
            found, now = places(self._folder), datetime.now().astimezone()
        except OSError as error:
            raise Unreadable(self._folder, f"it cannot be read ({error.strerror or error})") from None
        rows: list[tuple[str, Callable[[], None]]] = []
        rows += [(f"Resume {session_words(s, now)}", self._opening(s.path)) for s in found.unfinished]
        rows += [(f"New session: {m.content.name}", self._beginning(m.path)) for m in found.machines if m.content]
        rows.append(("Practise on the demo machine", self.practise))
        rows += [(f"Look at {session_words(s, now)}", self._opening(s.path)) for s in found.finished]
        self._talk.say("Alignment coach, plain lines. Machines and sessions:")
        self._talk.say(*(f"Could not be read, and was left as it is: {problem}" for problem in found.problems))
        self._talk.say(*(() if found.machines else (MACHINES,)))
        options = numbered([(f"row {place}", label) for place, (label, _) in enumerate(rows)])
        return rows[int(self._talk.choose("Which one?", options, 1).removeprefix("row "))][1]

    def _opening(self, path: Path) -> Callable[[], None]:
        return lambda: self.open_session(path)

    def _beginning(self, path: Path) -> Callable[[], None]:
        return lambda: self._begin(Session.start(Machine.load(path)))

    def practise(self) -> None:
        """A new practice session of its own seed.  Raises Home, Quit and Ended."""
        self._begin(Session.start(demo_machine(), practice=Practice(seed=secrets.randbelow(SEEDS))))

    def practise_again(self, practice: Practice) -> None:
        """The practice that was asked for; an unfinished one of its kind and seed may be resumed."""
        found = same_practice(self._folder, practice)
        if found is not None:
            self._talk.handler = self._carry_out
            self._talk.say(f"There is one already, not finished: {session_words(found)}.")
            options = numbered((("resume", "Resume it"), ("anew", "Begin anew")))
            if self._talk.choose("Which one?", options, 1) == "resume":
                self.open_session(found.path)
                return
        self._begin(Session.start(demo_machine(), practice=practice))

    def open_session(self, path: Path) -> None:
        """Go on with a stored session.  Raises Unreadable, Home, Quit and Ended."""
        self._lead(Session.resume(path))

    def _begin(self, session: Session) -> None:
        session.keep_in(Store(self._folder).new_session_path(session.title, session.created))
        self._lead(session)

    def _lead(self, session: Session) -> None:
        self.session = session
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
            case _:
                raise InputError(f"{LATER}, and none is open", expected="one of the answers above")
