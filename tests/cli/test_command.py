"""The command itself: what it imports, how it ends, what it does when something breaks."""

import argparse
import io
import os
import subprocess
import sys
import time
from pathlib import Path
from types import ModuleType

import pytest
from _surroundings import ROOT
from shellside import Shell

from coach import __version__
from coach.cli import main as command
from coach.cli.options import build_parser
from coach.cli.parser import Parser, join_negative
from coach.session.document import Practice
from coach.session.index import survey
from coach.session.summary import SUMMARY

LOADED = """
import sys
from coach.cli.main import main
status = main(sys.argv[1:])
print(status, *(name for name in {names!r} if name in sys.modules), file=sys.stderr)
"""


def modules_of(names: tuple[str, ...], *argv: str) -> str:
    """Status and which of these modules a fresh Python had loaded after the call."""
    code = LOADED.format(names=names)
    return subprocess.run([sys.executable, "-c", code, *argv], capture_output=True, text=True, check=True).stderr


def test_the_version_loads_nothing_heavy(tmp_path: Path) -> None:
    """--version and --help need neither numpy nor pydantic, and no screen."""
    heavy = ("numpy", "pydantic", "textual", "rich", "platformdirs", "coach.session.session")
    for option in ("--version", "--help"):
        assert modules_of(heavy, option).split() == ["0"]


@pytest.mark.sweep
def test_headless_actions_load_no_screen(shell: Shell) -> None:
    """Each kind of action without a screen runs in a Python that never sees Textual or rich."""
    session = str(shell.begun())
    machine = ("new-machine", "Other", "--width", "600", "--depth", "400", "--side", "left")
    mark = ("mark", "last", "middle", "--u", "1", "--v", "1")
    plain = ("open", "--plain", "--answers", os.devnull)
    looks = (("advise", session), ("list", "--json"), ("check", session), ("learned", session))
    for argv in (machine, mark, *looks, plain):
        assert modules_of(("textual", "rich", "coach.tui.app"), "--data", str(shell.folder), *argv).split() == ["0"]


SCREENS = ("textual", "rich", "coach.tui", "coach.plain")
PAGES = (
    "jinja2",
    "coach.report",
    "coach.scenes",
    "coach.history",
    "coach.worksheet",
    "coach.practice.bench",
    "scipy",
)


def test_lists_and_entries_load_what_they_need(shell: Shell) -> None:
    """A list with a warm index reads no session and reckons nothing; an entry opens no page, step or bench."""
    path = shell.begun()
    survey(shell.folder, (SUMMARY,), now=lambda: time.time_ns() + 60_000_000_000)
    data = ("--data", str(shell.folder))
    sessions = ("numpy", "filelock", "coach.session.session", "coach.session.events", "coach.belief")
    assert modules_of((*SCREENS, *PAGES, *sessions), *data, "list").split() == ["0"]
    for entry in (("mark", "last", "middle", "--u", "1", "--v", "1"), ("note", str(path), "dust")):
        assert modules_of((*SCREENS, *PAGES, "coach.steps.table"), *data, *entry).split() == ["0"]


def test_the_command_line_as_a_person_starts_it(shell: Shell) -> None:
    """`python -m coach`: the version on standard output, a misuse on standard error with status 2."""
    call = [sys.executable, "-m", "coach"]
    version = subprocess.run([*call, "--version"], capture_output=True, text=True, check=True)
    assert (version.stdout.split()[-1], version.stderr) == (__version__, "")
    misuse = subprocess.run([*call, "mark"], capture_output=True, text=True, check=False)
    assert (misuse.returncode, misuse.stdout, misuse.stderr.count("\n")) == (2, "", 1)


def test_signs_give_way_where_the_output_has_no_room_for_them(shell: Shell) -> None:
    """On an ASCII terminal − becomes - and ° becomes deg; nothing fails and no number is lost."""
    shell.begun()
    code = "import sys; from coach.cli.main import main; sys.exit(main(sys.argv[1:]))"
    done = subprocess.run(
        [sys.executable, "-c", code, "--data", str(shell.folder), "turn", "last", "1", "B=-1/8"],
        capture_output=True,
        env={"PYTHONIOENCODING": "ascii", "PATH": "", "PYTHONPATH": str(ROOT)},
        check=True,
    )
    assert b"B 7.5 ticks (45 deg) counterclockwise" in done.stdout


def test_a_parser_for_one_action_takes_what_the_whole_one_takes() -> None:
    """Each action is found in the room that is opened for it; all are told of where none is known."""

    def told(parser: Parser) -> dict[str, str]:
        found = (a for a in parser._actions if isinstance(a, argparse._SubParsersAction))
        return {name: each.format_help() for some in found for name, each in some.choices.items()}

    whole = told(build_parser())
    for name, text in whole.items():
        alone = told(build_parser(["--data", "list", "--plain", name, "--help"]))
        assert alone[name] == text
        assert len(alone) < len(whole) / 2
    for given in (["--help"], ["unheard-of"], ["--data=x", "--", "list"]):
        assert told(build_parser(given)) == whole
    for given in ([], ["--version"], ["--data", "list"], ["--plain", "--answers", "-"]):
        assert not told(build_parser(given))


def test_negative_values_follow_their_option() -> None:
    """argparse takes "-0,4" for an option; joined to its own option it is a value.  After -- nothing is joined."""
    assert join_negative(["--u", "-0,4", "--v", "-.5"]) == ["--u=-0,4", "--v=-.5"]
    assert join_negative(["--u=1", "-0,4"]) == ["--u=1", "-0,4"]
    assert join_negative(["--keep", "--u", "--", "-1"]) == ["--keep", "--u", "--", "-1"]


def test_data_before_or_behind_the_action(shell: Shell, tmp_path: Path) -> None:
    """The folder may be named on either side; the one behind wins."""
    shell.begun()
    other = tmp_path / "other"
    assert f"Data folder: {shell.folder}" in shell.ok("list")
    assert f"Data folder: {other}" in shell.ok("list", "--data", str(other))
    assert f"Data folder: {other}" in shell.ok("list", f"--data={other}")


def test_an_interrupt_is_quiet(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl+C ends with 130 and no words."""

    def interrupted(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(command, "_run", interrupted)
    said = shell("list")
    assert (said.status, said.out, said.err) == (130, "", "")


def test_a_reader_that_left_is_no_error(shell: Shell) -> None:
    """Standard output closed at the other end: nothing is said about it."""
    shell.begun()
    code = "import sys; from coach.cli.main import main; sys.exit(main(sys.argv[1:]))"
    call = [sys.executable, "-c", code, "--data", str(shell.folder), "list"]
    with subprocess.Popen(call, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 0


def test_a_mistake_of_the_coach_is_one_sentence_and_a_file(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """An unexpected exception: status 1, one line without a traceback, and the traceback in the file it names."""

    def broken(_: object) -> int:
        raise ZeroDivisionError("inside")

    monkeypatch.setattr(command, "_run", broken)
    said = shell("list")
    assert (said.status, said.out, said.err.count("\n")) == (1, "", 1)
    assert "Traceback" not in said.err
    (report,) = (shell.folder / "reports").iterdir()
    assert str(report) in said.err
    text = report.read_text()
    assert "ZeroDivisionError: inside" in text
    assert "Traceback" in text
    assert "list" in text


class Terminal(io.StringIO):
    """Says that it is one."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[tuple[Path, dict[str, object]]]:
    """A full-screen program that only notes how it was opened, on a terminal that only says it is one."""
    calls: list[tuple[Path, dict[str, object]]] = []

    def run(folder: Path, **options: object) -> int:
        calls.append((folder, options))
        return 0

    app = ModuleType("coach.tui.app")
    app.run = run  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "coach.tui.app", app)
    monkeypatch.setattr(sys, "__stdin__", Terminal())
    monkeypatch.setattr(sys, "__stdout__", Terminal())
    monkeypatch.setenv("TERM", "xterm")
    return calls


def test_the_full_screen_is_opened_as_asked(shell: Shell, opened: list[tuple[Path, dict[str, object]]]) -> None:
    """Plain, practice with its seed and kind, and a stored session; a new seed each time where none is given."""
    session = shell.begun()
    shell.ok()
    shell.ok("practice", "--seed", "7", "--kind", "yaw")
    shell.ok("open")
    assert opened[0] == (shell.folder, {})
    assert opened[1][1]["practice"]() == Practice(kind="yaw", seed=7)  # type: ignore[operator]
    assert opened[2] == (shell.folder, {"session": session})
    seeds = set()
    for _ in range(8):
        shell.ok("practice")
        practice = opened[-1][1]["practice"]
        seeds.add(practice().seed)  # type: ignore[operator]
    assert len(seeds) > 1  # eight equal ones of ten thousand: once in 10²⁸


def test_without_a_terminal_the_full_screen_says_so(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    """Piped in or out, the full screen is refused before anything of it is loaded."""
    monkeypatch.setattr(sys, "__stdin__", io.StringIO())
    said = shell()
    assert (said.status, said.out) == (2, "")
    assert "needs a terminal" in said.err
    assert said.err.endswith("Example: coach --plain\n")
    heavy = ("numpy", "pydantic", "textual", "coach.plain.run")
    assert modules_of(heavy, "--data", str(shell.folder)).splitlines()[-1] == "2"
