"""Upkeep in the full screen: from the first screen to an item, said done by one key and Enter, taken back."""

import os
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from app_driving import Driver, plain, running, stands
from drifting_visits import drifting
from drifting_visits import kept as kept_visits
from drifting_visits import machine as drifted_machine

from coach import MachineLog
from coach.history.stored import next_check
from coach.history.words import check_words, forecast_words
from coach.practice.demo import demo_machine
from coach.session.session import Session
from coach.session.store import Store
from coach.shown import IN_MM
from coach.tui.presses import Presses
from coach.tui.screens.asking import Ask
from coach.tui.screens.choices import Choices
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.parts import KeysLine
from coach.tui.screens.upkeep import AGAIN, UpkeepScreen
from coach.upkeep.items import ITEMS

NAME = "Shed laser"
SIZES = [(40, 12), (60, 20), (80, 24), (140, 45)]


def kept(folder: Path, days: int = 400) -> Path:
    """A data folder with one machine, described so many days ago: after 400 of them all of its upkeep is due."""
    path = Store(folder).save_machine(demo_machine().model_copy(update={"name": NAME}))
    then = (datetime.now() - timedelta(days=days)).timestamp()
    os.utime(path, (then, then))
    return folder


def entered(folder: Path) -> list[tuple[str, str]]:
    """What stands in the log on disk: kind and item of every entry."""
    return [(entry.kind, getattr(entry, "item", "")) for entry in MachineLog.open(NAME, folder).events]


def looked_at(driver: Driver) -> str:
    """The name of the item that is highlighted."""
    return driver.screen.highlighted.item.name


async def test_from_the_first_screen_to_done_and_back(tmp_path: Path) -> None:
    """A row says what is due; a digit shows an item and enters nothing; Enter enters it, once; U takes it back."""
    async with running(kept(tmp_path)) as driver:
        assert f"5 Due: lens look, clean optics, rails and wheels and {len(ITEMS) - 3} more" in driver.text()
        await driver.press("5")
        assert isinstance(driver.screen, UpkeepScreen)
        await driver.press("3")
        assert (looked_at(driver), entered(tmp_path)) == ("rails", [])
        assert "No oil" in driver.part("#text")
        assert "Enter asks whether rails and wheels is done today" in driver.part("#keys")
        await driver.press("enter")
        assert entered(tmp_path) == []
        assert "Rails and wheels: done today" in driver.text()
        assert "counter not read" in driver.text()
        await driver.press("2", "enter")
        assert entered(tmp_path) == []
        await driver.press("enter", "enter")
        assert entered(tmp_path) == [("done", "rails")]
        assert f"Done on {date.today()}: rails and wheels. U takes it back." in driver.part("#said")
        assert driver.screen.query_one("#action").text == "Noted: rails and wheels"
        assert looked_at(driver) == "rails"
        await driver.press("enter")
        assert entered(tmp_path) == [("done", "rails")]
        assert plain(AGAIN) in driver.part("#said")
        await driver.press("u")
        assert entered(tmp_path) == [("done", "rails"), ("undo", "")]
        assert "Taken back: Done on" in driver.part("#said")
        assert driver.screen.query_one("#action").text == "Rails and wheels"
        await driver.press("u")
        assert "Nothing was entered" in driver.part("#said")
        await driver.press("f4")
        await driver.settle()
        assert isinstance(driver.screen, HomeScreen)


async def test_a_new_machine_alarms_nobody(tmp_path: Path) -> None:
    """Described today: nothing is due, no row at home says so, and the list asks calmly for what was never noted."""
    async with running(kept(tmp_path, days=0)) as driver:
        assert "Due" not in driver.part("#list")
        driver.app.push_screen(UpkeepScreen(MachineLog.open(NAME, tmp_path)))
        await driver.settle()
        assert f"Nothing is due. {len(ITEMS)} items not noted yet" in driver.part("#said")
        assert "1 lens look: not noted yet" in driver.part("#list")


async def test_what_is_done_leaves_the_row_of_the_first_screen(tmp_path: Path) -> None:
    """Home reads the log again; with nothing due there is no row, and the machine still leads to its upkeep."""
    log = MachineLog.open(NAME, kept(tmp_path))
    for item in log.items[1:]:
        log.done(item.name)
    async with running(tmp_path) as driver:
        assert "5 Due: lens look" in driver.text()
        await driver.press("5", "enter", "enter", "f4")
        await driver.settle()
        assert "Due" not in driver.part("#list")
        await driver.press("1", "5")
        assert isinstance(driver.screen, UpkeepScreen)
        assert "Nothing is due; next: lens look, in 1 day." in driver.part("#said")


async def test_a_number_typed_here_enters_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """12,5 is no answer: it leaves nothing highlighted, and Enter then takes nothing."""
    monkeypatch.setattr(Presses, "NUMBER", 600.0)
    async with running(kept(tmp_path)) as driver:
        await driver.press("5", *"12,5", "enter")
        assert entered(tmp_path) == []
        assert driver.screen.highlighted is None


async def test_hours_and_intervals_are_asked_and_refused_in_place(tmp_path: Path) -> None:
    """What runs backwards says so with the entry still there; "new" begins a new counter; both empty is never."""
    async with running(kept(tmp_path)) as driver:
        await driver.press("5", "h", *"120,5", "enter")
        assert "Counter on" in driver.part("#said")
        assert "counter 120.5 h" in driver.part("#where")
        await driver.press("h", *"20", "enter")
        assert isinstance(driver.screen, Ask)
        assert "The hours run backwards: 20" in driver.text()
        assert driver.screen.query_one("#hours").value == "20"
        await driver.press(*["backspace"] * 2, *"new 20", "enter")
        assert isinstance(driver.screen, UpkeepScreen)
        assert "a new one" in driver.part("#said")
        await driver.press("2", "e", *"14", "tab", *["backspace"] * 2, "enter")
        assert "Clean optics: every 14 days" in driver.part("#said")
        await driver.press("1", "e", "backspace", "tab", "enter")
        assert "1 lens look: left out" in driver.part("#list")
    assert [kind for kind, _ in entered(tmp_path)] == ["hours", "hours", "every", "every"]


@pytest.mark.parametrize("size", SIZES)
async def test_every_item_shows_its_cautions_at_every_size(tmp_path: Path, size: tuple[int, int]) -> None:
    """Isolation, its own dangers and the three that always stand, whichever item is looked at."""
    async with running(kept(tmp_path), size=size) as driver:
        driver.app.push_screen(UpkeepScreen(MachineLog.open(NAME, tmp_path)))
        await driver.settle()
        for _ in range(12):
            item = driver.screen.highlighted.item
            assert [c.key for c in item.cautions if not stands(driver, c)] == [], item.name
            await driver.press("down")


async def test_a_broken_log_is_told_at_home_and_left_alone(tmp_path: Path) -> None:
    """Its line stands among what could not be read; the way to it says why it cannot be opened."""
    log = MachineLog.open(NAME, kept(tmp_path))
    log.done("lens")
    log.path.write_text(log.path.read_text().replace('"lens"', '"lenses"'))
    before = log.path.read_text()
    async with running(tmp_path) as driver:
        assert "shed-laser.toml, line" in driver.text()
        await driver.press("1", "5")
        assert "That did not work" in driver.text()
        await driver.press("enter")
        assert isinstance(driver.screen, HomeScreen)
    assert log.path.read_text() == before


async def test_what_cannot_be_saved_is_said_and_not_shown_as_done(tmp_path: Path) -> None:
    """The folder is a file: the item stays as it was."""
    (kept(tmp_path) / "upkeep").write_text("in the way")
    async with running(tmp_path) as driver:
        await driver.press("5", "enter", "enter")
        assert "! Not entered." in driver.part("#said")
        assert "1 lens look: due for" in driver.part("#list")


async def test_every_key_acts_or_says_why_not(tmp_path: Path) -> None:
    """Each command of the screen, by its last key, with an item highlighted and with none."""
    async with running(kept(tmp_path)) as driver:
        await driver.press("5")
        screen = driver.screen
        for highlighted in (2, None):
            for command in screen.commands:
                if command.name == "back":
                    continue
                screen.query_one("#list").highlighted = highlighted
                screen.query_one(KeysLine).say(screen.commands)
                before = driver.rows(), driver.app.theme
                await driver.press(command.keys[-1])
                assert (driver.rows(), driver.app.theme) != before, (command.name, highlighted)
                while driver.screen is not screen:
                    await driver.press("f4")


async def test_an_unfinished_session_hides_nothing_of_it(tmp_path: Path) -> None:
    """What the open visit did is done: a lens that was checked there is not due at home."""
    machine = demo_machine().model_copy(update={"name": NAME})
    session = Session.start(machine)
    session.keep_new(kept(tmp_path))
    session.check("lens", "good")
    async with running(tmp_path) as driver:
        assert "Due: clean optics" in driver.text()


async def test_a_check_up_begins_from_its_item(tmp_path: Path) -> None:
    """Enter asks whether to begin or note it; begun, it is a visit at the beam's path, kept, and nothing is noted."""
    async with running(kept(tmp_path, days=0)) as driver:
        driver.app.push_screen(UpkeepScreen(MachineLog.open(NAME, tmp_path)))
        await driver.settle()
        await driver.press("end", "enter", "enter")
        await driver.settle()
        session = driver.session
        assert (session.title, session.is_visit) == ("Check-up", True)
        assert session.path.exists()
        await driver.press("q")
        await driver.settle()
        assert isinstance(driver.screen, UpkeepScreen)
    assert entered(tmp_path) == []


async def test_the_next_check_up_by_drift_stands_there_with_its_doubt(tmp_path: Path) -> None:
    """A machine whose mirror turned between four visits: the date that `coach due` proposes, in the first line and at
    the check-up, there with between when it leaves its tolerance; until it is worked out that is said."""
    kept_visits(tmp_path, *drifting("mirror 2", 4, 1.0))
    store, name = Store(tmp_path), drifted_machine().name
    ahead = next_check(name, store, datetime.now().astimezone())
    assert ahead is not None
    async with running(tmp_path, size=(100, 30)) as driver:
        screen = UpkeepScreen(MachineLog.open(name, tmp_path))
        assert "being worked out" in screen.ahead[1][0]
        driver.app.push_screen(screen)
        await driver.settle()
        await driver.settle()  # the screen, then what it has worked out aside
        proposed = check_words(ahead, date.today())
        assert "check-up by its drift: now" in driver.part("#where")
        screen.query_one(Choices).highlighted = [each.item.name for each in screen.standing].index("check-up")
        await driver.settle()
        assert plain(proposed) in driver.part("#text")
        doubt, _ = forecast_words(ahead, IN_MM.exact(drifted_machine().tolerance), date.today())
        assert plain(doubt) in driver.part("#text")
