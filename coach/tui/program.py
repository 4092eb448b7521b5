"""What screens and their parts ask of the program around them.

The program opens the screens, so they cannot import it; it is told apart by what it can do.
"""

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, Protocol, cast

from textual.app import App

from coach.settings import Settings
from coach.shown import Wording
from coach.steps.keys import StepKey
from coach.tui.commands.command import Commands
from coach.tui.presses import Presses
from coach.visit import VisitPart

if TYPE_CHECKING:  # not before the first paint
    from coach.session.document import Practice
    from coach.worksheet.typed_in import TypedIn

Moment = StepKey | Literal["home", "measuring", "review", "describe", "settings", "upkeep"]
"""When a hint may be shown: at a step, or on a screen."""


class Program(Protocol):
    """The full-screen program: what the person likes, where the files are, and the ways to other screens."""

    folder: Path
    settings: Settings
    unit_chosen: datetime | None
    presses: Presses

    @property
    def wording(self) -> Wording:
        """How this person wants lengths and turns said."""

    @property
    def own_keys(self) -> Mapping[str, tuple[str, ...]]:
        """Keys that the person added."""

    def change(self, **changes: Any) -> str:
        """Heed these settings from now on and keep them; why that failed, or ""."""

    def next_look(self) -> None:
        """The next set of colours."""

    def hint(self, moment: Moment) -> str:
        """What to say the first time that this kind of step or screen is shown; "" ever after."""

    def saw(self, moment: Moment) -> None:
        """That hint was shown."""

    def asks_anew(self) -> None:
        """Something new is asked: what was pressed before it stands on the screen is no answer to it."""

    def wrote(self, path: Path, sentence: str) -> None:
        """A file was written where the person asked: say so now, and again when the program is left."""

    def tell(self, sentence: str, title: str = ...) -> None:
        """A sentence in a box."""

    def open_help(self, paragraphs: tuple[str, ...], commands: Commands) -> None:
        """Help for this moment, these keys, and what the words mean."""

    def open_settings(self, then: Callable[[], None]) -> None:
        """The settings, and what to do once they are left."""

    def open_commands(self, commands: Commands, run: Callable[[str], None]) -> None:
        """A list of these commands, to search in, and what runs the one taken by its name."""

    def when_ready(self, act: Callable[[], None], what: str = ...) -> None:
        """Do what needs the engine: at once, or behind a screen that says what is being made ready."""

    def load_engine(self, go_on: Callable[[], None], *, for_lists: bool = ...) -> None:
        """Load that, or what lists need of it, on a thread of its own; `go_on`, called between pieces, may raise."""

    def practise(self, practice: "Practice | None" = None) -> None:
        """A new session on the demo machine."""

    def rehearse(self) -> None:
        """A new visit to practise on the demo machine."""

    def new_visit(self, machine: Path, part: VisitPart) -> None:
        """A new visit to the machine in that file, which begins with that part."""

    def new_session(self, machine: Path) -> None:
        """A new session on the machine in that file."""

    def check_up(self, name: str) -> None:
        """A ten-minute check-up of the stored machine of that name."""

    def type_in(self, sheet: "TypedIn") -> None:
        """Type that sheet in."""

    def open_session(self, path: Path) -> None:
        """Go on with the session in that file."""


def program_of(app: App[Any]) -> Program:
    """The app, by what it can do for a screen."""
    return cast("Program", app)
