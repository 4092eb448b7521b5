"""Thousands of keys at random, from every step of the job: the program stands and answers, and no entry is lost."""

import random
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from app_driving import Driver
from built_steps import NAMES, stored

from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.tui.app import CoachApp
from coach.tui.commands.registry import ALL
from coach.tui.screens.help import HelpScreen
from coach.tui.screens.home import HomeScreen

BOUND = sorted({key for commands in ALL for command in commands for key in command.keys} - {"q", "Q", "f4"})
OFTEN = ("enter", "enter", "enter", "space", "up", "down", "left", "right", "tab", "backspace", *"1123456789")
TYPED = tuple("0123456789.,-+/:½″ \"'cwmin")
ODD = (
    *("f10", "f11", "f12", "delete", "insert", "home", "end", "ctrl+a", "ctrl+z", "ctrl+u", "ctrl+w", "alt+x"),
    *("ctrl+left", "shift+right", "shift+enter", "ctrl+c", "ctrl+q", "q", "Q", "f4", "escape", "escape"),
    *"äßÉ中🙂[]{}<>|~^`@#%&*()_=;!",
)
SIZES = [(80, 24), (40, 12), (100, 30), (20, 5), (140, 45), (1, 1)]
BATCHES, LIVES = 30, 2
"""In the life of one program, and programs on one data folder."""
LARGEST = 6
"""So many keys at most follow each other before the program has heeded the first."""
CHECKED = 12
"""So many batches from one look at the files to the next."""
WAYS_OUT = 12
"""Boxes and screens that may lie over the first one."""


@dataclass
class Ledger:
    """Every session in a data folder, as it was when it was last looked at."""

    folder: Path
    seen: dict[Path, tuple[bytes, Session]] = field(default_factory=dict)

    def check(self, app: CoachApp) -> None:
        """Every file replays and has lost no event; a session that is open is what its file says."""
        for path in sorted((self.folder / "sessions").glob("*.toml")):
            content, (before, known) = path.read_bytes(), self.seen.get(path, (b"", None))
            if content == before:
                continue
            session = Session.load(path)
            assert current_step(session, IN_MM)
            assert session.events[: len(known.events) if known else 0] == (known.events if known else ())
            self.seen[path] = content, session
        for screen in app.screen_stack if app.is_running else []:
            opened = getattr(screen, "session", None)
            if isinstance(opened, Session):
                assert opened.path is not None
                assert self.seen[opened.path][1].effective == opened.effective


def key_at_random(luck: random.Random) -> str:
    """One key: mostly those that do something."""
    return luck.choice(luck.choices((OFTEN, BOUND, TYPED, ODD), weights=(8, 4, 4, 1))[0])


async def press_at_random(driver: Driver, luck: random.Random, ledger: Ledger) -> list[str]:
    """Batches of keys, until one of them leaves the program; which keys it were."""
    pressed: list[str] = []
    for batch in range(1, BATCHES + 1):
        if batch % 10 == 0:
            await driver.pilot.resize_terminal(*luck.choice([driver.app.size, *SIZES]))
        for _ in range(luck.randint(1, LARGEST)):
            pressed.append(key_at_random(luck))
            driver._send(pressed[-1])
        await driver.pilot.pause(0)  # until it heeded them, no longer
        if driver.app._exit or driver.app._exception:
            break
        if batch % CHECKED == 0:
            ledger.check(driver.app)
    return pressed


async def still_answers(driver: Driver) -> None:
    """From wherever the keys led, F4 and Esc lead to the first screen, and the help opens there."""
    for _ in range(WAYS_OUT):
        if isinstance(driver.screen, HomeScreen):
            break
        await driver.press("f4" if driver.screen.is_modal or hasattr(driver.screen, "commands") else "escape")
    assert isinstance(driver.screen, HomeScreen), driver.screen
    await driver.press("f1")
    assert isinstance(driver.screen, HelpScreen)


@pytest.mark.sweep
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
@pytest.mark.parametrize("seed", [1, 2])
async def test_keys_at_random_lose_nothing(
    tmp_path: Path, seed: int, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Hundreds of keys and some resizes, program after program on the same data: nothing breaks, nothing is lost."""
    monkeypatch.chdir(tmp_path)  # a report goes where the program was started
    luck = random.Random(1000 * seed + size[0])
    ledger, pressed = Ledger(tmp_path), ["none"]
    for name in luck.sample(NAMES, LIVES):
        try:
            app = CoachApp(tmp_path, session=stored(name, tmp_path))
            async with app.run_test(size=size) as pilot:
                driver = Driver(app, pilot)
                await driver.settle()
                await driver.pass_gates()
                pressed = await press_at_random(driver, luck, ledger)
                await driver.pilot.pause()
                if not app._exit and not app._exception:
                    await still_answers(driver)
            ledger.check(app)
        except Exception as error:
            error.add_note(f"at {size}, from the step {name!r}, after {' '.join(pressed[-40:])}")
            raise
