"""The ways to all screens: sessions, practice, help, settings, boxes.

Screens ask the program to open what they cannot know themselves; nothing large is imported before it is opened.
"""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from coach.errors import CoachError
from coach.tui.commands.command import Commands
from coach.tui.haste import PatientApp

if TYPE_CHECKING:
    from coach.session.document import Practice
    from coach.session.session import Session
    from coach.visit import VisitPart
    from coach.worksheet.typed_in import TypedIn


class OpeningApp(PatientApp):
    """A program that opens screens on what lies in a data folder."""

    def __init__(self, folder: Path, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self.folder = folder
        self.last_path: Path | None = None
        """The file of the session that was open last."""
        self.written: list[Path] = []
        """Reports, in the order in which they were written."""

    # sessions

    def practise(self, practice: "Practice | None" = None) -> None:
        """A new session on the demo machine with a practice bench."""
        import secrets

        from coach.practice.begun import begun
        from coach.session.document import Practice

        self._begin(begun(practice or Practice(seed=secrets.randbelow(10_000))))

    def rehearse(self) -> None:
        """A new visit to practise, whatever is wrong with its machine."""
        import secrets

        from coach.practice.visit_kinds import ANY
        from coach.session.document import Practice

        self.practise(Practice(kind=ANY, seed=secrets.randbelow(10_000)))

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

    def open_session(self, path: Path) -> None:
        """Go on with the session in that file; a finished one is only looked at."""
        from coach.practice.begun import practicable
        from coach.session.events import Finish
        from coach.session.session import Session

        try:
            session = practicable(Session.resume(path))
        except CoachError as error:
            self.tell(str(error))
            return
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
