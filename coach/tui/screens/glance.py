"""What to do now, alone, as large as the terminal allows: for reading across the workshop."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import Screen
from textual.widgets import Static

from coach.tui.widgets.bigtype import BigText


class GlanceScreen(Screen[None]):
    """Action and figure; the usual keys go back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("g,G,f2,enter,space,escape,q,Q,f4,backspace", "dismiss", "Back", show=False)
    ]

    def __init__(self, action: str, figure: str) -> None:
        super().__init__()
        self.action, self.figure = action, figure

    def compose(self) -> ComposeResult:
        with Vertical():
            yield BigText(self.action, id="action")
            yield BigText(self.figure, id="figure")
        yield Static("⚠ Pulse briefly and let go.   G or Enter: back", id="keys")

    def on_mount(self) -> None:
        self.query_one("#figure").display = bool(self.figure)

    def on_resize(self) -> None:
        rows = max(self.size.height - 2, 2)
        self.query_one("#action", BigText).max_rows = max(rows * 3 // 5, 1)
        self.query_one("#figure", BigText).max_rows = max(rows * 2 // 5 - 1, 1)
