"""A worksheet in the full screen: written from the machine's row, typed in tape by tape, gone on with later."""

from datetime import timedelta
from pathlib import Path

import blanks_once
import pytest
from app_driving import Driver, running

from coach.practice.demo import demo_machine
from coach.session.events import Mark
from coach.session.kept import now
from coach.session.session import Session
from coach.session.store import Store
from coach.tui.screens.asking import Ask
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.session import SessionScreen
from coach.tui.screens.sheet import SheetScreen

YESTERDAY = (now() - timedelta(days=1)).date()


@pytest.fixture(autouse=True)
def computed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The blanks, which every sheet would compute anew."""
    blanks_once.patch(monkeypatch)


def kept(folder: Path) -> Path:
    """A data folder with one machine."""
    Store(folder).save_machine(demo_machine().model_copy(update={"name": "Shed laser"}))
    return folder


def session_in(folder: Path) -> Session:
    """The only session there, as its file has it now."""
    (path,) = (folder / "sessions").glob("*.toml")
    return Session.load(path)


async def typing_in(driver: Driver, day: str = "yesterday") -> None:
    """From the first screen to a new sheet of that day."""
    await driver.press("1", "6", "2")
    assert isinstance(driver.screen, Ask)
    await driver.press("ctrl+u")
    await driver.type(day)
    await driver.press("enter")
    assert isinstance(driver.screen, SheetScreen)


async def typed(driver: Driver, *numbers: str) -> None:
    """Numbers into the measuring screen's fields, then what is read back is kept."""
    for number in numbers:
        await driver.type(number)
        await driver.press("enter")
    assert driver.screen.asked is not None
    await driver.press("enter")


async def test_a_sheet_is_typed_tape_by_tape(tmp_path: Path) -> None:
    """A day ahead is refused and stays to be corrected; what is on a tape, its numbers, the next one; the session."""
    async with running(kept(tmp_path)) as driver:
        await driver.press("1", "6", "2", "ctrl+u")
        await driver.type("2199-01-01")
        await driver.press("enter")
        assert "2199-01-01 lies ahead" in driver.text()
        assert not (tmp_path / "sessions").exists()
        await driver.press("ctrl+u", *"yesterday", "enter")
        assert isinstance(driver.screen, SheetScreen)
        assert "Made on" in driver.part("#list")
        assert driver.screen.highlighted.blank.number == 1
        await driver.press("enter", "1", "enter")
        assert isinstance(driver.screen, MeasureScreen)
        await typed(driver, "6,2", "8.2", "7", "7.3")
        assert isinstance(driver.screen, SheetScreen)
        mark = session_in(tmp_path).effective[-1]
        assert isinstance(mark, Mark)
        assert (mark.at.date(), mark.typed["left"], mark.typed["made"]) == (YESTERDAY, "6,2", YESTERDAY.isoformat())
        assert driver.screen.highlighted.blank.number == 2
        assert "Saved. Mark at" in driver.part("#said")
        await driver.press("enter", "6", "enter")
        assert "left empty" in driver.part("#said")
        assert driver.screen.highlighted.blank.number == 3
        await driver.press("u")
        assert "Taken back: Mark at" in driver.part("#said")
        await driver.press("8")
        await driver.settle()
        assert isinstance(driver.screen, SessionScreen)


async def test_after_a_kill_it_goes_on_from_the_machines_row(tmp_path: Path) -> None:
    """Half a measurement is left; another program opens the same sheet: the pulse waits, its number stands there."""
    async with running(kept(tmp_path)) as driver:
        await typing_in(driver)
        await driver.press("enter", "1", "enter")
        await driver.type("6,2")
        driver.screen.save_draft()
    async with running(tmp_path) as driver:
        await driver.press("2", "6", "2")
        assert "Go on with the sheet in" in driver.text()
        await driver.press("1")
        assert isinstance(driver.screen, SheetScreen)
        assert "a mark, not measured yet" in driver.part("#list")
        await driver.press("enter")
        assert isinstance(driver.screen, MeasureScreen)
        assert driver.screen.entries["left"] == "6,2"


async def test_a_page_is_written_where_asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its place is said; a file that is there is refused in the box."""
    monkeypatch.chdir(kept(tmp_path))
    async with running(tmp_path) as driver:
        await driver.press("1", "6", "1", "enter")
        assert "The worksheet is in" in driver.text()
        assert (tmp_path / "shed-laser-worksheet.html").exists()
        await driver.press("enter", "1", "6", "1", "enter")
        assert "there is one already" in driver.text()
