"""The full-screen program: opens the screens, keeps the look, and leaves the terminal as it was."""

import asyncio
import contextlib
import gc
import os
import signal
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import Binding, BindingType
from textual.driver import Driver
from textual.filter import LineFilter
from textual.types import AnimationLevel
from textual.worker import WorkerFailed

from coach import settings
from coach.errors import CoachError
from coach.pictures.modes import RasterMode
from coach.shown import IN_MM, Wording
from coach.signs import visible
from coach.tui import themes
from coach.tui.commands import own
from coach.tui.opening import BENCH, OpeningApp
from coach.tui.presses import Presses
from coach.tui.program import Moment, Program
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.hints import HINTS
from coach.tui.screens.home import HomeScreen
from coach.tui.signs import PlainSigns, VisibleSigns
from coach.tui.suspending import let_go, stops_in_turn
from coach.tui.widgets.terminal import Drawing, drawing_there, heed_resizes, only_ascii

if TYPE_CHECKING:
    from coach.session.document import Practice


ENDING = (
    *("SIGTERM", "SIGHUP", "SIGQUIT", "SIGUSR1", "SIGUSR2", "SIGALRM", "SIGVTALRM", "SIGPROF", "SIGPOLL", "SIGXCPU"),
    *("SIGPWR", "SIGINT"),
)
"""Signals that end the program in order: all by which others end one (POSIX.1-2017, signal.h: default action T, and
of A the two that tell no fault of its own), and Linux's for a power supply that gives out."""

LEAVING = "Leaving ... the part of the program that is being loaded is finished first."
"""Said on the terminal as it was: it may be any terminal."""


class CoachApp(OpeningApp):
    """The coach on the whole screen of a terminal."""

    TITLE = "Alignment coach"
    CSS_PATH = Path(__file__).with_name("styles") / "coach.tcss"
    ENABLE_COMMAND_PALETTE = False  # the list of commands is our own: screens/finding.py
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
    BINDINGS: ClassVar[list[BindingType]] = [
        # a box lets nothing through that has no priority
        Binding("ctrl+q,ctrl+c", "quit", "Quit", show=False, system=True, priority=True)
    ]

    def __init__(self, folder: Path, *, practice: "Callable[[], Practice] | None" = None, session: Path | None = None,
                 mode: RasterMode | None = None) -> None:  # fmt: skip
        """`practice` is begun at once, or the session in that file opened; it is made once the engine is loaded.

        `mode` fixes how everything is drawn, whatever the terminal can show.
        """
        plain = "NO_COLOR" in os.environ
        super().__init__(folder, ansi_color=True if plain else None)
        self.mistake: Exception | None = None
        """What ended the program, if it was not the person."""
        self._leaving = False
        """Whether everything is kept and the screens are being taken down."""
        self._ended_early = False
        """Whether somebody ended the program before it could hear that."""
        self._first = (practice, session)
        loaded = settings.load(folder)
        usable, clashes = own.usable(loaded.settings.keys, str(folder / settings.FILE))
        self.settings = replace(loaded.settings, keys=usable)
        """How the person likes it."""
        self.wording = IN_MM
        """How this person wants lengths and turns said; follows from the settings."""
        self._mode, self.drawing = mode, Drawing(mode)
        self.presses = Presses()
        """The keys that took something, for all lists."""
        self.unit_chosen: datetime | None = None
        """When the unit was changed since the program began."""
        self.animation_level: AnimationLevel = "none"
        self._visible_signs, self._plain_signs = VisibleSigns(), PlainSigns()
        self._problems = loaded.problems + clashes
        for theme in themes.OWN:
            self.register_theme(theme)
        self.theme = "ansi-dark" if plain else self.settings.look
        self._heed_settings()

    def get_default_screen(self) -> HomeScreen:
        """Where the program begins; nothing lies below it."""
        return HomeScreen()

    def refresh_css(self, animate: bool = True) -> None:
        """What the look changes; before there is a screen that is only which colours its styles will be read with."""
        if self.screen_stack:
            super().refresh_css(animate)
        else:
            self.stylesheet.set_variables(self.get_css_variables())

    def on_mount(self) -> None:
        self._heed_signals()
        self.asks_anew()
        self.call_after_refresh(gc.enable)  # whoever opened the program may have it looked for garbage later
        practice, session = self._first
        if practice is not None:
            self.when_ready(lambda: self.practise_again(practice()), BENCH)
        elif session is not None:
            self.open_first(session)
        if self._problems:
            self.call_after_refresh(self.tell, "\n\n".join(self._problems), "Settings")

    def _heed_signals(self) -> None:
        """Leave in order when the terminal closes or somebody ends the program."""
        if self.is_headless:
            return
        loop = asyncio.get_running_loop()
        for name in ENDING:
            with contextlib.suppress(NotImplementedError, AttributeError, ValueError, RuntimeError):
                loop.add_signal_handler(getattr(signal, name), self.leave)
        if self._ended_early:
            self.call_after_refresh(self.leave)

    def heed_early_signals(self) -> None:
        """Until the loop hears them: half a start leaves the terminal raw, so it is finished and then left."""
        for name in ENDING:
            with contextlib.suppress(AttributeError, ValueError):  # no such signal here, or not the main thread
                signal.signal(getattr(signal, name), self._end_early)

    def _end_early(self, *_: object) -> None:
        self._ended_early = True

    # looks, leaving

    def next_look(self) -> None:
        """The next set of colours."""
        names = list(settings.LOOKS)
        current = names.index(self.theme) if self.theme in names else -1
        self.change(look=names[(current + 1) % len(names)])
        self.notify(f"Colours: {settings.LOOKS[self.theme]}")

    def notify(self, message: str, **rest: Any) -> None:
        """Say something in passing in the one line for it: nothing is ever laid over what stands there."""
        for screen in reversed(self.screen_stack):
            if isinstance(screen, CoachScreen):
                screen.mention(message, "done")
                return

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
        plain = None if chosen.signs == "auto" else chosen.signs == "ascii"
        self.drawing = Drawing(self._mode, chosen.aspect, plain)
        signs = not only_ascii(self)
        self.wording = Wording(chosen.unit, glyphs=signs, turns_in=chosen.turns_in, way_signs=signs)
        self.set_keymap(own.keymap(chosen.keys))

    @property
    def own_keys(self) -> own.OwnKeys:
        """Keys that the person added."""
        return self.settings.keys

    def get_driver_class(self) -> type[Driver]:
        """What draws: on the terminal, wherever the errors go, and stopped by nobody in the midst of it."""
        return stops_in_turn(drawing_there(super().get_driver_class()))

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """What our styles name, for themes that are not ours."""
        return themes.OF_THE_TERMINAL

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Nothing on the screen commands the terminal; where no more than ASCII can be shown, nothing else is."""
        return [*super().get_line_filters(), self._plain_signs if only_ascii(self) else self._visible_signs]

    def hint(self, moment: Moment) -> str:
        """What to say the first time that this kind of step or screen is shown; "" ever after."""
        if not self.settings.hints or moment in self.settings.seen:
            return ""
        return HINTS.get(moment, "")

    def saw(self, moment: Moment) -> None:
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
        for screen in self.screen_stack:
            if (keep := getattr(screen, "save_draft", None)) is not None:  # an import here would wait for one beside
                keep()
        self._leaving = True
        self.exit(0)

    async def run_async(self, **how: Any) -> int | None:
        """As the toolkit does; then the terminal is given back, and what is loading has still to end."""
        status = await super().run_async(**how)
        if self._engine.is_busy:
            with contextlib.suppress(OSError):  # the terminal is gone
                print(LEAVING, flush=True)
        return status

    def _fatal_error(self) -> None:
        """No traceback on the person's terminal: `run` says what happened."""
        failed = self._exception  # a worker's holds the mistake, and no trace of where that was
        error = failed.error if isinstance(failed, WorkerFailed) else failed
        if isinstance(error, Exception) and not self._leaving:  # a screen that was just coming may miss its parts
            self.mistake = error
        self._close_messages_no_wait()


def run(folder: Path, *, practice: "Callable[[], Practice] | None" = None, session: Path | None = None) -> int:
    """Open the program on the data folder; returns the exit status.

    `practice` makes the practice session that is begun at once, `session` is a stored one that is opened.  Raises
    CoachError for a session that cannot be opened, and passes on what ended the program unexpectedly, either once the
    terminal is restored.
    """
    heed_resizes()
    app = CoachApp(folder, practice=practice, session=session)
    app.heed_early_signals()
    try:
        status = app.run()
    finally:
        let_go(app._driver)
    where = [f"The session is in {app.last_path}"] if app.last_path is not None else []
    for said in (*where, *(f"The report is in {path}" for path in app.written)):
        with contextlib.suppress(OSError):  # the terminal is gone: nobody reads it
            print(visible(said), file=sys.stderr if app.mistake else sys.stdout)
    for ended in (app.mistake, app.refusal):
        if ended is not None:
            raise ended
    return status if status is not None else app.return_code or 0


if TYPE_CHECKING:

    def _as_screens_see_it(app: CoachApp) -> Program:
        return app
