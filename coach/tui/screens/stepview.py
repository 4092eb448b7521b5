"""A step on the whole screen: what of it is shown, where, and how large."""

import textwrap
from dataclasses import replace

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content as Words
from textual.events import Resize
from textual.widgets import Static

from coach.pictures.modes import RasterMode
from coach.pictures.view import Scene
from coach.practice.assist import Assist, BenchMark
from coach.scenes.of_step import scene_for, second_scene
from coach.session.session import Session
from coach.steps.current import current_step
from coach.steps.readback import AGAIN, RIGHT
from coach.steps.so_far import so_far
from coach.steps.standing import standing
from coach.steps.step import Choice, Step
from coach.steps.wanted import confirmation
from coach.tui.screens.arrangements import Content
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.fitting import Plan, fit
from coach.tui.screens.parts import Cautions, KeysLine, in_tone
from coach.tui.screens.where_line import WhereLine
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.picture import Picture
from coach.tui.widgets.terminal import pick_mode

WHETHER = (Entry("right", "Yes, that is so", number=RIGHT), Entry("again", "No, back", number=AGAIN))
ROOMY_ROWS = 30
"""From so many rows on a picture has words beneath it that the text says too."""


class StepScreen(CoachScreen[None]):
    """Shows the step that a session's events lead to."""

    AUTO_FOCUS = "#choices"

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.assist = Assist(session) if session.practice is not None else None
        self.step: Step = current_step(session, self.wording)
        self.scene: Scene | None = None
        self.second: Scene | None = None
        """Another picture, where there is room for it."""
        self.bench: BenchMark | None = None
        self.beside = ""
        """What the practice machine of a visit shows here, in words."""
        self.said = ""
        """What was just done, told until the next entry."""
        self.asked: Choice | None = None
        """The choice that is read back in place of the choices."""
        self._anew = True

    def compose(self) -> ComposeResult:
        yield WhereLine(id="where")
        yield BigText(id="action")
        with Horizontal(id="middle"):
            with Vertical(id="left"):
                yield BigText(id="figure")
                with VerticalScroll(id="scroll", can_focus=False):
                    yield Static(id="text")
                yield Choices(id="choices")
            with Vertical(id="right"):
                yield Picture(id="picture")
                with Horizontal(id="lower"):
                    yield Picture(id="small")
                    yield Static(id="side")
            with Vertical(id="third"):
                yield Picture(id="second")
                yield Static(id="beside")
        yield Static(id="said")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_resize(self, event: Resize) -> None:
        self.lay_out()

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be said now."""
        return self.assist.choices(self.step) if self.assist else self.step.choices

    @property
    def rows(self) -> tuple[Entry, ...]:
        """What can be taken now: the choices, or how the one that is read back is answered."""
        if self.asked is not None:
            return WHETHER
        return tuple(Entry(choice.id, choice.label) for choice in self.choices)

    def texts(self, news: int | None = None) -> tuple[str, ...]:
        """The paragraphs of the step, with so much of what the last mark taught; None: all of it."""
        step = self.step
        if self.asked is not None:
            return f"{self.asked.label}?", confirmation(self.session, step, self.asked, self.wording)
        why = (step.why if step.shot and step.advice is None else f"Why: {step.why}",) if step.why else ()
        bench = (f"{self.bench.on('outer', self.wording)}.",) if self.bench else (self.beside,) if self.beside else ()
        return (*step.do, *bench, *step.news[:news], *why, *filter(None, (step.then,)))

    def lay_out(self) -> None:
        """Fit the step into the terminal as it is."""
        if not self.is_mounted or not self.query("#keys"):
            return
        roomy = self.size.height >= ROOMY_ROWS
        self.scene = scene_for(self.session, self.step, self.bench, self.wording, roomy=roomy)
        self.second = second_scene(self.session, self.step, self.wording)
        said = self._said_rows()
        keys = self.query_one("#keys", KeysLine)
        plan = self._plan(len(said))
        if keys.extra:
            with_hint = self._plan(len(said) + keys.extra)
            keys.row_for_hint = with_hint.as_good_as(plan)
            plan = with_hint if keys.row_for_hint else plan
        step, where = self.step, self.query_one("#where", WhereLine)
        where.display = plan.where
        where.say(standing(self.session, step), self.assist is not None)
        for name, text, rows in (
            ("#action", step.action, plan.action_rows),
            ("#figure", step.figure, plan.figure_rows),
        ):
            large = self.query_one(name, BigText)
            large.max_rows, large.display = rows, bool(text)
            large.text = text
            large.refresh(layout=True)
        in_tone(self.query_one("#action", BigText), step.tone)
        self._lay_out_middle(plan)
        self.query_one("#said", Static).update(Words("\n".join(said)))
        self.query_one("#said").display = bool(said)
        self.query_one("#cautions", Cautions).say(plan.cautions)
        keys.display = plan.keys
        keys.say(self.commands)

    def _said_rows(self) -> list[str]:
        """What was just done, whole."""
        return textwrap.wrap(self.said, max(self.size.width - 2, 8), break_on_hyphens=False)

    def _plan(self, taken: int) -> Plan:
        """The plan for what so many rows leave, with as much of the news as costs nothing else."""
        content, width, height = self._content(), self.size.width, self.size.height - taken
        plan = fit(content, width, height)
        for news in range(len(self.step.news), 0, -1):
            with_news = fit(replace(content, text=self.texts(news)), width, height)
            if with_news.as_good_as(plan):
                return with_news
        return plan

    @property
    def ascii_only(self) -> bool:
        """Whether nothing but plain signs is drawn."""
        return pick_mode(self.app) is RasterMode.ASCII

    def _content(self) -> Content:
        step = self.step
        return Content(
            step.action,
            step.figure,
            self.texts(0),
            tuple(row.label for row in self.rows),
            step.kind.own_cautions,
            step.kind.danger_begins,
            self.scene is not None,
            0 if self.asked is not None else int(step.kind.why_was_said and bool(step.why)) + bool(step.then),
            self.ascii_only,
            so_far(self.session, self.wording) if step.part in (None, "beam path") else (),
            self.second is not None,
        )

    def _lay_out_middle(self, plan: Plan) -> None:
        text = Words("\n".join(plan.text)).highlight_regex(r"^Why:", style="bold")
        self.query_one("#text", Static).update(text)
        scroll = self.query_one("#scroll")
        scroll.styles.height = min(plan.text_rows, len(plan.text))
        # a bar that stood in a smaller terminal would wrap the text anew, be needed for that, and stay
        scroll.styles.overflow_y = "auto" if plan.text_rows < len(plan.text) else "hidden"
        scroll.styles.margin = (0, 0, plan.gap, 0)
        self.query_one("#left").styles.width = plan.left if plan.picture else "1fr"
        self.query_one("#middle").styles.margin = (plan.gap, 0)
        self.query_one("#figure").styles.margin = (0, 0, plan.gap, 0)
        picture = self.query_one("#picture", Picture)
        self.query_one("#right").display = plan.picture
        third = self.query_one("#third")
        third.display, third.styles.width = bool(plan.third), plan.third
        for name, there in (("#side", not plan.third), ("#beside", bool(plan.third))):
            side = self.query_one(name, Static)
            side.update(Words("\n".join(plan.side)))
            side.display = there and bool(plan.side)
        lower = self.query_one("#lower")
        lower.styles.height = plan.lower or len(plan.side)
        lower.display = not plan.third and bool(plan.side)
        small = self.query_one("#small", Picture)
        small.scene, small.display = self.second if plan.lower else None, bool(plan.lower)
        picture.scene = self.scene
        second = self.query_one("#second", Picture)
        second.scene, second.display = self.second, self.second is not None
        choices = self.query_one("#choices", Choices)
        if self.rows != choices.entries or self._anew:
            asked = len(self.rows) - 1 if self.asked is not None else None
            choices.offer(self.rows, plan.left, asked, large=plan.large_choices, ascii_only=self.ascii_only)
            self._anew = False
        choices.fit_to(plan.left, large=plan.large_choices, ascii_only=self.ascii_only)
