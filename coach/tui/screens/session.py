"""The heart: one step at a time, what to do, why, what to beware of, and what can be said."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content as Words
from textual.events import Resize
from textual.widgets import OptionList, Static

from coach.errors import CoachError, NothingToUndo
from coach.practice.assist import FIRE, Assist, BenchMark
from coach.session.session import Session
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.steps.standing import standing
from coach.steps.step import Choice, Step
from coach.tui.commands.command import bindings
from coach.tui.commands.registry import SESSION
from coach.tui.pictures.modes import RasterMode, pick_mode
from coach.tui.pictures.view import Scene
from coach.tui.screens.answers import ask_for
from coach.tui.screens.base import DIGITS, CoachScreen
from coach.tui.screens.finish import keep_learned
from coach.tui.screens.fitting import Content, Plan, fit
from coach.tui.screens.parts import Cautions, Choices, Entry, KeysLine, WhereLine
from coach.tui.screens.scenes import scene_for
from coach.tui.screens.wording import entry_words
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture

ROOMY_ROWS = 30
"""From so many rows on a picture has words beneath it that the text says too."""
INVENTED = "Practice: this machine and all its marks are invented; nothing fires."


class SessionScreen(CoachScreen[None]):
    """One session, from wherever its events leave it."""

    commands = SESSION
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(SESSION), *DIGITS]
    AUTO_FOCUS = "#choices"

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.assist = Assist(session) if session.practice is not None else None
        self.step: Step = current_step(session)
        self.scene: Scene | None = None
        self.bench: BenchMark | None = None
        self.said = INVENTED if self.assist else ""
        """What was just done, told until the next entry."""
        self._interrupted = bool(session.draft)

    def compose(self) -> ComposeResult:
        yield Static(id="said-above", classes="said")
        yield WhereLine(id="where")
        yield BigText(id="action")
        yield BigText(id="figure")
        with Horizontal(id="middle"):
            with Vertical(id="left"):
                with VerticalScroll(id="scroll", can_focus=False):
                    yield Static(id="text")
                yield Choices(id="choices")
            yield Picture(id="picture")
        yield Static(id="said", classes="said")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.show_step()

    def on_resize(self, event: Resize) -> None:
        self.lay_out()

    # showing

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be said now."""
        return self.assist.choices(self.step) if self.assist else self.step.choices

    def show_step(self) -> None:
        """Compute the step from the events anew and show it."""
        self.step = current_step(self.session)
        self.bench = self.assist.mark() if self.assist and self.step.key == "measure" else None
        self.lay_out()
        self.query_one("#choices").focus()
        if self._interrupted and self.step.key == "measure":
            self._interrupted = False
            self.call_after_refresh(self.measure)

    def texts(self) -> tuple[str, ...]:
        """The paragraphs of the step."""
        step = self.step
        why = (step.why if step.shot and step.advice is None else f"Why: {step.why}",) if step.why else ()
        bench = (f"{self.bench.callipers}.",) if self.bench else ()
        return (*step.do, *bench, *why)

    def lay_out(self) -> None:
        """Fit the step into the terminal as it is."""
        if not self.is_mounted or not self.query("#keys"):
            return
        roomy = self.size.height >= ROOMY_ROWS
        self.scene = scene_for(self.session, self.step, self.bench, roomy=roomy)
        plan, said_below = self._plan()
        step, where = self.step, self.query_one("#where", WhereLine)
        where.display = plan.where and (said_below or not self.said)
        where.say(standing(self.session, step), self.assist is not None)
        for name, text, rows in (
            ("#action", step.action, plan.action_rows),
            ("#figure", step.figure, plan.figure_rows),
        ):
            large = self.query_one(name, BigText)
            large.max_rows, large.display = rows, bool(text)
            large.text = text
            large.refresh(layout=True)
        self._lay_out_middle(plan)
        for name, shown in (("#said", said_below), ("#said-above", not said_below)):
            said = self.query_one(name, Static)
            said.update(Words(self.said))
            said.display = bool(self.said) and shown
        self.query_one("#cautions", Cautions).say(plan.cautions)
        keys = self.query_one("#keys", KeysLine)
        keys.display = plan.keys
        keys.say(self.commands)

    def _plan(self) -> tuple[Plan, bool]:
        """The plan, and whether what was just done has a row of its own; else it takes the place of the stages."""
        content, (width, height) = self._content(), self.size
        whole = fit(content, width, height)
        if not self.said:
            return whole, True
        less = fit(content, width, height - 1)
        return (less, True) if less.as_good_as(whole) else (whole, not whole.where)

    def _content(self) -> Content:
        step = self.step
        return Content(
            step.action,
            step.figure,
            self.texts(),
            tuple(choice.label for choice in self.choices),
            tuple(caution.text for caution in step.cautions),
            self.scene is not None,
            int(step.key in ("screw", "move") and bool(step.why)),
            pick_mode(self.app) is RasterMode.ASCII,
        )

    def _lay_out_middle(self, plan: Plan) -> None:
        text = Words("\n".join(plan.text)).highlight_regex(r"^Why:", style="bold")
        self.query_one("#text", Static).update(text)
        scroll = self.query_one("#scroll")
        scroll.styles.height = min(plan.text_rows, len(plan.text))
        scroll.styles.margin = (0, 0, plan.gap, 0)
        self.query_one("#left").styles.width = plan.left if plan.picture else "1fr"
        self.query_one("#middle").styles.margin = (plan.gap, 0)
        self.query_one("#action").styles.margin = (plan.gap, 0, 0, 0)
        self.query_one("#figure").styles.margin = (plan.figure_rows > 1, 0, 0, 0)
        picture = self.query_one("#picture", Picture)
        picture.display = plan.picture
        picture.scene = self.scene
        choices = self.query_one("#choices", Choices)
        entries = tuple(Entry(choice.key, choice.label) for choice in self.choices)
        if entries != choices.entries:
            choices.offer(entries, plan.left)
        choices.fit_to(plan.left)

    # what the person says

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        choice = next((c for c in self.choices if c.key == event.option_id), None)
        if choice is None:
            return
        if choice.key == FIRE.key and self.assist:
            self._fire(self.assist)
        elif choice.wants == "reading":
            self.measure()
        elif choice.wants:
            ask_for(self, choice)
        else:
            self.record(choice.key)

    def _fire(self, assist: Assist) -> None:
        try:
            outcome = assist.fire(self.step)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        self.tell_after("The bench made a mark." if outcome == "mark" else "The bench fired: no mark on the tape.")

    def record(self, choice: str, *, mirror: int | None = None) -> None:
        """Make the entry.  It is on disk before the screen changes."""
        try:
            perform(self.session, self.step, choice, mirror=mirror)
        except CoachError as error:
            self.coach.tell(str(error))
            return
        if choice == "finish":
            self.finish()
        else:
            self.tell_after("")

    def tell_after(self, words: str) -> None:
        """On to the next step, with a line about what just happened."""
        self.said = words
        self.show_step()

    def measure(self) -> None:
        """Let the person measure the mark of this step."""
        from coach.tui.screens.measure import MeasureScreen
        from coach.tui.screens.purpose import for_step

        purpose = for_step(self.session, self.step)
        self.app.push_screen(MeasureScreen(self.session, purpose, self.assist), self._measured)

    def _measured(self, done: bool | None) -> None:
        self.tell_after(f"Saved: {entry_words(self.session.effective[-1])}." if done else "")

    def finish(self) -> None:
        """Say what was kept, and go home."""
        sentence = keep_learned(self.coach.folder, self.session)
        self.dismiss()
        self.coach.tell(sentence, "Finished")

    # commands

    def undo(self) -> None:
        """Take the last entry back and say which."""
        try:
            event = self.session.undo()
        except NothingToUndo as error:
            self.said = str(error)
            self.lay_out()
        except CoachError as error:
            self.coach.tell(str(error))
        else:
            self.tell_after(f"Taken back: {entry_words(event)}.")

    def open_glance(self) -> None:
        """Action and figure alone."""
        from coach.tui.screens.glance import GlanceScreen

        self.app.push_screen(GlanceScreen(self.step.action, self.step.figure))

    def open_review(self) -> None:
        """All entries."""
        from coach.tui.screens.review import ReviewScreen

        self.app.push_screen(ReviewScreen(self.session, self.assist), lambda _: self.tell_after(""))

    def open_note(self) -> None:
        """A note to the session."""
        from coach.tui.screens.answers import ask_note

        ask_note(self.app, self.session, lambda: self.tell_after("The note is saved."))

    def scroll_text(self, way: int) -> None:
        """In a small terminal: move the text by one row less than is seen."""
        scroll = self.query_one("#scroll", VerticalScroll)
        scroll.scroll_relative(y=way * max(scroll.size.height - 1, 1), animate=False)

    def help_paragraphs(self) -> tuple[str, ...]:
        step = self.step
        cautions = tuple(f"⚠ {caution.text} ({caution.source})" for caution in step.cautions)
        return (f"Now: {step.title}.", *self.texts(), *cautions)
