"""Where a mark lies: the way to measure, the numbers, and everything read back before it counts."""

from collections.abc import Mapping
from dataclasses import replace
from typing import assert_never

from coach.errors import InputError
from coach.plain.talk import Option, Talk, numbered
from coach.practice.assist import BenchMark
from coach.reading.entries import METHOD, corrected, method_of
from coach.reading.method import Entries, Field, Method
from coach.reading.methods import OPTIONS, face_of, method_named, methods_for, unit_of
from coach.reading.model import Correction, Reading
from coach.session.session import Session
from coach.shown import UNIT_WORDS
from coach.steps.measuring import questioned, tape_of, where_on_tape
from coach.steps.purpose import Purpose
from coach.steps.readback import AnswerKey, carried_words, readback_answers, readback_words

CROSSHAIR = "One more way, a cross that is moved over a drawing, is in the full screen only."
NOT_MEASURED = ("none", "-")
OTHER = "other"
"""Said in place of a number: measured in another way."""


class _Otherwise(Exception):
    """Another way, face or unit is wanted."""


class Measuring:
    """One mark that is measured."""

    def __init__(self, talk: Talk, session: Session, purpose: Purpose, bench: BenchMark | None) -> None:
        self._talk, self._session, self._purpose, self._bench = talk, session, purpose, bench
        drafted = session.draft.get("for") == purpose.key  # it means what it meant when it was typed
        self._entries = dict(purpose.start) if drafted else {"unit": talk.wording.unit, **purpose.start}
        self._tape = tape_of(session.machine, purpose.shot)
        self._offered = [method for method in methods_for(self._tape) if not method.by_keys]

    def measure(self) -> None:
        """Ask until the person keeps a reading, then make the entry.  Raises CoachError, Back and Ended."""
        self._manner()
        asked = True
        while True:
            if asked:
                self._numbers()
            try:
                reading = self._method.read(self._entries, self._tape, self._talk.wording)
                reading = questioned(self._session, self._purpose.shot, reading)
            except InputError as error:
                self._talk.say(str(error))
                asked = True
                continue
            match answer := self._read_back(reading):
                case "keep" | "doubtful":
                    self._purpose.save(reading)
                    return
                case "sure":
                    self._purpose.save(replace(reading, looked_twice=True))
                    return
                case "again":
                    asked = True
                case "other face" | "to the centre" | "in inches" | "in mm":
                    self._keep(**corrected(self._entries, answer))
                    asked = False
                case _:
                    assert_never(answer)

    @property
    def _method(self) -> Method:
        return method_of(self._entries, self._offered)

    def _keep(self, **changes: str) -> None:
        """What is typed is on disk at once."""
        self._entries.update(changes)
        self._session.keep_draft({**self._entries, "for": self._purpose.key})

    # how it is measured

    def _manner(self) -> None:
        if self._entries.get(METHOD) in {method.key for method in self._offered}:
            self._talk.say(f"Measured as before: {self._manner_words()}.")
            same = (("same", "Same as before"), ("other", "Other way, face or unit"))
            if self._talk.choose("Which one?", numbered(same), 1) == "same":
                return
        self._ask_manner()

    def _ask_manner(self) -> None:
        self._talk.say(CROSSHAIR)
        methods: dict[str, str] = {method.key: method.about for method in self._offered}
        self._keep(**{METHOD: self._one_of("How is it measured?", methods, self._method.key)})
        for option in (OPTIONS[key] for key in self._method.options):
            labels = {value.key: ", ".join(filter(None, (value.word, value.about))) for value in option.values}
            self._keep(**{option.key: self._one_of(option.question, labels, option.stands(self._entries).key)})

    def _manner_words(self) -> str:
        chosen = [OPTIONS[key].stands(self._entries).word for key in self._method.options]
        return ", ".join([self._method.label, *chosen]).lower()

    def _one_of(self, question: str, labels: Mapping[str, str], usual: str) -> str:
        options = numbered(tuple(labels.items()))
        return self._talk.choose(question, options, next(o.number for o in options if o.key == usual))

    # the numbers

    def _numbers(self) -> None:
        """Ask for all of them, in another way if that is wanted."""
        while True:
            try:
                self._values()
            except _Otherwise:
                self._ask_manner()
            else:
                return

    def _values(self) -> None:
        if self._bench is not None:
            self._talk.say(f"Bench: {self._bench.on(face_of(self._entries), self._talk.wording)}.")
        if self._method.meaning is not None:
            self._talk.say(self._method.meaning(self._entries))
        order = "; ".join(field.name.lower() for field in self._method.fields if field.needed is None)
        self._talk.say(
            f"One by one, or all in one answer with semicolons between: {order}.",
            f"The answer {OTHER} changes the way, the face or the unit.",
        )
        together = False
        for field in self._method.fields:
            if field.needed is None:
                wanted = not together
            else:
                wanted = field.needed(self._entries) and not (together and self._entries.get(field.key))
            if wanted:
                together = self._ask_value(field) or together

    def _ask_value(self, field: Field) -> bool:
        """Ask for one number until it can be used; True when all were answered in one."""
        before = self._entries.get(field.key, "")
        while True:
            answer = self._talk.ask(self._question(field, before), before)
            if answer.lower() == OTHER:
                raise _Otherwise
            try:
                if ";" in answer and field is self._method.fields[0]:
                    self._keep(**self._all_in_one(answer))
                    return True
                self._keep(**{field.key: self._checked(field, answer)})
                return False
            except InputError as error:
                self._talk.say(str(error))

    def _question(self, field: Field, before: str) -> str:
        hint = f", {field.hint}" if field.hint else ""
        unit = "" if field.kind == "hour" else f" in {UNIT_WORDS[unit_of(self._entries)]}"
        enter = " Enter alone: not measured." if field.may_lack else ""
        if before:
            enter = f" Enter alone keeps {before}."
        elif self._carried(field):
            enter = f" Enter alone takes {self._carried(field)}, as it was not measured: with more doubt."
        return f"{field.label}{unit}{hint}?{enter}"

    def _carried(self, field: Field) -> str:
        """What stands in for this number if it is not measured."""
        return carried_words(self._entries, self._talk.wording) if field.carried else ""

    def _all_in_one(self, answer: str) -> Entries:
        parts, fields = [part.strip() for part in answer.split(";")], self._method.fields
        if len(parts) > len(fields):
            raise InputError(
                f"These are {len(parts)} values",
                expected=f"at most {len(fields)}: {'; '.join(field.label.lower() for field in fields)}",
            )
        parts += [""] * (len(fields) - len(parts))
        given = zip(fields, parts, strict=True)
        return {f.key: self._checked(f, part) if part or f.needed is None else "" for f, part in given}

    def _checked(self, field: Field, answer: str) -> str:
        """The text of one value, if it can be used by itself; "" where it was not measured.  Raises InputError."""
        text = "" if answer.lower() in NOT_MEASURED else answer
        if text or not (field.may_lack or self._carried(field)):
            field.check(text, unit_of(self._entries))
        return text

    # reading back

    def _read_back(self, reading: Reading) -> AnswerKey | Correction:
        """How it is answered."""
        shot, wording = self._purpose.shot, self._talk.wording
        where = where_on_tape(reading, self._session.machine, shot)
        words = readback_words(reading, shot.name, where, wording)
        self._talk.say(*words.statements, *(f"Question: {question}" for question in words.questions))
        answers = readback_answers(reading, wording)
        options = [Option(answer.key, answer.label, answer.number) for answer in answers]
        chosen = self._talk.choose("Is this right?", options, answers[0].number)
        return next(answer.key for answer in answers if answer.key == chosen)


def measure(talk: Talk, session: Session, purpose: Purpose, bench: BenchMark | None) -> None:
    """Measure one mark and make its entry.  Raises CoachError, Back and Ended; what was typed is kept as a draft."""
    drafted = [
        f"{field.name} {purpose.start[field.key]}" for field in _fields(purpose) if purpose.start.get(field.key)
    ]
    if drafted and session.draft.get("for") == purpose.key:
        talk.say(f"Typed before for this mark: {', '.join(drafted)}.")
    Measuring(talk, session, purpose, bench).measure()


def _fields(purpose: Purpose) -> tuple[Field, ...]:
    method = method_named(purpose.start.get(METHOD, ""))
    return method.fields if method else ()
