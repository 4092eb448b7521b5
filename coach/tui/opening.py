"""The ways to all screens: sessions, practice, help, settings, boxes.

Screens ask the program to open what they cannot know themselves; nothing large is imported before it is opened.
"""

from collections.abc import Callable
from functools import partial, wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec

from coach.errors import CoachError
from coach.tui.commands.command import Commands
from coach.tui.haste import PatientApp
from coach.tui.screens.engine import Engine
from coach.tui.screens.readying import ReadyingScreen

if TYPE_CHECKING:
    from coach.session.document import Practice
    from coach.session.session import Session
    from coach.visit import VisitPart
    from coach.worksheet.typed_in import TypedIn

READYING = "It is being made ready."
SESSION = "The session is being made ready."
BENCH = "The practice bench is being made ready: its machine is invented, and nothing fires."
"""Said while the engine is loaded."""
Given = ParamSpec("Given")
Way = Callable[Concatenate["OpeningApp", Given], None]
"""A way to a screen."""


def once_ready(what: str) -> Callable[[Way[Given]], Way[Given]]:
    """A way that needs the engine: gone at once, or as soon as what is said there is ready."""

    def waiting(way: Way[Given]) -> Way[Given]:
        @wraps(way)
        def go(app: "OpeningApp", /, *args: Given.args, **rest: Given.kwargs) -> None:
            app.when_ready(partial(way, app, *args, **rest), what)

        return go

    return waiting


class OpeningApp(PatientApp):
    """A program that opens screens on what lies in a data folder."""

    def __init__(self, folder: Path, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self.folder = folder
        self.last_path: Path | None = None
        """The file of the session that was open last."""
        self.written: list[Path] = []
        """Reports, in the order in which they were written."""
        self.refusal: CoachError | None = None
        """Why the session with which the program was begun cannot be opened."""
        self._engine = Engine()

    # what needs the engine

    def when_ready(self, act: Callable[[], None], what: str = READYING) -> None:
        """Do what needs the engine: at once, or behind a screen that says what is being made ready."""
        if self._engine.is_loaded:
            act()
        else:
            self.push_screen(ReadyingScreen(self._engine, what, act))

    def load_engine(self, go_on: Callable[[], None], *, for_lists: bool = False) -> None:
        """Load it, on a thread of its own; `go_on` is called between pieces and may raise."""
        (self._engine.load_for_lists if for_lists else self._engine.load)(go_on)

    def push_screen(self, *args: Any, **rest: Any) -> Any:
        """Over what stands there; what only said that this comes gives way to it."""
        if self.screen_stack and isinstance(self.screen, ReadyingScreen) and self.screen.is_over:
            if len(args) == 1 and not rest:
                return self.switch_screen(args[0])
            self.pop_screen()
        return super().push_screen(*args, **rest)

    # sessions

    @once_ready(BENCH)
    def practise(self, practice: "Practice | None" = None) -> None:
        """A new session on the demo machine with a practice bench."""
        import secrets

        from coach.practice.begun import begun
        from coach.session.document import Practice

        self._begin(begun(practice or Practice(seed=secrets.randbelow(10_000))))

    @once_ready(BENCH)
    def rehearse(self) -> None:
        """A new visit to practise, whatever is wrong with its machine."""
        import secrets

        from coach.practice.visit_kinds import ANY
        from coach.session.document import Practice

        self.practise(Practice(kind=ANY, seed=secrets.randbelow(10_000)))

    @once_ready(BENCH)
    def practise_again(self, practice: "Practice") -> None:
        """The practice that was asked for: where one of its kind and seed is unfinished, offer to go on with that."""
        from coach.steps.stored import same_practice, session_words
        from coach.tui.screens.choices import Entry
        from coach.tui.screens.dialogs import Pick

        found = same_practice(self.folder, practice)
        if found is None:
            self.practise(practice)
            return
        path = found.path
        box = Pick(
            "There is one already",
            (f"Not finished: {session_words(found)}.",),
            (Entry("resume", "Resume it"), Entry("anew", "Begin anew")),
        )

        def answered(key: str | None) -> None:
            if key == "resume":
                self.open_session(path)
            elif key == "anew":
                self.practise(practice)

        self.push_screen(box, answered)

    @once_ready(SESSION)
    def new_session(self, machine: Path) -> None:
        """A new session on the machine in that file."""
        from coach.machine import Machine
        from coach.session.session import Session

        try:
            session = Session.start(Machine.load(machine))
        except CoachError as error:
            self.tell(str(error))
            return
        self._begin(session)

    @once_ready(SESSION)
    def new_visit(self, machine: Path, part: "VisitPart") -> None:
        """A new visit to the machine in that file, which begins with that part."""
        from coach.machine import Machine
        from coach.session.starting import started_visit

        try:
            session = started_visit(Machine.load(machine), part)
        except CoachError as error:
            self.tell(str(error))
            return
        self._begin(session)

    @once_ready(SESSION)
    def check_up(self, name: str) -> None:
        """A ten-minute check-up of the stored machine of that name."""
        from coach.session.store import Store
        from coach.upkeep.begun import check_up

        store = Store(self.folder)
        try:
            session = check_up(store.find_machine(name), store.visits(name))
        except CoachError as error:
            self.tell(str(error))
            return
        self._begin(session)

    def _begin(self, session: "Session") -> None:
        try:
            session.keep_new(self.folder)
        except CoachError as error:
            self.tell(str(error))
            return
        self._show(session)

    @once_ready(SESSION)
    def open_session(self, path: Path) -> None:
        """Go on with the session in that file; a finished one is only looked at."""
        try:
            self._open(path)
        except CoachError as error:
            self.tell(str(error))

    @once_ready(SESSION)
    def open_first(self, path: Path) -> None:
        """The same for the session with which the program was begun: without it there is nothing to begin with."""
        try:
            self._open(path)
        except CoachError as error:
            self.refusal = error
            self.exit(1)

    def _open(self, path: Path) -> None:
        from coach.practice.begun import practicable
        from coach.session.events import Finish
        from coach.session.session import Session

        session = practicable(Session.resume(path))
        if any(isinstance(event, Finish) for event in session.effective):
            self._look_at(session)
        else:
            self._show(session)

    def type_in(self, sheet: "TypedIn") -> None:
        """Type that sheet in: no gates, since nothing is fired from there."""
        from coach.tui.screens.sheet import SheetScreen

        self.last_path = sheet.session.path
        self.push_screen(SheetScreen(sheet))

    def _look_at(self, session: "Session") -> None:
        """A finished session: its entries, without the gates, since nothing is fired from there."""
        from coach.practice.assist import Assist
        from coach.tui.screens.review import ReviewScreen

        self.last_path = session.path
        self.push_screen(ReviewScreen(session, Assist(session) if session.practice else None))

    def _show(self, session: "Session") -> None:
        from coach.tui.screens.session import SessionScreen

        try:
            session.opened()
        except CoachError as error:
            self.tell(str(error))
            return
        self.last_path = session.path
        self.push_screen(SessionScreen(session))

    # what stands over a screen

    def tell(self, sentence: str, title: str = "That did not work") -> None:
        """A sentence in a box; any of the usual keys closes it."""
        from coach.tui.screens.dialogs import Say

        self.push_screen(Say(title, sentence))

    def wrote(self, path: Path, sentence: str) -> None:
        """A report was written: said now, and again when the program is left."""
        self.written.append(path)
        self.tell(sentence, "Written")

    def open_help(self, paragraphs: tuple[str, ...], commands: Commands) -> None:
        """Help for this moment, these keys, and what the words mean."""
        from coach.tui.screens.help import HelpScreen

        self.push_screen(HelpScreen(paragraphs, commands))

    def open_commands(self, commands: Commands, run: Callable[[str], None]) -> None:
        """A list of these commands, to search in, and what runs the one taken by its name."""
        from coach.tui.screens.finding import FindCommand

        self.push_screen(FindCommand(commands, self.screen), lambda name: run(name) if name else None)

    def open_settings(self, then: Callable[[], None]) -> None:
        """The settings, and what to do once they are left."""
        from coach.tui.screens.settings import SettingsScreen

        self.push_screen(SettingsScreen(), lambda _: then())
