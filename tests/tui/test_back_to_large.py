"""After a small terminal nothing stays cut: what is shown follows from the size alone."""

from pathlib import Path

import pytest
from app_driving import Driver
from built_steps import built
from sweeps import sampled

from coach import settings
from coach.pictures.modes import RasterMode
from coach.tui.app import CoachApp
from coach.tui.screens.session import SessionScreen

LARGE, SMALL = (200, 60), (40, 12)


@pytest.mark.parametrize(
    ("name", "keys"),
    sampled(
        [("screw", ()), ("measure", ("enter",)), ("pulse", ("g",)), ("pulse", ())],
        ("measure", ("enter",)),
    ),
)
async def test_small_and_large_again(tmp_path: Path, name: str, keys: tuple[str, ...]) -> None:
    """At 200x60, then 40x12, then 200x60 again: to the letter what stood there before."""
    settings.save(tmp_path, signs="unicode", aspect=2.0, hints=False)
    app = CoachApp(tmp_path, mode=RasterMode.GLYPH)
    async with app.run_test(size=LARGE) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        app.push_screen(SessionScreen(built(name, practice=False)))
        await driver.settle()
        await driver.press(*keys)
        await driver.settle()
        before = driver.rows()
        for size in (SMALL, LARGE):
            await driver.resize(*size)
        assert driver.rows() == before


async def test_a_bar_goes_where_it_is_no_longer_needed(tmp_path: Path) -> None:
    """A text that is as wide as its part stands whole at 100x30 after 40x12, where it had to be scrolled."""
    settings.save(tmp_path, signs="unicode", aspect=2.0, hints=False)
    app = CoachApp(tmp_path, mode=RasterMode.GLYPH)
    async with app.run_test(size=SMALL) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        app.push_screen(SessionScreen(built("done", practice=False)))
        await driver.settle()
        await driver.resize(100, 30)
        assert driver.screen.query_one("#scroll").max_scroll_y == 0
