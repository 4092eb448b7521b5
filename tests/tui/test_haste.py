"""Keys that come before what they would answer stands on the screen, and keys that come faster than they act."""

from typing import Any, ClassVar

from stillness import until, until_still
from textual import events
from textual.app import ComposeResult
from textual.screen import Screen
from textual.widgets import Input

from coach.tui.haste import PatientApp


class Listening(Screen[None]):
    """Writes down the keys that reach it."""

    heard: list[str]

    def __init__(self) -> None:
        super().__init__()
        self.heard = []

    def on_key(self, event: events.Key) -> None:
        self.heard.append(event.key)


class Closing(Screen[None]):
    """Any key closes it."""

    def on_key(self) -> None:
        self.app.pop_screen()


class Commanded(Screen[None]):
    """X is a command here, and clicks are written down."""

    BINDINGS: ClassVar = [("x", "done", "Done")]

    def __init__(self) -> None:
        super().__init__()
        self.did: list[str] = []

    def action_done(self) -> None:
        self.did.append("x")

    def on_mouse_up(self) -> None:
        self.did.append("click")


class Typing(Screen[None]):
    """One field."""

    def compose(self) -> ComposeResult:
        yield Input()


def _send(app: PatientApp, *keys: str) -> None:
    assert app._driver is not None
    for key in keys:
        app._driver.send_message(events.Key(key, key if len(key) == 1 else None))


async def _press(app: PatientApp, pilot: Any, *keys: str) -> None:
    _send(app, *keys)
    await until_still(app, pilot)


async def test_keys_before_a_screen_stands_are_dropped() -> None:
    """Typed ahead while a screen is opened: it does not hear them, then or later, nor does the screen below; what is
    typed once it stands it hears."""
    app = PatientApp()
    app.BURST = 0.0
    async with app.run_test() as pilot:
        below, above = Listening(), Listening()
        await app.push_screen(below)
        await until_still(app, pilot)
        await _press(app, pilot, "a")
        assert below.heard == ["a"]
        opening = app.push_screen(above)
        assert app.screen is above
        assert not above.is_mounted
        _send(app, "1", "enter", "q")
        await opening
        await until_still(app, pilot)
        assert (below.heard, above.heard) == (["a"], [])
        await _press(app, pilot, "b")
        assert (below.heard, above.heard) == (["a"], ["b"])


async def test_what_follows_a_dropped_key_at_once_is_dropped_with_it() -> None:
    """Of "400" typed ahead nothing is left, also where the screen stands before its last digit comes: no "00"."""
    app = PatientApp()
    app.BURST = 60.0
    async with app.run_test() as pilot:
        screen = Listening()
        opening = app.push_screen(screen)
        _send(app, "4")
        await opening
        await until_still(app, pilot)  # it stands: what follows is dropped for the burst alone
        await _press(app, pilot, "0", "0")
        assert screen.heard == []
        app.BURST = 0.0
        await _press(app, pilot, "6")
        assert screen.heard == ["6"]


async def test_keys_act_in_the_order_in_which_they_came() -> None:
    """Digits, Backspaces that are commands to the toolkit, and digits again, all at once: what stands there is what
    was typed."""
    app = PatientApp()
    async with app.run_test() as pilot:
        await app.push_screen(Typing())
        await until_still(app, pilot)
        await _press(app, pilot, *"123", "backspace", "backspace", *"45", "left", "7", "home", "8", "end", "9")
        assert app.screen.query_one(Input).value == "814759"


async def test_leaving_is_heard_as_soon_as_the_screen_stands() -> None:
    """Ctrl+Q typed ahead is not lost: it comes again when the screen can be left."""
    app = PatientApp()
    async with app.run_test() as pilot:
        above = Listening()
        opening = app.push_screen(above)
        _send(app, "ctrl+q")
        await opening
        await until(pilot, lambda: app._exit)


async def test_a_key_that_closed_a_screen_is_no_command_of_the_one_beneath() -> None:
    """X closes what stands in front, and does what it means below only when it is pressed once more."""
    app = PatientApp()
    async with app.run_test() as pilot:
        below = Commanded()
        await app.push_screen(below)
        await app.push_screen(Closing())
        await until_still(app, pilot)
        await _press(app, pilot, "x")
        assert app.screen is below
        assert below.did == []
        await _press(app, pilot, "x")
        assert below.did == ["x"]


async def test_a_button_that_went_down_before_the_screen_stood_does_nothing() -> None:
    """Let go over what has just opened it is no click there; pressed and let go there it is."""

    def send(kind: type[events.MouseEvent]) -> None:
        assert app._driver is not None
        app._driver.send_message(kind(None, 5, 5, 0, 0, 1, False, False, False))

    app = PatientApp()
    async with app.run_test() as pilot:
        screen = Commanded()
        opening = app.push_screen(screen)
        send(events.MouseDown)
        await opening
        await until_still(app, pilot)
        send(events.MouseUp)
        await until_still(app, pilot)
        assert screen.did == []
        send(events.MouseDown)
        send(events.MouseUp)
        await until_still(app, pilot)
        assert screen.did == ["click"]
