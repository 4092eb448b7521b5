"""Help: this moment, all keys, what the words mean."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from coach.steps.glossary import GLOSSARY
from coach.tui.commands import own
from coach.tui.commands.command import Commands
from coach.tui.screens.leaving import clickable

MOVING = (
    ("Up, Down", "Move in a list, or between fields."),
    ("Enter or Space", "Take the highlighted entry."),
    ("1 to 9", "Go to that entry; outside a job, take it at once."),
    ("Ctrl+Q", "Leave the program; everything is saved."),
)
KEY_COLUMNS = 16


class HelpScreen(Screen[None]):
    """Scrolls with the arrows; the usual keys go back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("question_mark,f1,q,Q,f4,escape,enter", "dismiss", "Back", show=False),
        Binding("space", "page", "Next page", show=False),
    ]
    AUTO_FOCUS = "VerticalScroll"

    def __init__(self, paragraphs: tuple[str, ...], commands: Commands) -> None:
        super().__init__()
        self.paragraphs, self.commands = paragraphs, commands

    def compose(self) -> ComposeResult:
        with VerticalScroll():
            yield Static(Content.assemble(("Help", "bold reverse")), classes="heading")
            for paragraph in self.paragraphs:
                yield Static(Content(paragraph), classes="paragraph")
            yield Static(Content.assemble(("Keys here", "bold")), classes="heading")
            keys_of = getattr(self.app, "own_keys", {})
            for command in self.commands:
                yield self._row(own.shown(command, keys_of), f"{command.label}: {command.about}")
            for keys, about in MOVING:
                yield self._row(keys, about)
            yield Static(Content.assemble(("Words", "bold")), classes="heading")
            for word, meaning in GLOSSARY:
                yield self._row(word, meaning)
        yield Static(clickable("Up, Down: scroll · ? or Q: back", ("? or Q: back", "screen.dismiss")), id="keys")

    @staticmethod
    def _row(left: str, right: str) -> Static:
        return Static(Content.assemble((left.ljust(KEY_COLUMNS), "bold"), f" {right}"), classes="entry-row")

    def action_page(self) -> None:
        """Space turns a page."""
        self.query_one(VerticalScroll).scroll_page_down(animate=False)
