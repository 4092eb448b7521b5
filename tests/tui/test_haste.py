"""Keys that come before what they would answer stands on the screen."""

from typing import Any

from textual import events
from textual.screen import Screen

from coach.tui.haste import PatientApp


class Listening(Screen[None]):
    """Writes down the keys that reach it."""

    heard: list[str]

    def __init__(self) -> None:
        super().__init__()
        self.heard = []

    def on_key(self, event: events.Key) -> None:
        self.heard.append(event.key)


async def _press(app: PatientApp, pilot: Any, *keys: str) -> None:
    for key in keys:
        await app.on_event(events.Key(key, key if len(key) == 1 else None))
    await pilot.pause()


async def test_keys_before_a_screen_stands_are_dropped() -> None:
    """Typed ahead while a screen is opened: it does not hear them, then or later, nor does the screen below; what is
    typed once it stands it hears."""
    app = PatientApp()
    async with app.run_test() as pilot:
        below, above = Listening(), Listening()
        await app.push_screen(below)
        await _press(app, pilot, "a")
        assert below.heard == ["a"]
        opening = app.push_screen(above)
        assert app.screen is above
        assert not above.is_mounted
        for key in ("1", "enter", "q"):
            await app.on_event(events.Key(key, None))
        await opening
        await pilot.pause()
        assert (below.heard, above.heard) == (["a"], [])
        await _press(app, pilot, "b")
        assert (below.heard, above.heard) == (["a"], ["b"])


async def test_leaving_is_heard_as_soon_as_the_screen_stands() -> None:
    """Ctrl+Q typed ahead is not lost: it comes again when the screen can be left."""
    app = PatientApp()
    async with app.run_test() as pilot:
        above = Listening()
        opening = app.push_screen(above)
        await app.on_event(events.Key("ctrl+q", None))
        assert app.is_running
        await opening
        for _ in range(200):
            await pilot.pause()
            if app._exit:
                break
        assert app._exit
