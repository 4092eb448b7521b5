"""A machine's upkeep in lines: what is due, what to do and what to beware of, said done, taken back."""

from collections.abc import Callable
from functools import partial

from coach.errors import CoachError
from coach.plain.cautions import caution_lines
from coach.plain.leaving import Home
from coach.plain.talk import Back, Talk, numbered
from coach.steps.moved_words import comparison_lines
from coach.upkeep.log import MachineLog
from coach.upkeep.standing import Standing, due_first, unnoted
from coach.upkeep.typed import typed_hours
from coach.upkeep.words import entry_words, interval_words, last_words, standing_words, unnoted_words

LEAVE = "Back to the list of machines and sessions"


class UpkeepDesk:
    """Leads through one machine's items until the person leaves them."""

    def __init__(self, talk: Talk, log: MachineLog, check_up: Callable[[], None]) -> None:
        """`check_up` leads through a check-up; raises Home, Quit and Ended."""
        self._talk, self._log, self._check_up = talk, log, check_up

    def run(self) -> None:
        """Offer the items, what is due first.  Raises Back, Home, Quit and Ended."""
        while True:
            standing = self._log.standing()
            listed = (*due_first(standing), *(each for each in standing if not each.is_due))
            hours = self._log.hours()
            counter = "not read yet" if hours is None else f"{hours:g}"
            self._talk.say(f"Upkeep of {self._log.machine}, what is due first. Counter of hours of use: {counter}.")
            if calm := unnoted_words(unnoted(standing)):
                self._talk.say(f"{calm}.")
            rows = [(each.item.name, f"{each.item.title}: {standing_words(each)}") for each in listed]
            own = [("hours", "Enter the hours of use"), ("undo", "Take the last entry back"), ("leave", LEAVE)]
            chosen = self._talk.choose("Which one?", numbered((*rows, *own)), len(rows) + len(own))
            if chosen == "leave":
                return
            acts: dict[str, Callable[[], None]] = {each.item.name: partial(self._item, each) for each in listed}
            acts |= {"hours": self._hours, "undo": self._undo}
            self._try(acts[chosen])

    def _try(self, act: Callable[[], None]) -> None:
        try:
            act()
        except Back:  # to the list of items
            return
        except CoachError as error:
            self._talk.say(f"Not entered. {error}")

    def _item(self, each: Standing) -> None:
        """What is to be done, its cautions, and whether it was done.  Raises CoachError."""
        item, last = each.item, last_words(each)
        self._talk.say(
            f"{item.title.capitalize()}: {standing_words(each)}{f', {last}' if last else ''}.",
            f"Do: {item.do}",
            *caution_lines(item.cautions),
            f"Due {interval_words(item)}: {item.source}.",
        )
        seen = self._log.check_up() if item.name == "check-up" else None
        self._talk.say(*(comparison_lines(seen, self._talk.wording) if seen else ()))
        begin = (("begin", "Begin it now"),) if item.name == "check-up" else ()
        options = numbered((("not", "Not done: back to the list"), ("done", "Done today"), *begin))
        match self._talk.choose("What do you say?", options, 1):
            case "done":
                self._log.done(item.name)
                self._tell()
            case "begin":
                self._check_up()
                raise Home

    def _hours(self) -> None:
        """What the counter shows, today.  Raises CoachError."""
        answer = self._talk.ask("What does the counter of hours of use show? Enter alone leaves it.")
        if answer.strip():
            hours, anew = typed_hours(answer)
            self._log.count(hours, anew=anew)
            self._tell()

    def _undo(self) -> None:
        self._talk.say(f"Taken back: {entry_words(self._log.undo())}.")

    def _tell(self) -> None:
        assert self._log.last is not None
        self._talk.say(f"{entry_words(self._log.last)}.")
