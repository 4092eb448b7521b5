"""A machine, described question by question; every answer is on disk as a draft before the next is asked."""

from dataclasses import replace
from pathlib import Path

from coach.describing.description import Description
from coach.describing.drafts import Draft, keep
from coach.describing.profile import missing
from coach.describing.question import Question
from coach.describing.questions import questions
from coach.describing.saving import save
from coach.describing.slips import Doubt, weighed
from coach.describing.walking import OVERVIEW, all_keys, following, preceding
from coach.describing.words import forgotten_words, guessed_words, said
from coach.errors import CoachError, InputError
from coach.plain.describing_lines import (
    GUESS,
    all_values,
    asked_lines,
    choice_options,
    title,
    typed_prompt,
    warned_lines,
)
from coach.plain.leaving import Anew, Home, Quit
from coach.plain.listing import answering_lines, glossary_lines
from coach.plain.talk import Back, Option, Talk, numbered
from coach.plain.words import DESCRIBING, WORDS
from coach.session.store import Store
from coach.steps.readback import AGAIN, KEEP, OTHERWISE

FIRST = "This is the first question; home leaves it for the list."
REQUIRED = InputError("This cannot be guessed", expected="an answer: look or measure, or home to do that later")
SAVE = "save"


class _Guess(Exception):
    """What is asked is not known."""


class _Enough(Exception):
    """The rest is to be guessed."""


class Describing:
    """Leads through the questions about one machine."""

    def __init__(self, talk: Talk, folder: Path, draft: Draft) -> None:
        self._talk, self._folder = talk, folder
        self._draft = self._begun = draft
        self._kept: Draft | None = None
        self._file: Path | None = None
        self._done = False
        self._listed: frozenset[str] = frozenset()
        """What the list of all values held when it was read: a changed one then leads back to it."""
        self._part: tuple[str, int, str] | None = None

    def whereabouts(self) -> str:
        """Where the machine or the half of its description is; "" where nothing was answered."""
        if self._file is not None:
            return f"The machine is kept in {self._file}."
        return f"The half description waits in {self._draft.path}." if self._draft.path.exists() else ""

    def run(self) -> Path:
        """To the machine's file.  Raises Home, Quit and Ended; what was answered is then on disk."""
        self._lead()
        assert self._file is not None
        return self._file

    def _lead(self) -> None:
        """From question to question until all is kept."""
        self._talk.led_by(self._carry_out, {**WORDS, **DESCRIBING})
        draft = self._draft
        self._talk.say(self._what())
        self._go(draft.at or (OVERVIEW if draft.machine else self._asked[0].key), draft.entry)
        while not self._done:
            self._talk.gap()
            try:
                self._one()
            except _Guess:
                self._guess()
            except _Enough:
                self._enough()
            except Back:
                self._go_before()
            except Anew:
                continue
            except CoachError as error:
                self._talk.say(str(error))

    def _what(self) -> str:
        return f"Change {self._draft.name}." if self._draft.machine else "Describe a machine."

    def _keep_words(self) -> str:
        return "Keep these changes" if self._draft.machine else "Keep this machine"

    def _keep(self) -> None:
        """All values are right."""
        self._file = save(Store(self._folder), self._draft)

    @property
    def _description(self) -> Description:
        return self._draft.description

    @property
    def _asked(self) -> tuple[Question, ...]:
        return questions(self._description)

    @property
    def _question(self) -> Question | None:
        return next((question for question in self._asked if question.key == self._draft.at), None)

    # from question to question

    def _go(self, key: str, entry: str = "") -> None:
        """That question is next, or all values."""
        known = any(question.key == key for question in self._asked)
        self._draft = replace(self._draft, at=key if known else OVERVIEW, entry=entry)
        if not known:
            self._listed = all_keys(self._description)
        self._save_draft()

    def _take(self, description: Description) -> None:
        leads_to = following(description, self._draft.at, listed=self._listed)
        self._draft = replace(self._draft, description=description)
        self._go(leads_to)

    def _go_before(self) -> None:
        before = preceding(self._description, self._draft.at, listed=self._listed)
        if self._question is None:
            self._listed = frozenset()
        if before is None:
            self._talk.say(FIRST)
        else:
            self._go(before)

    def _guess(self) -> None:
        """Not known: something usual stands in.  Raises InputError where nothing can."""
        question = self._question
        if question is None:
            self._talk.say(
                str(InputError("No value is asked about here", expected="a value chosen from the list first"))
            )
        elif question.required:
            self._talk.say(str(REQUIRED))
        else:
            self._take(self._description.unanswered(question.key))
            self._talk.say(f"{title(question)}: {said(self._description, question, self._talk.wording)}.")

    def _enough(self) -> None:
        lacking = missing(self._description)
        if lacking:
            self._talk.say("First what cannot be guessed; the rest can.")
        self._go(lacking[0] if lacking else OVERVIEW)

    # asking

    def _one(self) -> None:
        question = self._question
        if question is None:
            self._overview()
            return
        part = (question.picture, question.mirror, question.at)
        if part != self._part:
            self._talk.say(*warned_lines(question))
            self._part = part
        self._talk.say(*asked_lines(self._asked, question))
        if question.kind == "choice":
            self._choose(question)
        else:
            self._type(question)

    def _choose(self, question: Question) -> None:
        options, default = choice_options(question, self._description, self._talk.wording)
        key = self._talk.choose(f"{title(question)}?", options, default)
        if key == GUESS:
            raise _Guess
        self._take(self._description.answered(question.key, key))

    def _type(self, question: Question) -> None:
        """A length or words; asks until the answer can be used."""
        entry = self._draft.entry
        while True:
            text = self._talk.ask(typed_prompt(question, self._description, entry, self._talk.wording), entry)
            try:
                description = self._typed(question, text)
            except InputError as error:
                self._talk.say(str(error))
                entry = ""
                continue
            if description is not None:
                self._take(description)
                return

    def _typed(self, question: Question, text: str) -> Description | None:
        """The description with what was typed; None where it is to be typed again.  Raises InputError, _Guess."""
        if not text and question.key in self._description.answers:
            return self._description
        if not text:
            raise REQUIRED if question.required else _Guess
        found = weighed(self._description, question.key, text, self._talk.wording.unit)
        return self._sure(found) if isinstance(found, Doubt) else found

    def _sure(self, doubt: Doubt) -> Description | None:
        """An unlikely answer: kept, taken as the likelier one, or typed again."""
        self._talk.say(f"Question: {doubt.sentence}")
        options = [Option("again", "Type it again", AGAIN)]
        if doubt.kept is not None:
            options.append(Option("keep", "Keep it as it is", KEEP))
        if doubt.meant is not None:
            options.append(Option("other", f"Take it so: {doubt.meant_words}", OTHERWISE))
        try:
            key = self._talk.choose("Is this right?", options, AGAIN)
        except Back:
            return None
        return {"keep": doubt.kept, "other": doubt.meant}.get(key)

    # all values

    def _overview(self) -> None:
        """Every value read aloud; one may be chosen, or all kept."""
        self._talk.say(f"All values. {guessed_words(self._description)}.")
        rows = [(q.key, f"{title(q)}: {said(self._description, q, self._talk.wording)}") for q in self._asked]
        key = self._talk.choose("Is all of this right?", numbered([(SAVE, self._keep_words()), *rows]), 1)
        if key != SAVE:
            self._go(key)
        elif self._meant():
            self._keep()
            self._done = True

    def _meant(self) -> bool:
        """What would be forgotten is said first, and one slip must not do it."""
        dropped = forgotten_words(self._description)
        if not dropped:
            return True
        self._talk.say(dropped)
        try:
            return self._talk.confirmed("Right, keep the changes", "No, back to the values", default=2)
        except Back:
            return False

    # nothing is lost

    def _save_draft(self) -> None:
        """On disk, if anything was answered; what cannot be written is said and stays in memory."""
        draft, begun = self._draft, self._begun
        same = (draft.description, draft.entry) == (begun.description, begun.entry)
        if draft == self._kept or (self._kept is None and same):
            return
        try:
            self._draft = self._kept = keep(draft)
        except CoachError as error:
            self._talk.say(str(error))

    # words

    def _carry_out(self, word: str, rest: str) -> None:
        moves = {"quit": Quit, "home": Home, "back": Back, "again": Anew, "guess": _Guess, "enough": _Enough}
        if word in moves:
            raise moves[word]
        match word:
            case "review":
                self._talk.say(*all_values(self._description, self._talk.wording))
            case "glossary":
                self._talk.say(*glossary_lines())
            case "help":
                question = self._question
                self._talk.say(
                    *(asked_lines(self._asked, question) if question else ()), *warned_lines(question, sources=True)
                )
                self._talk.say(*answering_lines(DESCRIBING))
            case _:
                raise InputError(
                    "That word belongs to a session, and a machine is being described",
                    expected="an answer, or a word such as back, guess or enough",
                )
