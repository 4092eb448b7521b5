"""What is pasted: taken whole, or refused in a sentence with what stood there before still there to be corrected."""

from pathlib import Path

import pytest
from app_driving import Driver, running, session_at
from sweeps import sampled
from textual.events import Paste

from coach.session.document import Practice
from coach.session.session import Session
from coach.tui.screens.asking import MOST
from coach.tui.screens.entering import TOO_LONG
from coach.tui.screens.measure import MeasureScreen

BENCH = Practice(kind="fine", seed=3)


async def pasted(driver: Driver, text: str) -> None:
    """As a terminal with bracketed paste sends it."""
    driver.app.post_message(Paste(text))
    await driver.settle()


@pytest.mark.parametrize("length", sampled([MOST - 4, 10_000], MOST - 4))
async def test_what_does_not_fit_is_told(tmp_path: Path, length: int) -> None:
    """Of a note: said how much it is and how much fits; what stood there stands, and Enter keeps it."""
    path = session_at(tmp_path, "go", BENCH)
    async with running(tmp_path, session=path) as driver:
        await driver.pass_gates()
        await driver.press("n")
        await driver.type("hello")
        await pasted(driver, "x" * length)
        assert TOO_LONG in driver.text()
        assert f"{length} characters, and at most {MOST} fit" in driver.text()
        await driver.press("f4")
        assert driver.screen.typed == {"note": "hello"}
        await pasted(driver, f"two\nlines\r\n{'y' * (MOST - 15)}")
        assert driver.screen.typed == {"note": f"hellotwo lines {'y' * (MOST - 15)}"}
        await driver.type("z")
        assert f"At most {MOST} characters fit" in driver.text()
        await driver.press("f4", "enter")
    assert Session.load(path).effective[-1].text == f"hellotwo lines {'y' * (MOST - 15)}"


async def test_a_number_that_stood_there_is_replaced(tmp_path: Path) -> None:
    """12 stood there and 5 is pasted: 5, not 125; and where nothing is typed in, that is said."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await driver.pass_gates()
        await pasted(driver, "12")
        assert "was not taken" in driver.text()
        await driver.press("enter")
        screen = driver.screen
        assert isinstance(screen, MeasureScreen)
        await driver.press("pagedown")
        await driver.type("12")
        await driver.press("down", "up")
        await pasted(driver, "5")
        assert screen.focused.value == "5"
        await pasted(driver, "9" * 25)
        assert "25 characters, and at most 24 fit" in driver.text()
