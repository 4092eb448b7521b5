"""Every key that is listed reaches its command, and what the commands show."""

from pathlib import Path

import pytest
from app_driving import Driver, running, session_at
from built_steps import stored
from stillness import until
from sweeps import sampled
from textual.widgets import Input

from coach.session.document import Practice
from coach.steps.words import BOTH_SENSES as DIRECTIONS
from coach.tui.commands.command import Commands
from coach.tui.commands.own import usable
from coach.tui.commands.registry import HOME, MEASURING, REVIEW, SESSION
from coach.tui.commands.search import fitting
from coach.tui.haste import TOO_EARLY
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.finding import KEYS, FindCommand
from coach.tui.screens.glance import GlanceScreen
from coach.tui.screens.help import HelpScreen
from coach.tui.screens.review import ReviewScreen
from coach.tui.screens.session import SessionScreen

BENCH = Practice(kind="fine", seed=3)


async def go_to(driver: Driver, commands: Commands) -> None:
    """To the screen that has these commands."""
    if commands is HOME:
        await driver.press("q")
    elif commands is MEASURING:
        await driver.to_step("measure")
        await driver.press("enter")
    elif commands is REVIEW:
        await driver.to_step("measure")
        await driver.press("enter")
        await driver.measure()
        await driver.press("r")
    assert driver.screen.commands is commands


SCREENS = {"home": HOME, "session": SESSION, "measuring": MEASURING, "review": REVIEW}


@pytest.mark.parametrize("name", sampled(SCREENS, "session", "review"))
async def test_every_listed_key_reaches_its_command(
    tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each key of each command runs that command, function keys also while a number field has the focus."""
    commands, heard = SCREENS[name], list[str]()
    async with running(tmp_path, practice=BENCH) as driver:
        await go_to(driver, commands)
        monkeypatch.setattr(CoachScreen, "action_command", lambda self, name: heard.append(name))
        typing = {"minus", "plus", "subtract", "add", "enter", "space"}  # belong to a number while one is typed
        for command in commands:
            for key in command.keys:
                if commands is MEASURING:
                    free = key in typing or key.isalpha()  # letters never act while a number is typed
                    driver.screen.change({"way": "crosshair" if free else "gaps"})
                    driver.screen.show_method()
                    assert (driver.screen.focused is None) == free
                heard.clear()
                await driver.press(key)
                assert heard == [command.name], key


async def test_the_key_line_has_at_most_five_and_all_letters_have_twins() -> None:
    """Five keys in the line; every letter in both cases and with a key that is no letter."""
    for commands in (HOME, SESSION, MEASURING, REVIEW):
        assert sum(command.in_line for command in commands) <= 5
        keys = [key for command in commands for key in command.keys]
        assert len(keys) == len(set(keys))
        for command in commands:
            letters = {key for key in command.keys if len(key) == 1 and key.isalpha()}
            assert letters == {key.swapcase() for key in letters}
            assert any(len(key) > 1 for key in command.keys), command.name
            assert "backspace" not in command.keys


async def test_what_the_commands_show(tmp_path: Path) -> None:
    """Glance, help, review, note and undo, each by a key, and back."""
    async with running(tmp_path, practice=BENCH) as driver:
        await driver.to_step("pulse")
        await driver.press("g")
        assert isinstance(driver.screen, GlanceScreen)
        assert driver.screen.query_one("#action").text == "One short pulse"
        await driver.press("g", "?")
        assert isinstance(driver.screen, HelpScreen)
        assert "Pulse at back-left" in driver.text()
        assert "common practice" in driver.text()
        await driver.press("end")
        await driver.settle()  # the end is found once all is laid out
        assert "spread" in driver.text()
        await driver.press("q", "n")
        await driver.type("Tube sounds odd [hm]")
        await driver.press("enter")
        assert isinstance(driver.screen, SessionScreen)
        await driver.press("f3")
        assert isinstance(driver.screen, ReviewScreen)
        assert "Note: Tube sounds odd [hm]" in driver.text()
        await driver.press("u")
        assert "Taken back: Note: Tube sounds odd" in driver.text()
        await driver.press("f4")
        before = driver.session.events
        await driver.press("backspace")
        assert "Backspace does nothing here; ? lists the keys" in driver.part("#keys")
        assert driver.session.events == before
        await driver.press("f5", "U")
        assert len(driver.session.events) == len(before) + 2
        assert driver.screen.step.gate == "tape"
        for _ in range(12):
            await driver.press("u")
        assert "Nothing to undo" in driver.text()
        assert driver.screen.step.gate == "rules"


async def test_the_list_finds_and_runs_a_command(tmp_path: Path) -> None:
    """P, a few letters and Enter do what the command's own key does; what it does stands there before."""
    async with running(tmp_path, practice=BENCH) as driver:
        await driver.press("p")
        driver.app._tell_too_early()  # a letter came before the field stood there
        await driver.settle()
        assert TOO_EARLY in driver.part(".hint")
        await driver.type("zz")
        assert KEYS in driver.part(".hint")
        assert "No command says that" in driver.text()
        await driver.press("enter")
        assert isinstance(driver.screen, FindCommand)
        assert "Enter took nothing" in driver.text()
        field = driver.screen.query_one(Input)
        field.value = "z\x1b\x07z"
        await driver.settle()
        assert field.value == "zz"
        await driver.press("backspace", "backspace")
        await driver.type("glan")
        assert [command.name for command in driver.screen.found] == ["glance"]
        assert "alone and as large as the screen allows" in driver.text()
        await driver.press("enter")
        assert isinstance(driver.screen, GlanceScreen)


@pytest.mark.parametrize(
    ("typed", "first", "count"), [("", "undo", len(SESSION) - 1), ("UN", "undo", 2), ("away", "", 0)]
)
def test_a_command_is_found_by_its_name_before_its_sentence(typed: str, first: str, count: int) -> None:
    """Without a word all stand there, as the key line has them; a label that begins so stands before other finds."""
    found = fitting([command for command in SESSION if command.name != "commands"], typed)
    assert len(found) == count
    assert [command.name for command in found][:1] == ([first] if first else [])


def test_a_key_kept_under_a_former_name_still_opens_the_list() -> None:
    """What files of before call the list of commands is its name of today; a fault is told as the file has it."""
    assert usable({"palette": ("z",)}, "settings.toml") == ({"commands": ("z",)}, ())
    (problem,) = usable({"palette": ("p",)}, "settings.toml")[1]
    assert problem.startswith("settings.toml: keys.palette: P means")


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (140, 45)])
async def test_the_list_of_commands_leaves_the_cautions_in_view(tmp_path: Path, size: tuple[int, int]) -> None:
    """Every row of the band stands there as before, and at least one command that Enter takes."""
    async with running(tmp_path, session=stored("screw", tmp_path), size=size) as driver:
        await driver.pass_gates()
        band = driver.screen.query_one("#cautions").region
        before = driver.rows()[band.y : band.bottom]
        await driver.press("f7")
        assert driver.rows()[band.y : band.bottom] == before
        (row,) = [row for row in driver.rows()[: band.y] if "▶  U" in row]
        assert "Undo" in row


async def test_turning_differently(tmp_path: Path) -> None:
    """What was really turned is read back while typing, refused with a sentence, and recorded as typed."""
    async with running(tmp_path, session=session_at(tmp_path, "screw", BENCH)) as driver:
        await driver.to_step("screw")
        task = driver.screen.step.screw
        await driver.press("5", "enter")
        await driver.type("5")
        await driver.press("enter")
        assert "more than one turn" in driver.part("#echo")
        await driver.press("backspace")
        await driver.type("1/16 ccw")
        assert "3.8 ticks, 1/16 turn, 22.5°, COUNTERCLOCKWISE" in driver.part("#echo")
        before = driver.session.events
        await driver.press("enter")
        said = f"mirror {task.mirror}, screw {task.screw}: 3.8 ticks, 1/16 turn, 22.5°, COUNTERCLOCKWISE"
        assert said in driver.part(".body")
        assert driver.session.events == before
        await driver.press("2", "enter", "backspace", "backspace", "backspace")
        await driver.type("ccw")
        await driver.press("enter", "1", "enter")
        turn = driver.session.effective[-1]
        assert turn.screws == {task.screw: -1 / 16}
        assert turn.typed == {"turns": "1/16 ccw"}


async def test_moving_differently(tmp_path: Path) -> None:
    """What was really moved is read back, in the directions that this part can usefully go."""
    async with running(tmp_path, session=stored("move-tube", tmp_path)) as driver:
        await driver.to_step("move-tube")
        part = driver.screen.step.shift.part
        await driver.press("5", "enter")
        fields = [field.key for field in driver.screen.fields]
        await driver.type("25")
        await driver.press("tab", "enter")
        assert "at most 20 mm" in driver.part("#echo")
        assert driver.screen.focused.id == fields[0]
        await driver.press("backspace", "backspace")
        await driver.type("1,5")
        await driver.press("enter", "enter")
        before = driver.session.events
        plus, minus = DIRECTIONS[fields[1]]
        assert f"{part}: 1.50 mm {DIRECTIONS[fields[0]][0]}, not moved {plus} or {minus}" in driver.part(".body")
        assert driver.session.events == before
        await driver.press("1", "enter")
        shift = driver.session.effective[-1]
        assert (shift.part, getattr(shift, fields[0]), getattr(shift, fields[1])) == (part, 1.5, 0.0)


async def test_lock_nuts_of_a_mirror(tmp_path: Path) -> None:
    """At the end the lock nuts of one mirror are told, and the stations have to be confirmed again."""
    async with running(tmp_path, session=session_at(tmp_path, "done", BENCH)) as driver:
        await driver.to_step("done")
        await driver.press("1", "enter", "2", "enter")
        assert driver.session.effective[-1].mirror == 2
        assert driver.screen.step.key == "go"


async def test_a_box_keeps_nobody_from_leaving(tmp_path: Path) -> None:
    """Over a step and with a field to type into: the program is left, and what is being typed is kept as a draft."""
    async with running(tmp_path, practice=BENCH) as driver:
        await driver.press("n")
        await driver.type("the tape fell")
        path = driver.session.path
        assert path is not None
        driver._send("ctrl+q")
        await until(driver.pilot, lambda: driver.app._exit)
        assert "the tape fell" in path.read_text()
