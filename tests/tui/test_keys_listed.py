"""Every command that the help of a screen lists does something there, or says why not, in every kind of state."""

from pathlib import Path

import pytest
from app_driving import Driver, running
from built_steps import stored
from sweeps import sampled

from coach.session.events import Mark
from coach.tui.screens.base import CoachScreen
from coach.tui.screens.parts import KeysLine
from coach.tui.screens.settings_keys import KeysScreen

STATES: dict[str, tuple[str, tuple[str, ...]]] = {
    "home": ("rules", ("q",)),
    "first gate": ("rules", ()),
    "go": ("go", ()),
    "done": ("done", ()),
    "crosshair": ("measure", ("enter",)),
    "gaps": ("measure", ("enter", "pagedown")),
    "clock": ("measure", ("enter", "pageup")),
    "review": ("done", ("r",)),
    "review of nothing": ("rules", ("r",)),
    "settings": ("go", ("s",)),
    "first question": ("go", ("q", "2")),
    "list of values": ("go", ("q", "2", "S", "enter", *"600", "enter", *"400", "enter", "1", "f3")),
}
"""What is looked at: the session's step, and the keys that lead on from there."""
BOXES: dict[str, tuple[str, tuple[str, ...], str, str]] = {
    "note": ("go", ("n",), "f4", "F4: back"),
    "turned differently": ("screw", ("5", "enter"), "f4", "F4: back"),
    "which mirror": ("done", ("1", "enter"), "f4", "F4: back"),
    "crosshair's steps": ("go", ("s", "4"), "f4", "F4: back"),
    "glance": ("go", ("g",), "enter", "G or Enter: back"),
    "help": ("go", ("f1",), "q", "? or Q: back"),
    "find a command": ("go", ("p",), "f4", ""),
}
"""What lies over a screen: the step, the keys that open it, the key that leads back, and where that is said."""


def seen(driver: Driver) -> tuple[object, ...]:
    """All that a key may change: what is open and what stands there, and whether the program goes on."""
    app = driver.app
    return [*map(id, app.screen_stack)], driver.rows(), app.theme, app.return_value, len(app._notifications)


@pytest.mark.parametrize("state", sampled(STATES, "home", "first gate", "gaps"))
async def test_it_acts_or_says_why_not(tmp_path: Path, state: str) -> None:
    """Each command, by its last key, which is no letter: the screen is another afterwards, or says something."""
    step, keys = STATES[state]
    async with running(tmp_path, session=stored(step, tmp_path)) as driver:
        if step != "rules":
            await driver.pass_gates()
        for key in keys:  # one may be for a list that is still being read
            await driver.press(key)
            await driver.settle()
        screen, idle = driver.screen, []
        assert isinstance(screen, CoachScreen)
        for command in sorted(screen.commands, key=lambda c: c.name == "back"):
            screen.query_one(KeysLine).say(screen.commands)  # what was said last is over
            await driver.heard()
            before = seen(driver)
            await driver.press(command.keys[-1])
            if seen(driver) == before:
                idle.append(command.name)
            while driver.screen is not screen and command.name != "back":
                await driver.press("f4")
        assert not idle


@pytest.mark.parametrize("box", sampled(BOXES, "turned differently", "glance"))
async def test_a_box_is_left_by_the_key_it_names(tmp_path: Path, box: str) -> None:
    """What lies over a screen says how it is left, and the screen beneath is there again; no entry was made."""
    step, keys, back, said = BOXES[box]
    async with running(tmp_path, session=stored(step, tmp_path)) as driver:
        await driver.pass_gates()
        await driver.press(*keys[:-1])
        beneath, before = driver.screen, driver.session.events
        await driver.press(keys[-1])
        await driver.settle()
        assert driver.screen is not beneath
        assert said in driver.text()
        await driver.press(back)
        assert driver.screen is beneath
        assert driver.session.events == before


async def test_a_form_lists_the_keys_that_act(tmp_path: Path) -> None:
    """Where several figures are asked Enter leads on, and says so; F2 reads back from any of them, at once."""
    async with running(tmp_path, session=stored("check-bed", tmp_path)) as driver:
        await driver.pass_gates()
        await driver.press("1", "enter")
        box = driver.screen
        first, second = (field.key for field in box.fields[:2])
        assert "Enter: next field · F2: read back · F4: back" in driver.part(".hint")
        await driver.type("0,4")
        await driver.press("enter")
        assert box.focused.id == second
        await driver.type("0,5")
        await driver.press("up")
        assert box.focused.id == first
        await driver.press("f2")
        assert box._asking


async def test_digits_choose_beside_readings_and_among_commands(tmp_path: Path) -> None:
    """In the review 1 opens the newest mark's measurement; in the list of keys a digit takes its row."""
    async with running(tmp_path, session=stored("done", tmp_path)) as driver:
        await driver.pass_gates()
        newest = [event.id for event in driver.session.effective if isinstance(event, Mark)][-1]
        await driver.press("r", "home", "1")
        assert driver.screen.purpose.key == f"mark {newest}"
        await driver.press("f4", "f4", "s")
        await driver.app.push_screen(KeysScreen())
        await driver.settle()
        await driver.press("2")
        assert "One more key for:" in driver.text()
