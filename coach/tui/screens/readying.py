"""What stands while a session or something else that needs the engine is made ready: what comes, and what to heed.

It needs nothing of the engine itself, so that it is there at once.
"""

from collections.abc import Callable
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content as Words
from textual.events import Key, Resize
from textual.widgets import Static
from textual.worker import get_current_worker

from coach.pictures.modes import RasterMode
from coach.tui.commands.at_home import READYING
from coach.tui.commands.command import bindings
from coach.tui.screens.arrangements import Content
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.engine import Engine, Left, while_it_stands
from coach.tui.screens.fitting import fit
from coach.tui.screens.parts import Cautions, KeysLine
from coach.tui.widgets.bigtype import BigText
from coach.tui.widgets.terminal import pick_mode

IN_A_MOMENT = "Nothing is asked yet: in a moment."


class ReadyingScreen(CoachScreen[None]):
    """Says what is being made ready, loads the engine meanwhile, and then does what was wanted of it."""

    commands = READYING
    hint_from = 0
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(READYING)]
    AUTO_FOCUS = ""

    def __init__(self, engine: Engine, what: str, then: Callable[[], None]) -> None:
        """`what` is a sentence; `then` is done on the screen's own thread."""
        super().__init__()
        self._engine, self._what, self._then = engine, what, then
        self.is_over = False
        """Whether there is nothing to wait for any more."""

    def compose(self) -> ComposeResult:
        yield BigText("In a moment", id="action")
        with VerticalScroll(id="form", can_focus=False):
            yield Static(id="text")
        yield Cautions(id="cautions")
        yield KeysLine(id="keys")

    def on_mount(self) -> None:
        self.call_after_refresh(self.make_ready)

    def on_resize(self, event: Resize) -> None:
        """As a step is fitted: what must be heeded never gives way."""
        ascii_only = pick_mode(self.app) is RasterMode.ASCII
        content = Content("In a moment", "", (self._what,), (), (), whole=True, picture=False, ascii_only=ascii_only)
        plan = fit(content, event.size.width, event.size.height)
        action = self.query_one("#action", BigText)
        action.max_rows = plan.action_rows
        action.display = len(plan.cautions) < event.size.height
        action.refresh(layout=True)
        form = self.query_one("#form")
        form.display, form.styles.margin = plan.text_rows > 0, (plan.gap, 0, 0, 0)
        self.query_one("#text", Static).update(Words("\n".join(plan.text)))
        self.query_one("#cautions", Cautions).say(plan.cautions)
        keys = self.query_one("#keys", KeysLine)
        keys.display = plan.keys
        keys.say(self.commands)

    def on_key(self, event: Key) -> None:
        """Nothing is asked here, so nothing can be answered; what other screens say of a key would say less."""
        event.prevent_default()
        if not any(key in self.active_bindings for key in event.aliases):
            self.mention(IN_A_MOMENT)

    @work(thread=True, exclusive=True)
    def make_ready(self) -> None:
        """Load the engine away from the screen's own thread."""
        worker = get_current_worker()

        def go_on() -> None:
            if worker.is_cancelled:
                raise Left

        with while_it_stands(self.app, worker):
            self._engine.load(go_on)
            go_on()
            self.app.call_from_thread(self._ready)

    def _ready(self) -> None:
        self.is_over = True
        self._go_on()

    def on_screen_resume(self) -> None:
        """A box that stood over it is closed."""
        super().on_screen_resume()
        self._go_on()

    def _go_on(self) -> None:
        """Do what was waited for while this still stands; what it opens takes this screen's place."""
        if self.is_over and self.is_active:
            self._then()
            if self.is_active:
                self.dismiss()
