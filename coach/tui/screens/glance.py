"""What to do now, alone, as large as the terminal allows: for reading across the workshop."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.events import Resize
from textual.screen import Screen
from textual.widgets import Static

from coach.steps.step import Step
from coach.tui.screens.band import band_rows, briefest
from coach.tui.screens.leaving import clickable
from coach.tui.screens.parts import Cautions, in_tone
from coach.tui.widgets.bigtype import BigText

BACK = "G or Enter: back"
ROOMY = 20
"""Rows from which the step's first caution is said in a whole sentence."""


class GlanceScreen(Screen[None]):
    """Action, figure, the cautions that belong to them, and how much is left; the usual keys go back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("g,G,insert,enter,space,escape,q,Q,f4", "dismiss", "Back", show=False)
    ]

    def __init__(self, step: Step, left: tuple[str, ...] = ()) -> None:
        """`left`: how much is left, in shorter and shorter wordings."""
        super().__init__()
        self.left, self.tone = left, step.tone
        self.action, self.figure, self.own = step.action, step.figure, step.kind.own_cautions

    def compose(self) -> ComposeResult:
        with Vertical():
            yield BigText(self.action, id="action")
            yield BigText(self.figure, id="figure")
        yield Cautions(id="cautions")
        yield Static(id="keys")

    def on_mount(self) -> None:
        in_tone(self.query_one("#action"), self.tone)

    def on_resize(self, event: Resize) -> None:
        self.query_one("#figure").display = bool(self.figure)
        room, roomy = self.size.width - 2, self.size.height >= ROOMY
        cautions = band_rows(self.own[:1], room, listed=True, whole=False) if roomy else briefest(self.own[:1], room)
        self.query_one("#cautions", Cautions).say(cautions)
        lines = [f"{BACK} · to do: {words}" for words in self.left if words]
        fitting = (line for line in lines if len(line) <= self.size.width - 2)
        self.query_one("#keys", Static).update(clickable(next(fitting, BACK), (BACK, "screen.dismiss")))
        rows = max(self.size.height - 1 - len(cautions), 2)
        self.query_one("#action", BigText).max_rows = max(rows * 3 // 5, 1)
        self.query_one("#figure", BigText).max_rows = max(rows * 2 // 5 - 1, 1)
        for large in self.query(BigText):
            large.refresh(layout=True)
