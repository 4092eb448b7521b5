"""What was opened and closed leaves nothing behind."""

import gc
from pathlib import Path
from weakref import WeakSet

import pytest
from app_driving import running
from textual._styles_cache import StylesCache
from textual.screen import Screen

from coach.session.document import Practice
from coach.tui.screens.dialogs import Say
from coach.tui.screens.glance import GlanceScreen
from coach.tui.screens.settings import SettingsScreen

ONE = 7
"""The largest screen opened here, and its pictures: the newest may still be held by the task that closed it."""


@pytest.mark.sweep
async def test_closed_screens_are_let_go(tmp_path: Path) -> None:
    """21 screens opened and closed: no more are alive than after the first three but one, and its pictures."""
    async with running(tmp_path, practice=Practice(kind="fine", seed=3)) as driver:
        seen: WeakSet[Screen[None]] = WeakSet()
        step = driver.screen.step
        kinds = (lambda: Say("About this", "Something."), lambda: GlanceScreen(step), SettingsScreen)

        async def opened(number: int) -> None:
            driver.app.push_screen(screen := kinds[number % len(kinds)]())
            seen.add(screen)
            await driver.heard()
            screen.dismiss()
            await driver.heard()

        def alive() -> int:
            gc.collect()
            return sum(isinstance(each, Screen | StylesCache) for each in gc.get_objects())

        for number in range(3):
            await opened(number)
        before = alive()
        for number in range(18):
            await opened(number)
        assert alive() <= before + ONE
        assert len(seen) <= 1
