"""The program in a real terminal emulator: drawn, resized, left and ended in order, with colours and without."""

import os
import re
import select
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from coach.practice.assist import Assist
from coach.session.events import Arrive, Gate, Mark, Pulse
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.gates import GATES
from coach.tui.presses import Presses

TMUX = shutil.which("tmux")
pytestmark = pytest.mark.skipif(
    TMUX is None, reason="needs tmux, a terminal emulator that can be asked what it shows"
)

PROMPT = "ready>"
PATIENCE = 60.0
"""Seconds until a condition that does not come true is a failure: long, as the machine may have more to do."""
AGAIN = 2.0
"""Seconds after which a key that changed nothing is pressed once more, as a person would."""
GLANCE = 0.05
"""Seconds between two looks at the screen, so that looking leaves the program some of the machine."""
COLOUR = re.compile(rb"\x1b\[(?:[0-9;:]*[;:])?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:[;:][0-9;:]*)?m")
"""Sets a colour: select graphic rendition with 30 to 38, 40 to 48, 90 to 97 or 100 to 107 (ECMA-48 and aixterm)."""
GAPS = re.compile(r"left ([0-9.]+), right ([0-9.]+), top ([0-9.]+), bottom ([0-9.]+)")
LOOK = Presses.READ + 0.1
"""Seconds without a change before the screen counts as drawn and read: whoever presses sooner is not heard."""
ENVIRONMENTS = {"colour": {"TERM": "xterm-256color"}, "no colour": {"TERM": "xterm-256color", "NO_COLOR": "1"}}


class Emulator:
    """A shell in tmux, 80x24, on a socket of its own, with nobody's settings."""

    def __init__(self, folder: Path, socket: Path, environment: dict[str, str]) -> None:
        self.folder, self.socket = folder, socket
        self.sent, self.pid = folder / "sent", folder / "pid"
        given = {k: v for k, v in os.environ.items() if k not in ("TMUX", "NO_COLOR", "COLORTERM", "TERM")}
        self.environment = {**given, "LC_ALL": "C.UTF-8", "TERM": "xterm-256color"}
        inside = {**environment, "LC_ALL": "C.UTF-8", "PS1": f"{PROMPT} ", "ALIGNMENT_COACH_DATA": str(folder)}
        unset = ("-u", "NO_COLOR", "-u", "COLORTERM")
        shell = shlex.join(["env", *unset, *(f"{key}={value}" for key, value in inside.items()), "sh"])
        self.tmux("new-session", "-d", "-x", "80", "-y", "24", shell)
        self.tmux("pipe-pane", "-o", f"cat >> {shlex.quote(str(self.sent))}")
        self.wait(lambda: PROMPT in self.shown())

    def tmux(self, *words: str) -> str:
        """Ask tmux; its answer."""
        command = [str(TMUX), "-u", "-S", str(self.socket), "-f", "/dev/null", *words]
        done = subprocess.run(command, capture_output=True, text=True, env=self.environment, check=True)
        return done.stdout

    def rows(self) -> list[str]:
        """What the terminal shows."""
        return self.tmux("capture-pane", "-p").splitlines()

    def shown(self) -> str:
        """The same with single blanks and without the cautions' bar, so that wrapped sentences are found."""
        return " ".join(" ".join(self.rows()).replace("▌", " ").split())

    def wait(self, condition: Callable[[], bool], patience: float = PATIENCE) -> None:
        """Until the condition is true; a traceback never is."""
        assert self.comes(condition, patience), "\n".join(self.rows())

    def comes(self, condition: Callable[[], bool], patience: float) -> bool:
        """Whether the condition comes true in so many seconds; a traceback ends the wait."""
        end = time.monotonic() + patience
        while not condition():
            shown = self.shown()
            assert "Traceback" not in shown, shown
            if time.monotonic() > end:
                return False
            select.select([], [], [], GLANCE)
        return True

    def press_at(self, words: str, *keys: str, then: Callable[[], bool] | None = None) -> None:
        """Wait until the words stand there and nothing more is drawn, then press, and wait for what it does.

        That is `then`, else that the words are gone.  A key that came before a slow screen took keys is not heeded:
        while the words still stand there and nothing is drawn, it is pressed again.
        """
        self.wait(lambda: words in self.shown())
        done = then or (lambda: words not in self.shown())
        for _ in range(int(PATIENCE / AGAIN)):
            self.wait(self.quiet)
            if done():
                return
            self.tmux("send-keys", *keys)
            if self.comes(done, AGAIN):
                return
        raise AssertionError(f"{keys} at {words!r} does nothing:\n" + "\n".join(self.rows()))

    def type_at(self, words: str, text: str) -> None:
        """Type into the field where the cursor stands: once only, as a letter more would be another number."""
        self.wait(lambda: words in self.shown())
        self.wait(self.quiet)
        self.tmux("send-keys", text)
        self.wait(lambda: f"{words} {text}" in self.shown())

    def quiet(self) -> bool:
        """Whether nothing was sent for as long as a person looks."""
        before, end = self.sent.stat().st_size, time.monotonic() + LOOK
        while time.monotonic() < end and self.sent.stat().st_size == before:
            self.rows()
        return self.sent.stat().st_size == before

    def start(self, *words: str) -> None:
        """Run the coach from the shell; its process is known by `pid`."""
        coach = shlex.join([sys.executable, "-m", "coach", *words])
        script = self.folder / "start.sh"
        script.write_text(f"echo $$ > {shlex.quote(str(self.pid))}\nexec {coach}\n", encoding="utf-8")
        self.tmux("send-keys", f"sh {shlex.quote(str(script))}", "Enter")

    def session(self) -> Session:
        """The session as it is on disk."""
        (path,) = (self.folder / "sessions").glob("*.toml")
        return Session.load(path)

    def assert_restored(self) -> None:
        """The shell stands on the main screen again, with a cursor, and no mouse is reported."""
        self.wait(lambda: bool(self.rows()) and [row for row in self.rows() if row.strip()][-1].strip() == PROMPT)
        state = "#{alternate_on} #{cursor_flag} #{mouse_any_flag} #{pane_current_command}"
        assert self.tmux("display-message", "-p", state).split() == ["0", "1", "0", "sh"]
        assert b"Traceback" not in self.sent.read_bytes()


@contextmanager
def emulator(folder: Path, environment: dict[str, str]) -> Iterator[Emulator]:
    """A terminal that is gone afterwards, whatever happens; a socket's path has to be short."""
    with tempfile.TemporaryDirectory(prefix="coach-") as short:
        socket = Path(short) / "s"
        try:
            yield Emulator(folder, socket, environment)
        finally:
            command = [str(TMUX), "-S", str(socket), "kill-server"]
            subprocess.run(command, capture_output=True, check=False)


def pass_gates(terminal: Emulator) -> None:
    """Acknowledge each gate once it stands there: Enter and Space in turn, as one held key counts once."""
    for number, gate in enumerate(GATES):
        terminal.press_at(gate.confirm, "Space" if number % 2 else "Enter")


def measure(terminal: Emulator) -> list[str]:
    """Fire, and type what the bench's callipers say on the screen; returns the gaps as they were typed."""
    terminal.press_at("1 There, fresh tape", "Space")
    terminal.press_at("1 Fire the practice bench", "Enter")
    terminal.press_at("▶Crosshair", "PageDown")
    terminal.wait(lambda: "▶ left" in terminal.shown() and GAPS.search(terminal.shown()) is not None)
    found = GAPS.search(terminal.shown())
    assert found is not None
    for name, gap in zip(("left", "right", "top", "bottom"), found.groups(), strict=True):
        terminal.type_at(f"▶ {name}", gap)
        terminal.press_at(f"▶ {name} {gap}", "Enter")
    terminal.press_at("1 Yes, keep it", "Space")
    return list(found.groups())


@pytest.mark.sweep
@pytest.mark.parametrize("name", ENVIRONMENTS)
def test_colours_only_where_they_are_wanted(tmp_path: Path, name: str) -> None:
    """A gate, home and out: with NO_COLOR set not one colour is sent, without it there are some."""
    with emulator(tmp_path, ENVIRONMENTS[name]) as terminal:
        terminal.start("practice", "--kind", "aligned", "--seed", "4")
        terminal.press_at(GATES[0].confirm, "Enter")
        terminal.wait(lambda: GATES[1].confirm in terminal.shown())
        drawn = terminal.tmux("capture-pane", "-p", "-e").encode()
        terminal.press_at("PRACTICE", "q")
        terminal.press_at("Resume practice, seed 4", "Q")
        terminal.assert_restored()
        assert (name == "colour") == bool(COLOUR.search(drawn))
        assert (name == "colour") == bool(COLOUR.search(terminal.sent.read_bytes()))


@pytest.mark.sweep
def test_to_the_second_station_and_out(tmp_path: Path) -> None:
    """Gates, one station measured, the second reached, the window made small and large, and Q twice.

    The file replays with exactly that; the terminal is as it was.
    """
    with emulator(tmp_path, ENVIRONMENTS["colour"]) as terminal:
        terminal.start("practice", "--kind", "aligned", "--seed", "4")
        pass_gates(terminal)
        gaps = measure(terminal)
        terminal.wait(lambda: "Saved: Mark at" in terminal.shown())
        caution = current_step(terminal.session(), IN_MM).cautions[0].text
        for columns, rows in ((60, 20), (80, 24)):
            terminal.tmux("resize-window", "-x", str(columns), "-y", str(rows))
            # drawn for 80 columns and cut at 60 the sentence would not be whole
            terminal.wait(lambda: caution in terminal.shown() and "There, fresh tape" in terminal.shown())
        terminal.press_at("PRACTICE", "q")
        terminal.press_at("Resume practice, seed 4", "Q")
        terminal.assert_restored()

        session = terminal.session()
        told = [event for event in session.effective if event.kind != "opened"]
        assert [event.name for event in told if isinstance(event, Gate)] == [gate.name for gate in GATES]
        assert [type(event) for event in told[len(GATES) :]] == [Arrive, Pulse, Mark]
        mark = told[-1]
        assert isinstance(mark, Mark)
        assert [mark.typed[side] for side in ("left", "right", "top", "bottom")] == gaps
        bench = Assist(session).mark()
        assert bench is not None
        assert (mark.u, mark.v) == pytest.approx((bench.u, bench.v), abs=0.1)  # gaps are said to 0.1 mm
        step = current_step(session, IN_MM)  # its gates are asked again only once the program is opened anew
        assert (step.key, step.shot is not None and step.shot.name != mark.station) == ("go", True)


@pytest.mark.sweep
def test_an_exported_size_does_not_stand_for_the_window(tmp_path: Path) -> None:
    """With COLUMNS and LINES exported the screen follows the window all the same."""
    with emulator(tmp_path, {**ENVIRONMENTS["colour"], "COLUMNS": "59", "LINES": "15"}) as terminal:
        terminal.start()
        terminal.wait(lambda: "Practise on the demo machine" in terminal.shown())
        for columns, rows in ((58, 14), (80, 24)):
            terminal.tmux("resize-window", "-x", str(columns), "-y", str(rows))
            told = (columns, rows) == (80, 24)
            terminal.wait(lambda told=told: ("New here?" in terminal.shown()) is told)
        terminal.press_at("New here?", "Q")
        terminal.assert_restored()


@pytest.mark.sweep
def test_ended_from_outside(tmp_path: Path) -> None:
    """SIGTERM in the middle of the job: the terminal as it was, the session's path printed, what was said on disk."""
    with emulator(tmp_path, ENVIRONMENTS["colour"]) as terminal:
        terminal.start("practice", "--kind", "aligned", "--seed", "4")
        terminal.press_at(GATES[0].confirm, "Enter")
        terminal.wait(lambda: GATES[1].confirm in terminal.shown())
        os.kill(int(terminal.pid.read_text(encoding="utf-8")), signal.SIGTERM)
        terminal.assert_restored()
        assert "The session is in" in terminal.shown()
        assert [event.name for event in terminal.session().effective if isinstance(event, Gate)] == [GATES[0].name]
