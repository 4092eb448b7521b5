"""The mouse does what looks like a button: it leaves whatever lies over a screen, and the key line's keys act."""

from pathlib import Path

import pytest
from app_driving import Driver, running
from built_steps import stored
from sweeps import sampled

from coach.tui.screens.session import SessionScreen

BOXES = {"note": ("n", "F4: back"), "help": ("f1", "? or Q: back"), "glance": ("g", "G or Enter: back")}


async def click(driver: Driver, words: str) -> None:
    """In the middle of these words, where they stand."""
    found = [(row.index(words) + len(words) // 2, y) for y, row in enumerate(driver.rows()) if words in row]
    assert found, words
    await driver.pilot.click(offset=found[-1])
    await driver.settle()


@pytest.mark.parametrize("box", sampled(BOXES, "note"))
async def test_a_box_is_left_where_it_says_how(tmp_path: Path, box: str) -> None:
    """A click on the words that say which key leads back leads back; nothing was entered."""
    key, said = BOXES[box]
    async with running(tmp_path, session=stored("go", tmp_path)) as driver:
        await driver.pass_gates()
        beneath, before = driver.screen, driver.session.events
        assert isinstance(beneath, SessionScreen)
        await driver.press(key)
        await driver.settle()
        assert driver.screen is not beneath
        await click(driver, said)
        assert driver.screen is beneath
        assert driver.session.events == before


async def test_the_key_line_can_be_clicked(tmp_path: Path) -> None:
    """A click on a key's label does what the key does."""
    async with running(tmp_path, session=stored("go", tmp_path)) as driver:
        await driver.pass_gates()
        beneath = driver.screen
        await click(driver, "Glance")
        assert driver.screen is not beneath
