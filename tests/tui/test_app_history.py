"""A machine's history in the full screen: told, drawn, two visits beside each other, a mount's lessons forgotten."""

from pathlib import Path

import pytest
from app_driving import Driver, running
from drifting_visits import drifting, kept, machine

from coach.machine import Learned, Machine
from coach.session.store import Store
from coach.tui.screens.dialogs import Pick, Say
from coach.tui.screens.history import HistoryScreen

NAME = machine().name


def folder(tmp_path: Path) -> Path:
    """Four visits in which mirror 2 turned; something is kept of mirror 1's mount."""
    its = machine()
    count = 3 * len(its.mount(1).screws)
    cov = tuple(tuple(0.04 * (i == k) for i in range(count)) for k in range(count))
    facts = Learned(on="2026-03-01", push=0.98, mean=(4.2,) * count, cov=cov)
    mounts = (its.mount(1).model_copy(update={"learned": facts}), its.mount(2))
    visits = drifting("mirror 2", 4, 1.0)
    kept(tmp_path, *visits[:-1], visits[-1].model_copy(update={"machine": its.model_copy(update={"mounts": mounts})}))
    return tmp_path


async def opened(driver: Driver) -> None:
    """The history stands there, read to its end."""
    driver.app.push_screen(HistoryScreen(NAME))
    await driver.settle()
    await driver.app.workers.wait_for_complete()
    await driver.settle()
    assert "Mirror 2 has turned" in driver.part("#said")


@pytest.mark.parametrize("size", [(80, 24), (140, 45)])
async def test_told_drawn_and_compared(tmp_path: Path, size: tuple[int, int]) -> None:
    """The headline names the mirror; the newest visit opens with its figures; another is set beside it."""
    async with running(folder(tmp_path), size=size) as driver:
        await opened(driver)
        assert driver.screen.query_one("#picture").display
        await driver.press("5")
        assert isinstance(driver.screen, Pick)
        assert "Worst station" in driver.text()
        await driver.press("1")
        assert isinstance(driver.screen, Say)
        assert "change" in driver.text()
        await driver.press("enter")
        assert isinstance(driver.screen, HistoryScreen)


async def test_what_was_learned_is_forgotten_by_a_deed(tmp_path: Path) -> None:
    """A digit alone forgets nothing; Enter does; the stored machine keeps the rest."""
    async with running(folder(tmp_path)) as driver:
        await opened(driver)
        await driver.press("3")
        assert "+4.2 mrad to the right" in driver.text()
        path = Store(tmp_path).machine_path(NAME)
        await driver.press("2")
        assert Machine.load(path).mount(1).learned is not None
        await driver.press("enter")
        assert Machine.load(path).mount(1).learned is None
        assert "Forgotten" in driver.part("#keys")
