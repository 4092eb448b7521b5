"""The heart: one step at a time, what to do, why, what to beware of, and what can be said."""

from functools import partial
from typing import ClassVar, assert_never

from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import OptionList

from coach.errors import CoachError, NothingToUndo
from coach.machine import Machine
from coach.session.session import Session
from coach.steps.bumped import disturb
from coach.steps.current import current_step
from coach.steps.cut_baseline import after_choice, take_up
from coach.steps.entries import entry_words
from coach.steps.finish import keep_learned
from coach.steps.keys import ChoiceKey, Wants
from coach.steps.pace import minutes_words
from coach.steps.perform import perform
from coach.steps.standing import remaining_words, standing
from coach.steps.step import Choice, Step
from coach.steps.undo import take_back
from coach.steps.wanted import confirmation, draft_key
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import SESSION
from coach.tui.screens.answers import ask_for
from coach.tui.screens.base import DIGITS
from coach.tui.screens.choices import Choices
from coach.tui.screens.describe_head import describe_head
from coach.tui.screens.stepview import StepScreen
from coach.visit import VisitPart

TYPED: tuple[Wants, ...] = ("turns", "shift", "dose", "why", "figures")
"""What is typed letter by letter, and kept half typed."""
INVENTED = "Practice: this machine and all its marks are invented; nothing fires."


class SessionScreen(StepScreen):
    """One session, from wherever its events leave it."""

    commands = SESSION
    hint_from = 0  # the plan says whether a row can be spared
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(SESSION), *DIGITS]

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.said = INVENTED if self.assist else ""
        self._interrupted = "for" in session.draft

    def on_mount(self) -> None:
        choices = self.query_one("#choices", Choices)
        choices.calm = choices.deliberate = True
        self.said = take_up(self.coach.folder, self.session) or self.said
        self.show_step()

    def show_step(self) -> None:
        """Compute the step from the events anew and show it."""
        self.coach.asks_anew()
        self.step = current_step(self.session, self.wording)
        self.bench = self.assist.mark() if self.assist and self.step.measures else None
        self.beside = self.assist.beside(self.step, self.wording) if self.assist else ""
        self._anew, self.asked = True, None
        self.offer_hint("safety" if self.step.gate else self.step.key)
        self.lay_out()
        self._ask()
        if self._interrupted and not self.step.gate:
            self._interrupted = False
            self.call_after_refresh(self._go_on_typing)

    def _ask(self) -> None:
        """What stands in the list can be taken, as soon as it can be seen."""
        choices = self.query_one("#choices", Choices)
        choices.focus()
        choices.reopen()

    def ask_whether(self, choice: Choice | None) -> None:
        """Read a choice back in place of the choices; None: these again."""
        self.coach.asks_anew()
        self.asked, self._anew = choice, True
        self.lay_out()
        self._ask()

    def _go_on_typing(self) -> None:
        """After a resume: back to what was half typed."""
        drafted = self.session.draft.get("for", "")
        if self.step.measures:
            self.measure()
        for choice in self.step.choices:
            if choice.wants in TYPED and drafted == draft_key(self.session, choice):
                ask_for(self, choice)

    # what the person says

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if not self.is_active:
            return  # another key of the same press opened something: back here the choice can be made
        if self.asked is not None:
            self._answered(self.asked, right=event.option_id == "right")
            return
        choice = next((c for c in self.choices if c.id == event.option_id), None)
        if choice is None:
            return
        match choice.wants:
            case "bench":
                self._fire()
            case "reading":
                self.measure()
            case "turns" | "shift" | "mirror" | "dose" | "why" | "part" | "option" | "figures":
                ask_for(self, choice)
            case "machine":
                describe_head(self, self.session, partial(self._described, self.step, choice), self.tell_after)
            case "":
                if confirmation(self.session, self.step, choice, self.wording):
                    self.ask_whether(choice)
                else:
                    self.record(choice.key)
            case _:
                assert_never(choice.wants)

    def _answered(self, choice: Choice, *, right: bool) -> None:
        """A choice was read back: it is so, or it is not."""
        if right:
            self.record(choice.key)
        else:
            self.ask_whether(None)

    def _described(self, step: Step, choice: Choice, machine: Machine) -> None:
        perform(self.session, step, choice.key, machine=machine)

    def _fire(self) -> None:
        assert self.assist is not None
        try:
            outcome = self.assist.fire(self.step)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self.tell_after("The bench made a mark." if outcome == "mark" else "The bench fired: no mark on the tape.")
        self._measure_at_once()

    def _measure_at_once(self) -> None:
        """A mark was made here and now: it is measured next."""
        if self.step.measures:
            self.measure()

    def record(
        self,
        choice: ChoiceKey,
        *,
        mirror: int | None = None,
        part: VisitPart | None = None,
        option: str | None = None,
    ) -> None:
        """Make the entry.  It is on disk before the screen changes."""
        try:
            perform(self.session, self.step, choice, mirror=mirror, part=part, option=option)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        if choice == "finish":
            self.finish()
        else:
            self.tell_made(self.step, choice)
            if choice == "mark":
                self._measure_at_once()

    def tell_made(self, step: Step, choice: ChoiceKey) -> None:
        """On to the next step, with what comes of that choice in the data folder."""
        self.tell_after(after_choice(self.coach.folder, self.session, step, choice))

    def tell_after(self, words: str) -> None:
        """On to the next step, with a line about what just happened."""
        self.said = words
        self.show_step()

    def measure(self) -> None:
        """Let the person measure the mark of this step."""
        from coach.steps.purpose import for_step
        from coach.tui.screens.measure import MeasureScreen

        purpose = for_step(self.session, self.step)
        self.app.push_screen(MeasureScreen(self.session, purpose, self.assist), self._measured)

    def _measured(self, done: bool | None) -> None:
        self.tell_after(f"Saved: {entry_words(self.session.effective[-1], self.wording)}." if done else "")

    def finish(self) -> None:
        """Say what was kept, and go home."""
        from coach.tui.screens.finished import tell_finished

        sentence = keep_learned(self.coach.folder, self.session)
        app, session = self.app, self.session
        self.dismiss()
        tell_finished(app, session, sentence)

    # commands

    def undo(self) -> None:
        """Take the last entry back and say which."""
        try:
            event = take_back(self.session)
        except NothingToUndo as error:
            self.said = str(error)
            self.lay_out()
        except CoachError as error:
            self.coach.tell(str(error))
        else:
            self.tell_after(f"Taken back: {entry_words(event, self.wording)}.")

    def open_glance(self) -> None:
        """Action and figure alone."""
        from coach.tui.screens.glance import GlanceScreen

        stands = standing(self.session, self.step)
        left = (remaining_words(stands), minutes_words(stands.time))
        self.app.push_screen(GlanceScreen(self.step, left))

    def open_review(self) -> None:
        """All entries."""
        from coach.tui.screens.review import ReviewScreen

        self.app.push_screen(ReviewScreen(self.session, self.assist), lambda _: self.tell_after(""))

    def open_note(self) -> None:
        """A note to the session."""
        from coach.tui.screens.answers import ask_note

        ask_note(self.app, self.session, lambda: self.tell_after("The note is saved."))

    def open_bumped(self) -> None:
        """Something was out and back, or was bumped."""
        from coach.tui.screens.answers import pick_bumped

        pick_bumped(self.app, self._bumped)

    def _bumped(self, part: str) -> None:
        try:
            words = disturb(self.session, part)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self.tell_after(words)

    can_report = True

    def open_report(self) -> None:
        """The session as it stands, as a page, a message, or tables."""
        from coach.tui.screens.report import write_report

        write_report(self.app, self.session, self.session.path)

    @property
    def has_parts(self) -> bool:
        """Whether there are other parts to go to."""
        return self.session.is_visit

    def open_parts(self) -> None:
        """Another part of the visit, now."""
        from coach.tui.screens.answers import pick_part

        pick_part(self.app, self.session, self._go_to)

    def _go_to(self, part: VisitPart) -> None:
        try:
            self.session.begin(part)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self.tell_after("")

    def leave(self) -> None:
        """Back to the choices from one that is read back; else home."""
        if self.asked is not None:
            self.ask_whether(None)
        else:
            self.dismiss()

    def look_again(self) -> None:
        self.show_step()

    def can_scroll_text(self, way: int) -> bool:
        """Whether there is more text above (-1) or below (1)."""
        scroll = self.query_one("#scroll", VerticalScroll)
        return 0 <= scroll.scroll_offset.y + way <= scroll.max_scroll_y

    def scroll_text(self, way: int) -> None:
        """In a small terminal: move the text by one row less than is seen."""
        scroll = self.query_one("#scroll", VerticalScroll)
        scroll.scroll_relative(y=way * max(scroll.size.height - 1, 1), animate=False)

    def help_paragraphs(self) -> tuple[str, ...]:
        step = self.step
        cautions = tuple(f"⚠ {caution.signal} {caution.text} ({caution.source})" for caution in step.cautions)
        left = remaining_words(standing(self.session, step))
        return (f"Now: {step.title}.", *self.texts(), *([f"Probably left: {left}."] if left else []), *cautions)
