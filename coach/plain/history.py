"""A machine's history in lines: what drifts, what comes, its visits, any two of them, what is kept of its mounts."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path

from coach.errors import CoachError
from coach.history.beside import beside, beside_sentences, worst_words
from coach.history.stored import stored_history
from coach.history.taught import forget, machine_lines
from coach.history.words import happening_words, history_lines, visit_words
from coach.plain.talk import Back, Talk, numbered
from coach.session.store import Store

LEAVE = "Back to the list of machines and sessions"


class HistoryDesk:
    """Leads through one machine's history until the person leaves it."""

    def __init__(self, talk: Talk, folder: Path, machine: str) -> None:
        self._talk, self._folder, self._machine = talk, folder, machine

    def run(self) -> None:
        """Tell it, then offer what can be looked at.  Raises Back, Home, Quit and Ended."""
        self._told = stored_history(self._folder, self._machine, datetime.now().astimezone())
        self._talk.say(f"History of {self._machine}.", *history_lines(self._told, self._talk.wording))
        acts: dict[str, Callable[[], None]] = {
            "visits": self._visits,
            "compare": self._compare,
            "learned": self._learned,
        }
        labels = ("The visits, and what happened in between", "Two visits beside each other",
                  "What was learned of the mounts")  # fmt: skip
        while True:
            options = numbered((*zip(acts, labels, strict=True), ("leave", LEAVE)))
            chosen = self._talk.choose("Which one?", options, len(options))
            if chosen == "leave":
                return
            try:
                acts[chosen]()
            except Back:  # to this list
                continue
            except CoachError as error:
                self._talk.say(str(error))

    def _visits(self) -> None:
        told = self._told
        rows = [visit_words(n, visit, worst_words(visit, self._talk.wording)) for n, visit in told.numbered]
        rows += [happening_words(each) for each in told.happened]
        rows += [f"Left out: {problem}" for problem in told.problems]
        self._talk.say(*(rows or ("No visit is stored of this machine.",)))

    def _compare(self) -> None:
        """Two numbers of the list.  Raises UnknownName."""
        one = self._told.visit(self._talk.ask("The number of one visit?").strip())
        other = self._told.visit(self._talk.ask("And of the other?").strip())
        self._talk.say(*beside_sentences(beside(one, other, self._talk.wording)))

    def _learned(self) -> None:
        """What is kept of each mount, and forgetting it.  Raises CoachError."""
        store = Store(self._folder)
        machine = store.find_machine(self._machine)
        self._talk.say(*machine_lines(machine))
        known = [str(mount.mirror) for mount in machine.mounts if mount.learned is not None]
        if not known:
            return
        rows = (("not", "Keep it"), *((mirror, f"Forget what was learned of mirror {mirror}") for mirror in known))
        chosen = self._talk.choose("What do you say?", numbered(rows), 1)
        acts = {mirror: partial(forget, store, self._machine, int(mirror)) for mirror in known}
        if chosen in acts:
            acts[chosen]()
            self._talk.say(f"Forgotten: what was learned of mirror {chosen}'s mount.")
