"""Saying a line, asking a question, taking an answer."""

from collections.abc import Callable, Container, Iterator, Sequence
from dataclasses import dataclass

from coach.errors import CoachError, InputError
from coach.plain.aloud import lines_of
from coach.plain.words import WORDS, command_in
from coach.shown import Wording

Handler = Callable[[str, str], None]
"""Carries out one of the words, given it and what followed it."""

MANY = 6
"""Answers up to which each number is said."""


class Ended(Exception):
    """There are no more answers."""


class Back(Exception):
    """The person wants to leave the question."""


@dataclass(frozen=True)
class Option:
    """One answer of several."""

    key: str
    label: str
    number: int


def numbered(entries: Sequence[tuple[str, str]]) -> tuple[Option, ...]:
    """Keys and labels, counted from 1."""
    return tuple(Option(key, label, place) for place, (key, label) in enumerate(entries, start=1))


class Talk:
    """One conversation.  `echo` repeats each answer: for answers that nobody sees being typed."""

    def __init__(self, say: Callable[[str], None], answers: Iterator[str], *, echo: bool, wording: Wording) -> None:
        self._say, self._answers, self._echo = say, answers, echo
        self.wording = wording
        """How this person wants lengths and turns said."""
        self._handler: Handler | None = None
        self._words: Container[str] = WORDS

    def led_by(self, handler: Handler, words: Container[str] = WORDS) -> None:
        """From now on these words are carried out by that handler."""
        self._handler, self._words = handler, words

    def say(self, *texts: str) -> None:
        """Each text in a line of its own, or in several where it is long."""
        for text in texts:
            for line in lines_of(text):
                self._say(line)

    def gap(self) -> None:
        """An empty line, before something new."""
        self._say("")

    def ask(self, question: str, default: str = "") -> str:
        """The answer, the default where nothing was typed.  Raises Ended, and whatever a word raises."""
        while True:
            self.say(question)
            answer = next(self._answers, None)
            if answer is None:
                raise Ended
            if self._echo:
                self.say(f"Answer: {answer}" if answer else "Answer: Enter alone")
            command = command_in(answer, self._words)
            if command is None or self._handler is None:
                return answer or default
            self._carry_out(self._handler, *command)

    def _carry_out(self, handler: Handler, word: str, rest: str) -> None:
        try:
            handler(word, rest)
        except CoachError as error:
            self.say(str(error))

    def choose(self, question: str, options: Sequence[Option], default: int | None = None) -> str:
        """The key of the option chosen by its number or by how its words begin; `default` is a number."""
        self.say(*(f"{option.number}: {option.label}" for option in options))
        listed = _listed([option.number for option in options])
        alone = "" if default is None else f"; Enter alone is {default}" if len(options) > 1 else " or Enter alone"
        while True:
            answer = self.ask(f"{question} Answer {listed}{alone}.", "" if default is None else str(default))
            try:
                return _chosen(answer, options, listed).key
            except InputError as error:
                self.say(str(error))

    def confirmed(self, right: str, otherwise: str, default: int = 1) -> bool:
        """Whether what was just read back is right."""
        options = numbered((("right", right), ("otherwise", otherwise)))
        return self.choose("Is this right?", options, default) == "right"


def _listed(numbers: Sequence[int]) -> str:
    """The numbers, so that they are soon said: "1", "1, 2 or 4", "1 to 17"."""
    if len(numbers) > MANY and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]} to {numbers[-1]}"
    *others, last = map(str, numbers)
    return f"{', '.join(others)} or {last}" if others else last


def _chosen(answer: str, options: Sequence[Option], listed: str) -> Option:
    """The option that is meant.  Raises InputError where none is, or more than one."""
    wanted = " ".join(answer.casefold().split()).rstrip(".")
    meant = [option for option in options if wanted == str(option.number)]
    meant = meant or [option for option in options if wanted in (option.key, option.label.casefold())]
    meant = meant or [option for option in options if wanted and option.label.casefold().startswith(wanted)]
    if len(meant) == 1:
        return meant[0]
    expected = f"{listed}, the beginning of one answer's words, or a word such as help"
    if not wanted:
        raise InputError("Nothing was answered", expected=expected)
    if meant:
        raise InputError(f"{answer!r} begins more than one answer", expected=expected)
    raise InputError(f"{answer[:60]!r} is none of the answers", expected=expected)
