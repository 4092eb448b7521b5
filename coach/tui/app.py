"""The full-screen program: opens the screens, keeps the look, and leaves the terminal as it was."""

import asyncio
import contextlib
import os
import signal
import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import Binding, BindingType
from textual.filter import LineFilter
from textual.types import AnimationLevel

from coach import settings
from coach.errors import CoachError
from coach.shown import show_plain, show_unit
from coach.tui import themes
from coach.tui.commands import own
from coach.tui.commands.palette import ScreenCommands
from coach.tui.haste import PatientApp
from coach.tui.pictures.modes import Usual, only_ascii
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.hints import HINTS
from coach.tui.screens.home import HomeScreen
from coach.tui.signs import PlainSigns

if TYPE_CHECKING:
    from coach.session.document import Practice
    from coach.session.session import Session


class CoachApp(PatientApp):
    """The coach on the whole screen of a terminal."""

    TITLE = "Alignment coach"
    CSS_PATH = Path(__file__).with_name("styles") / "coach.tcss"
    COMMANDS = {ScreenCommands}  # noqa: RUF012 (Textual's own shape)
    HORIZONTAL_BREAKPOINTS = [  # noqa: RUF012 (Textual's own shape)
        (0, "-narrow"),
        (80, "-usual"),
        (100, "-roomy"),
        (140, "-wide"),
    ]
    VERTICAL_BREAKPOINTS = [  # noqa: RUF012 (Textual's own shape)
        (0, "-low"),
        (24, "-medium"),
        (30, "-high"),
        (45, "-tall"),
    ]
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+q,ctrl+c", "quit", "Quit", show=False, system=True)]

    def __init__(self, folder: Path, *, practice: "Practice | None" = None, session: Path | None = None) -> None:
        plain = "NO_COLOR" in os.environ
        super().__init__(ansi_color=True if plain else None)
        self.folder = folder
        self.last_path: Path | None = None
        """The file of the session that was open last."""
        self.mistake: Exception | None = None
        """What ended the program, if it was not the person."""
        self._first = (practice, session)
        loaded = settings.load(folder)
        usable, clashes = own.usable(loaded.settings.keys, str(folder / settings.FILE))
        self.settings = replace(loaded.settings, keys=usable)
        """How the person likes it."""
        self.unit_chosen: datetime | None = None
        """When the unit was changed since the program began."""
        self.animation_level: AnimationLevel = "none"
        self._plain_signs = PlainSigns()
        self._problems = loaded.problems + clashes
        for theme in themes.OWN:
            self.register_theme(theme)
        self.theme = "ansi-dark" if plain else self.settings.look
        self._heed_settings()

    def on_mount(self) -> None:
        self._heed_signals()
        self.push_screen(HomeScreen())
        practice, session = self._first
        if practice is not None:
            self.call_after_refresh(self.practise_again, practice)
        elif session is not None:
            self.call_after_refresh(self.open_session, session)
        if self._problems:
            self.call_after_refresh(self.tell, "\n\n".join(self._problems), "Settings")

    def _heed_signals(self) -> None:
        """Leave in order when the terminal closes or somebody ends the program."""
        if self.is_headless:
            return
        loop = asyncio.get_running_loop()
        for name in ("SIGTERM", "SIGHUP"):
            with contextlib.suppress(NotImplementedError, AttributeError, ValueError, RuntimeError):
                loop.add_signal_handler(getattr(signal, name), self.leave)

    # sessions

    def practise(self, practice: "Practice | None" = None) -> None:
        """A new session on the demo machine with a practice bench."""
        import secrets

        from coach.practice.demo import demo_machine
        from coach.session.document import Practice
        from coach.session.session import Session

        bench = practice or Practice(seed=secrets.randbelow(10_000))
        self._begin(Session.start(demo_machine(), practice=bench))

    def practise_again(self, practice: "Practice") -> None:
        """The practice that was asked for: where one of its kind and seed is unfinished, offer to go on with that."""
        from coach.steps.places import same_practice, session_words
        from coach.tui.screens.dialogs import Pick
        from coach.tui.screens.parts import Entry

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

    def _begin(self, session: "Session") -> None:
        from coach.session.store import Store

        try:
            session.keep_in(Store(self.folder).new_session_path(session.title, session.created))
        except CoachError as error:
            self.tell(str(error))
            return
        self._show(session)

    def open_session(self, path: Path) -> None:
        """Go on with the session in that file; a finished one is only looked at."""
        from coach.session.events import Finish
        from coach.session.session import Session

        try:
            session = Session.resume(path)
        except CoachError as error:
            self.tell(str(error))
            return
        if any(isinstance(event, Finish) for event in session.effective):
            self._look_at(session)
        else:
            self._show(session)

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

    # saying, looks, leaving

    def tell(self, sentence: str, title: str = "That did not work") -> None:
        """A sentence in a box; any of the usual keys closes it."""
        from coach.tui.screens.dialogs import Say

        self.push_screen(Say(title, sentence))

    def next_look(self) -> None:
        """The next set of colours."""
        names = list(settings.LOOKS)
        current = names.index(self.theme) if self.theme in names else -1
        self.change(look=names[(current + 1) % len(names)])
        self.notify(f"Colours: {settings.LOOKS[self.theme]}", markup=False)

    def change(self, **changes: Any) -> str:
        """Heed these settings from now on and keep them; why that failed, or "" where they are on disk."""
        self.settings = replace(self.settings, **changes)
        if "look" in changes:
            self.theme = self.settings.look
        if "unit" in changes:
            self.unit_chosen = datetime.now().astimezone()
        self._heed_settings()
        if "signs" in changes or "aspect" in changes:
            for screen in self.screen_stack:
                for node in screen.walk_children(with_self=True):
                    node.refresh(layout=True)
        try:
            settings.save(self.folder, **changes)
        except CoachError as error:
            return str(error)
        return ""

    def _heed_settings(self) -> None:
        """Hand the settings to those who need them."""
        chosen = self.settings
        Usual.plain = None if chosen.signs == "auto" else chosen.signs == "ascii"
        Usual.aspect = chosen.aspect
        show_unit(chosen.unit)
        show_plain(only_ascii(self))
        self.set_keymap(own.keymap(chosen.keys))

    @property
    def own_keys(self) -> own.OwnKeys:
        """Keys that the person added."""
        return self.settings.keys

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Where no more than ASCII can be shown, nothing else is."""
        filters = super().get_line_filters()
        return [*filters, self._plain_signs] if only_ascii(self) else filters

    def hint(self, moment: str) -> str:
        """What to say the first time that this kind of step or screen is shown; "" ever after."""
        if not self.settings.hints or moment in self.settings.seen:
            return ""
        return HINTS.get(moment, "")

    def saw(self, moment: str) -> None:
        """That hint was shown; it is kept after the next picture, which nothing must hold up."""
        self.settings = replace(self.settings, seen=(*self.settings.seen, moment))
        self.call_after_refresh(self._keep_seen)

    def _keep_seen(self) -> None:
        with contextlib.suppress(CoachError):  # then the hint comes once more, at the next start
            settings.save(self.folder, seen=self.settings.seen)

    async def action_quit(self) -> None:
        """Leave; everything is saved."""
        self.leave()

    def leave(self) -> None:
        """Keep what is being typed, and end the program."""
        from coach.tui.screens.asking import Ask

        for screen in self.screen_stack:
            if isinstance(screen, CoachScreen | Ask):
                screen.save_draft()
        self.exit(0)

    def _fatal_error(self) -> None:
        """No traceback on the person's terminal: `run` says what happened."""
        error = self._exception
        self.mistake = error if isinstance(error, Exception) else None
        self._close_messages_no_wait()


def run(folder: Path, *, practice: "Practice | None" = None, session: Path | None = None) -> int:
    """Open the program on the data folder; returns the exit status.

    `practice` begins a practice session at once, `session` opens a stored one.  Raises CoachError for a session
    that cannot be read, and passes on what ended the program unexpectedly once the terminal is restored.
    """
    if session is not None:
        from coach.session.document import read

        read(session)
    app = CoachApp(folder, practice=practice, session=session)
    status = app.run()
    if app.last_path is not None:
        print(f"The session is in {app.last_path}", file=sys.stderr if app.mistake else sys.stdout)
    if app.mistake is not None:
        raise app.mistake
    return status if status is not None else app.return_code or 0
