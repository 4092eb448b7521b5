"""Describing a machine: one question at a time, or all values in a list; kept on disk as it grows."""

import contextlib
from dataclasses import replace
from typing import ClassVar

from textual.binding import BindingType
from textual.events import DescendantFocus
from textual.timer import Timer
from textual.widgets import Input, OptionList

from coach.describing.description import Description
from coach.describing.drafts import Draft, keep
from coach.describing.profile import missing, screw
from coach.describing.question import Question
from coach.describing.saving import save
from coach.describing.slips import Doubt, weighed
from coach.describing.usual import UNKNOWN
from coach.describing.walking import OVERVIEW, all_keys, following, preceding
from coach.describing.words import said
from coach.errors import CoachError, InputError
from coach.session.store import Store
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import DESCRIBING
from coach.tui.screens.asking import PAUSE
from coach.tui.screens.base import DIGITS
from coach.tui.screens.choices import NOTHING_YET, Choices
from coach.tui.screens.describe_view import SAVE, DescribeView
from coach.tui.screens.describe_words import FIRST, LETTER, NOTHING, NOTHING_REQUIRED, UNANSWERED, doubt_entries
from coach.tui.screens.dialogs import Pick
from coach.tui.screens.measure_parts import NumberInput
from coach.tui.screens.parts import KeysLine


class DescribeScreen(DescribeView):
    """Dismissed with the machine's file once it is kept, with None when the person leaves; the draft then waits."""

    commands = DESCRIBING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(DESCRIBING), *DIGITS]

    def __init__(self, draft: Draft) -> None:
        super().__init__(draft)
        self._begun = draft
        self._kept: Draft | None = None
        self._listed: frozenset[str] = frozenset()
        """What the list of all values held when it was reached: a changed value then leads back to it."""
        self._timer: Timer | None = None

    def on_mount(self) -> None:
        self.offer_hint("describe")
        at = self.draft.at or (OVERVIEW if self.draft.machine else self.asked[0].key)
        self.ask(at, entry=self.draft.entry)

    # what is asked

    @property
    def typing(self) -> bool:
        """Whether something is typed: letters are no commands then."""
        return isinstance(self.focused, Input)

    def ask(self, key: str, *, entry: str | None = None, trouble: str = "") -> None:
        """Ask that question, or list all values."""
        known = any(question.key == key for question in self.asked)
        before = self.draft.at if self._listed else ""
        self.draft = replace(self.draft, at=key if known else OVERVIEW, entry=entry or "")
        if not known:
            self._listed = all_keys(self.draft.description)
        self.seen, self.trouble = self.draft.description, trouble
        question, choices = self.question, self.query_one("#choices", Choices)
        choices.calm = question is None
        self.offer_rows(self._standing(question, before))
        if (field := self.entry) is not None:
            answered = self.draft.description.answers.get(self.draft.at, "")
            field.value = entry or answered
            field.cursor_position = len(field.value)
            field.focus()
        else:
            choices.focus()
        choices.reopen()
        self.preview()

    def _standing(self, question: Question | None, before: str) -> int | None:
        """The row to highlight: the answer or the thread that stands, or in the list the value just asked about."""
        description = self.draft.description
        wanted = before if question is None else description.answers.get(question.key)
        if question is not None and wanted is None and question.key.endswith(".thread"):
            wanted = screw(description, question.mirror).get("thread")
        if question is not None and wanted is None and question.said_only:
            return NOTHING_YET
        if question is not None and wanted is None:
            wanted = UNKNOWN  # where it is offered: Enter in passing must not say that a part is fixed
        return next((index for index, row in enumerate(self.rows()) if row.key == wanted), None)

    # what is typed or highlighted

    def preview(self) -> None:
        """Show the description as it would be."""
        question, field = self.question, self.entry
        description = self.draft.description
        if question is not None:
            text = field.value if field is not None else self._highlighted()
            with contextlib.suppress(InputError):  # half typed: the drawing stays with what stands
                description = (
                    description.answered(question.key, text, self.wording.unit) if text.strip() else description
                )
        self.seen = description
        self.lay_out()

    def _highlighted(self) -> str:
        choices = self.query_one("#choices", Choices)
        index = choices.highlighted
        return choices.entries[index].key if index is not None and index < len(choices.entries) else ""

    def on_input_changed(self, event: Input.Changed) -> None:
        event.stop()
        if event.input is not self.entry:
            return
        if event.value != self.draft.entry:
            self.trouble = ""
            stands = self.draft.description.answers.get(self.draft.at, "")
            self.draft = replace(self.draft, entry="" if event.value == stands else event.value)
        self.preview()
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE, self.save_draft)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self.preview()

    def on_number_input_refused(self, event: NumberInput.Refused) -> None:
        """Letters that are no unit are a slip, and no commands while a number is typed."""
        self.mention(LETTER.format(dropped=event.dropped), lasts=True)

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        self.query_one("#keys", KeysLine).say(self.commands)

    # answers

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter takes what is typed; a refusal leaves it as it is."""
        event.stop()
        self.coach.presses.elsewhere("enter")
        question, entry = self.question, self.entry
        if question is None or event.input is not entry or event.value != entry.value or not self.is_active:
            return  # a second Enter of the same press: the first one went on to the next question
        self._take_typed(event.value)

    def _take_typed(self, text: str) -> None:
        """An answer as it is typed, or why it cannot be one."""
        question = self.question
        assert question is not None
        if not text.strip():
            self._say(NOTHING_REQUIRED if question.required else NOTHING)
            return
        try:
            found = weighed(self.draft.description, question.key, text, self.wording.unit)
        except InputError as error:
            self._say(f"! {error}")
            return
        if isinstance(found, Doubt):
            self._question(found)
        else:
            self._take(found)

    def _question(self, doubt: Doubt) -> None:
        """An unlikely answer: type it again, keep it, or take the likelier one."""

        def answered(key: str | None) -> None:
            if (description := {"keep": doubt.kept, "other": doubt.meant}.get(key or "")) is not None:
                self._take(description)

        self.app.push_screen(Pick("Is this right?", (doubt.sentence,), doubt_entries(doubt)), answered)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        key, question = event.option_id or "", self.question
        if question is not None:
            self._take(self.draft.description.answered(question.key, key))
        elif key == SAVE:
            self.keep_machine()
        else:
            self.ask(key)

    def _take(self, description: Description) -> None:
        """On with these answers, on disk at once: to the next question, or back to the list."""
        leads_to = following(description, self.draft.at, listed=self._listed)
        self.draft = replace(self.draft, description=description, entry="")
        self.ask(leads_to)
        self.save_draft()

    # commands

    def guess(self) -> None:
        """Not known: the usual value stands in, and is marked as a guess."""
        question = self.question
        if question is None:
            question = self.highlighted_question()
            if question is None or question.required:
                self.mention("Highlight a value that can be guessed")
                return
            self.draft = replace(
                self.draft, description=self.draft.description.unanswered(question.key), at=question.key
            )
        self._take(self.draft.description.unanswered(question.key))
        now = said(self.draft.description, question, self.wording)
        self.mention(f"{question.title[:1].upper()}{question.title[1:]}: {now}", "done")

    def go_after(self) -> None:
        """What is typed is taken as by Enter; an answer that stands is kept as it is."""
        question, entry = self.question, self.entry
        if entry is not None:
            self._take_typed(entry.value)
        elif question is not None and question.key in self.draft.description.answers:
            self._take(self.draft.description)
        else:
            self.mention(UNANSWERED)

    def go_before(self) -> None:
        """The question before this one."""
        self.save_draft()
        before = preceding(self.draft.description, self.draft.at, listed=self._listed)
        if self.question is None:
            self._listed = frozenset()
        if before is None:
            self.mention(FIRST)
        else:
            self.ask(before)

    def enough(self) -> None:
        """All values, the rest guessed; first what cannot be guessed."""
        lacking = missing(self.draft.description)
        if lacking:
            others = "These cannot" if len(lacking) > 1 else "This cannot"
            self.ask(lacking[0], trouble=f"{others} be guessed: travel and side. Everything else can.")
        else:
            self.ask(OVERVIEW)
        self.save_draft()

    def other_unit(self) -> None:
        """Millimetres or inches, here and everywhere."""
        problem = self.coach.change(unit="mm" if self.wording.unit == "in" else "in")
        self.offer_rows(self.query_one("#choices", Choices).highlighted)
        self.preview()
        unit = "inches" if self.wording.unit == "in" else "millimetres"
        self.mention(problem or f"Lengths without a unit are {unit}", "nothing" if problem else "done")

    def keep_machine(self) -> None:
        """Write the machine, and leave."""
        try:
            path = save(Store(self.coach.folder), self.draft)
        except CoachError as error:
            self.refused(str(error))
            return
        self._kept = self._begun = self.draft
        self.dismiss(path)

    def refused(self, sentence: str) -> None:
        """It could not be kept: why, and everything as it was."""
        self._say(f"! {sentence}")
        self.query_one("#choices", Choices).reopen()

    def _say(self, words: str) -> None:
        self.trouble = words
        self.lay_out()

    # nothing is lost

    def save_draft(self) -> None:
        """Keep on disk what was answered and what is half typed, if anything changed."""
        draft, begun = self.draft, self._begun
        same = (draft.description, draft.entry) == (begun.description, begun.entry)
        if draft == self._kept or (self._kept is None and same):
            return
        try:
            self.draft = self._kept = keep(draft)
        except CoachError as error:
            self._say(f"! {error}")

    def leave(self) -> None:
        self.save_draft()
        self.dismiss(None)

    def help_paragraphs(self) -> tuple[str, ...]:
        cautions = tuple(f"⚠ {caution.signal} {caution.text} ({caution.source})" for caution in self.cautions())
        question = self.question
        asked = (
            ()
            if question is None
            else (f"{question.title}: {said(self.draft.description, question, self.wording)}.",)
        )
        return (
            *asked,
            *self.paragraphs(),
            "What nobody measured is guessed, marked with the word, and reckoned with more doubt; the first turns "
            "teach what matters. Half a description waits on the first screen until it is kept.",
            *cautions,
        )
