"""The first picture, and what stands while the rest is loaded."""

import subprocess
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from app_driving import Driver, running, stands, stored_session
from stillness import until

from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.session import Session
from coach.steps.cautions import ALWAYS
from coach.tui.app import LEAVING, CoachApp
from coach.tui.screens import engine
from coach.tui.screens.engine import Engine, Left
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.readying import IN_A_MOMENT, ReadyingScreen
from coach.tui.screens.session import SessionScreen

BENCH = Practice(kind="fine", seed=3)
HEAVY = ("numpy", "pydantic", "sqlite3", "coach.machine", "coach.session", "coach.advice", "coach.practice.bench")
FIRST_PAINT = """
import asyncio, sys
from pathlib import Path
from coach.cli.options import build_parser
from coach.tui.app import CoachApp
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.readying import ReadyingScreen

HomeScreen.load = ReadyingScreen.make_ready = lambda screen: None  # what comes after the first picture

async def shown(**first):
    app = CoachApp(Path(sys.argv[1]), **first)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        return " ".join(strip.text for strip in app.screen._compositor.render_strips())

build_parser([]), build_parser(["practice", "--seed", "1"])
home = asyncio.run(shown())
session = asyncio.run(shown(session=Path("some.toml")))
loaded = [name for name in {heavy!r} if name in sys.modules]
print("Practise" in home, "hold the fire button" in session, *loaded)
"""


def test_the_first_picture_needs_no_engine(tmp_path: Path) -> None:
    """Home, and what stands while a session is made ready, come before numbers, models and steps are loaded."""
    code = FIRST_PAINT.format(heavy=HEAVY)
    done = subprocess.run([sys.executable, "-c", code, str(tmp_path)], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["True", "True"]


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """An engine that is loaded once this is set."""
    go_on = threading.Event()

    def pieces() -> Iterator[None]:
        yield
        assert go_on.wait(30)
        yield

    monkeypatch.setattr(engine, "pieces", pieces)
    yield go_on
    go_on.set()


async def waiting(app: CoachApp, pilot: Any, slow: threading.Event, act: Callable[[Driver], Any]) -> Driver:
    """The program while it loads, after that was done; then loaded."""
    driver = Driver(app, pilot)
    try:
        await until(pilot, lambda: isinstance(app.screen, ReadyingScreen) and not app.is_asking_anew)
        await driver.heard()
        await act(driver)
    finally:
        slow.set()
    await driver.settle()
    await driver.settle()
    return driver


async def test_what_stands_until_the_first_step(tmp_path: Path, slow: threading.Event) -> None:
    """The three cautions and what comes; keys that would answer are told; then the step takes its place."""

    async def look(driver: Driver) -> None:
        assert all(stands(driver, caution) for caution in ALWAYS)
        assert "being made ready" in driver.text()
        await driver.press("enter", "1")
        assert IN_A_MOMENT in driver.text()
        assert not list(tmp_path.rglob("*.toml"))

    app = CoachApp(tmp_path, practice=lambda: BENCH)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = await waiting(app, pilot, slow, look)
        assert [type(screen) for screen in app.screen_stack] == [HomeScreen, SessionScreen]
        assert driver.session.practice == BENCH
        assert [event.kind for event in driver.session.events] == ["opened"]


@pytest.mark.parametrize("size", [(20, 5), (40, 12), (1, 1)])
async def test_it_fits_small_terminals(tmp_path: Path, slow: threading.Event, size: tuple[int, int]) -> None:
    """However small: nothing breaks, and from a few rows on the cautions stand in brief."""

    async def look(driver: Driver) -> None:
        said = driver.part("#cautions")
        assert size == (1, 1) or ("hold the fire" in said and "Keep watch for" in said)

    app = CoachApp(tmp_path, practice=lambda: BENCH)
    async with app.run_test(size=size) as pilot:
        await waiting(app, pilot, slow, look)
        assert isinstance(app.screen, SessionScreen)


async def test_back_before_it_is_ready(tmp_path: Path, slow: threading.Event) -> None:
    """Whoever goes back gets the list, and nothing is begun behind it."""

    async def back(driver: Driver) -> None:
        await driver.press("q")
        assert isinstance(driver.screen, HomeScreen)

    app = CoachApp(tmp_path, practice=lambda: BENCH)
    async with app.run_test(size=(80, 24)) as pilot:
        await waiting(app, pilot, slow, back)
        assert [type(screen) for screen in app.screen_stack] == [HomeScreen]
        assert not list(tmp_path.rglob("sessions/*"))


async def test_a_box_over_it_holds_nothing_up_for_good(tmp_path: Path, slow: threading.Event) -> None:
    """Settings that cannot be used are told first; once that box is closed the session stands."""
    (tmp_path / "settings.toml").write_text("look = 7\n")
    app = CoachApp(tmp_path, practice=lambda: BENCH)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = Driver(app, pilot)
        await until(pilot, lambda: len(app.screen_stack) == 3)
        slow.set()
        await driver.settle()
        assert "look" in driver.text()
        await driver.press("enter")
        await driver.settle()
        assert isinstance(driver.screen, SessionScreen)


async def test_a_file_that_cannot_be_opened_ends_the_program(tmp_path: Path) -> None:
    """With its sentence, for the shell to say; the file is as it was."""
    path = tmp_path / "sessions" / "old.toml"
    Session.start(demo_machine()).save(path)
    path.write_text(broken := path.read_text().replace("machine", "machine ]"))
    app = CoachApp(tmp_path, session=path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app._exit)
    assert "not valid TOML" in str(app.refusal)
    assert path.read_text() == broken


async def test_home_opens_what_needs_the_engine_once_it_is_there(tmp_path: Path, slow: threading.Event) -> None:
    """A row that is taken before everything is loaded: it is said so, and then done."""
    app = CoachApp(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = Driver(app, pilot)
        await driver.heard()
        await driver.press("2")
        await waiting(app, pilot, slow, lambda driver: driver.heard())
        assert isinstance(app.screen, SessionScreen)
    assert stored_session(tmp_path)


def test_loading_ends_between_two_pieces() -> None:
    """Whoever leaves waits for one piece at most, and what is half loaded is not called ready."""
    asked = []

    def left() -> None:
        asked.append(1)
        raise Left

    half = Engine()
    with pytest.raises(Left):
        half.load(left)
    assert (half.is_loaded, len(asked)) == (False, 1)
    half.load(lambda: None)
    assert half.is_loaded


async def test_what_is_loaded_already_is_not_waited_for(tmp_path: Path) -> None:
    """At home, once all is loaded, a row opens its screen at once."""
    async with running(tmp_path) as driver:
        driver.app.practise(BENCH)
        assert isinstance(driver.screen, SessionScreen)
        await driver.settle()


class _Odd(BaseException):
    """Ends a program, as SystemExit does."""


@pytest.mark.parametrize("wrong", [RuntimeError("no such number"), ImportError("no numbers"), SystemExit(3), _Odd()])
async def test_what_fails_to_load_is_told_with_its_trace(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, wrong: BaseException
) -> None:
    """Whatever a part of the program raises while it is loaded ends the program, and where that was is known."""

    def pieces() -> Iterator[None]:
        yield
        raise wrong

    monkeypatch.setattr(engine, "pieces", pieces)
    app = CoachApp(tmp_path, practice=lambda: BENCH)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.mistake is not None)
        app._exception = None  # the tests' own way of running a program raises it again
    assert wrong in (app.mistake, app.mistake and app.mistake.__cause__)
    assert "in pieces" in "".join(traceback.format_exception(app.mistake))


async def test_a_mistake_in_what_was_waited_for_is_told(tmp_path: Path) -> None:
    """A RuntimeError in the step that is shown first is no way of leaving."""

    def fails() -> Practice:
        raise RuntimeError("in the first step")

    app = CoachApp(tmp_path, practice=fails)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.mistake is not None)
        app._exception = None
    assert str(app.mistake) == "in the first step"


async def test_who_leaves_while_a_piece_is_loading_is_told(
    tmp_path: Path, slow: threading.Event, capsys: pytest.CaptureFixture[str]
) -> None:
    """The terminal is given back at once, and the shell's next line has to wait."""

    async def leaves(pilot: Any) -> None:
        await until(pilot, lambda: pilot.app._engine.is_busy)
        pilot.app.leave()

    await CoachApp(tmp_path, practice=lambda: BENCH).run_async(headless=True, size=(80, 24), auto_pilot=leaves)
    slow.set()
    assert LEAVING in capsys.readouterr().out
