"""What was opened and closed leaves nothing behind."""

import gc
from pathlib import Path
from weakref import WeakSet

from app_driving import running
from textual._styles_cache import StylesCache
from textual.screen import Screen

from coach.tui.screens.dialogs import Say


async def test_closed_screens_are_let_go(tmp_path: Path) -> None:
    """Twenty times opened and closed: as many screens are alive as after the first time, and as many pictures."""
    async with running(tmp_path) as driver:
        seen: WeakSet[Screen[None]] = WeakSet()

        async def once() -> None:
            driver.app.push_screen(screen := Say("About this", "Something."))
            seen.add(screen)
            await driver.heard()
            screen.dismiss()
            await driver.heard()

        def alive() -> int:
            gc.collect()
            return sum(isinstance(each, Screen | StylesCache) for each in gc.get_objects())

        await once()
        before = alive()
        for _ in range(20):
            await once()
        assert alive() <= before
        assert len(seen) <= 1  # the newest may still be held by the task that closed it
