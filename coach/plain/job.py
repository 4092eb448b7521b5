"""One session, step by step, from wherever its events leave it."""

from pathlib import Path
from typing import assert_never

from coach.errors import CoachError, InputError
from coach.plain.adjusting import ask_for, pick_bumped, pick_part
from coach.plain.describing_head import describe_head
from coach.plain.leaving import Anew, Home, Quit
from coach.plain.listing import glossary_lines, help_lines, review_lines
from coach.plain.measuring import measure
from coach.plain.reporting import OFFERED, reported
from coach.plain.sharing import shared, taken_up
from coach.plain.step_lines import step_lines
from coach.plain.talk import Back, Option, Talk, numbered
from coach.practice.assist import Assist, BenchMark
from coach.session.events import Finish, Mark
from coach.session.session import Session
from coach.steps.bumped import disturb, spelled
from coach.steps.current import current_step
from coach.steps.cut_baseline import after_choice, take_up
from coach.steps.entries import entry_words
from coach.steps.finish import keep_learned
from coach.steps.perform import perform
from coach.steps.purpose import for_mark, for_step
from coach.steps.step import Choice, Step
from coach.steps.undo import take_back
from coach.steps.visit_words import ALONE
from coach.steps.wanted import NOTE_LEAD, confirmation

INVENTED = "Practice: this machine and all its marks are invented; nothing fires."
FINISHED = "This session is finished."


class Job:
    """Leads the conversation through one session."""

    def __init__(self, talk: Talk, folder: Path, session: Session) -> None:
        self._talk, self._folder, self._session = talk, folder, session
        self._assist = Assist(session) if session.practice is not None else None
        self._step: Step | None = None

    @property
    def finished(self) -> bool:
        """Whether the job is closed."""
        return any(isinstance(event, Finish) for event in self._session.effective)

    def run(self) -> None:
        """To the end of the job.  Raises Home, Quit and Ended."""
        self._talk.led_by(self._carry_out)
        if self.finished and not self._looked_at():
            return
        self._session.opened()
        self._talk.say(*([INVENTED] if self._assist else []), f"The session is kept in {self._session.path}.")
        self._told(take_up(self._folder, self._session))
        while not self.finished:
            try:
                self._one_step()
            except Back:
                self._talk.say("Back at the step; nothing was entered.")
            except CoachError as error:
                self._talk.say(str(error))
                if self._step is None:  # it cannot be told what to do: nobody answered, and nothing would change
                    raise Home from None
            except Anew:
                continue

    def _looked_at(self) -> bool:
        """A finished session: its entries; whether the person goes on with it after all."""
        self._talk.say(*review_lines(self._session, self._talk.wording), FINISHED)
        options = numbered((("leave", "Leave it so"), ("resume", "Take that back and go on with the job")))
        while self.finished:
            try:
                if self._talk.choose("Which one?", options, 1) == "leave":
                    return False
                self._undo()
            except (Back, Anew):
                continue
        return True

    def _one_step(self) -> None:
        """Say the step, take an answer, make the entry."""
        self._step = None
        step = current_step(self._session, self._talk.wording)
        lines = step_lines(self._session, step, self._shown(step), self._talk.wording)
        choices = self._assist.choices(step) if self._assist else step.choices
        self._step = step
        self._talk.gap()
        self._talk.say(*lines)
        key = self._talk.choose("What do you say?", numbered([(c.id, c.label) for c in choices]), 1)
        self._answered(step, next(choice for choice in choices if choice.id == key))

    def _answered(self, step: Step, choice: Choice) -> None:
        entries = len(self._session.events)
        match choice.wants:
            case "bench":
                self._fired(step)
            case "reading":
                measure(self._talk, self._session, for_step(self._session, step), self._bench(step))
                self._saved()
            case "turns" | "shift" | "mirror" | "dose" | "why" | "part" | "figures":
                ask_for(self._talk, self._session, step, choice)
                self._saved()
            case "machine":
                self._describe(step, choice)
            case "option":
                perform(self._session, step, choice.key, option=choice.option)
                self._saved()
            case "":
                if self._meant(step, choice):
                    perform(self._session, step, choice.key)
                    self._saved()
            case _:
                assert_never(choice.wants)
        if len(self._session.events) > entries:
            self._told(after_choice(self._folder, self._session, step, choice.key))
        if self.finished:
            self._talk.say(keep_learned(self._folder, self._session), OFFERED)

    def _told(self, sentence: str) -> None:
        if sentence:
            self._talk.say(sentence)

    def _describe(self, step: Step, choice: Choice) -> None:
        """Mirror 3, lens and nozzle are described; the words are this job's again afterwards, however it ends."""
        session = self._session
        try:
            describe_head(
                self._talk,
                self._folder,
                session,
                lambda machine: perform(session, step, choice.key, machine=machine),
            )
        finally:
            self._talk.led_by(self._carry_out)

    def _fired(self, step: Step) -> None:
        assert self._assist is not None
        outcome = self._assist.fire(step)
        self._talk.say("The bench made a mark." if outcome == "mark" else "The bench fired: no mark on the tape.")

    def _meant(self, step: Step, choice: Choice) -> bool:
        """Some choices are read back, since one slip must not make them."""
        sentence = confirmation(self._session, step, choice, self._talk.wording)
        if not sentence:
            return True
        self._talk.say(sentence)
        return self._talk.confirmed("Right, that is so", "No, back", default=2)

    def _saved(self) -> None:
        self._talk.say(f"Saved. {entry_words(self._session.effective[-1], self._talk.wording)}.")

    def _bench(self, step: Step) -> BenchMark | None:
        return self._assist.mark() if self._assist and step.measures else None

    def _shown(self, step: Step) -> str:
        """What the bench shows at a step, in words: its mark, or what is seen there."""
        if self._assist is None:
            return ""
        mark, seen = self._bench(step), self._assist.seen(step, self._talk.wording)
        return f"{mark.on('outer', self._talk.wording)}." if mark else seen.words if seen else ""

    # words

    def _carry_out(self, word: str, rest: str) -> None:
        """One of the words.  In the end either the question stands again, or the step is said anew."""
        match word:
            case "quit":
                raise Quit
            case "home":
                raise Home
            case "back":
                raise Back
            case "again":
                raise Anew
            case "undo":
                self._undo()
                raise Anew
            case "correct":
                self._correct(rest)
                raise Anew
            case "parts":
                self._to_another_part()
                raise Anew
            case "note":
                self._session.note(rest or self._talk.ask(NOTE_LEAD))
                self._talk.say("The note is saved.")
            case "bumped":
                self._bumped(rest)
                raise Anew
            case "review":
                self._talk.say(*review_lines(self._session, self._talk.wording))
            case "report":
                self._talk.say(*reported(self._session, self._session.path, rest, self._folder))
            case "share":
                shared(self._talk, self._session.path, rest)
            case "import":
                taken_up(self._talk, self._folder, rest)
            case "glossary":
                self._talk.say(*glossary_lines())
            case _:
                step = self._step or current_step(self._session, self._talk.wording)
                self._talk.say(*help_lines(step, self._shown(step)))

    def _to_another_part(self) -> None:
        """Raises InputError where the session has no other parts."""
        if not self._session.is_visit:
            raise InputError(ALONE, expected="one of the answers above")
        self._session.begin(pick_part(self._talk, self._session))
        self._saved()

    def _bumped(self, part: str) -> None:
        """Raises InputError or UnknownName for what cannot be bumped."""
        part = spelled(part) if part else pick_bumped(self._talk)
        self._talk.say(f"Saved. {disturb(self._session, part)}")

    def _undo(self) -> None:
        self._talk.say(f"Taken back: {entry_words(take_back(self._session), self._talk.wording)}.")

    def _correct(self, number: str) -> None:
        mark = self._marked(number)
        purpose = for_mark(self._session, mark)
        bench = self._assist.mark(purpose.pulse) if self._assist and purpose.pulse else None
        self._talk.say(f"Correcting entry {mark.id}: {entry_words(mark, self._talk.wording)}.")
        measure(self._talk, self._session, purpose, bench)
        self._saved()

    def _marked(self, number: str) -> Mark:
        """The mark with that entry number; asks which one where none was said.  Raises InputError."""
        marks = [event for event in self._session.effective if isinstance(event, Mark)]
        if not marks:
            raise InputError("There is no mark to correct yet", expected="a mark that was measured")
        if not number:
            options = [Option(str(mark.id), entry_words(mark, self._talk.wording), mark.id) for mark in marks]
            number = self._talk.choose("Which entry?", options)
        found = next((mark for mark in marks if str(mark.id) == number), None)
        if found is None:
            listed = ", ".join(str(mark.id) for mark in marks)
            raise InputError(f"Entry {number!r} is not a mark that counts", expected=f"one of {listed}")
        return found
