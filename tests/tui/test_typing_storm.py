"""Keys in bursts, faster than the screen, at every kind of step: nothing is entered that was not confirmed there.

A few bursts in the tests; a long storm by
`COACH_STORM=2000 .venv/bin/python -m pytest -n 2 tests/tui/test_typing_storm.py`.
"""

import os
import random
from pathlib import Path
from typing import Any

import pytest
from app_driving import Driver, plain, running
from built_steps import stored
from sweeps import sampled
from textual.events import Key

from coach.session.events import Note, Opened, Undo
from coach.session.session import Session
from coach.tui.haste import PatientApp
from coach.tui.presses import Presses
from coach.tui.screens.choices import Choices
from coach.tui.screens.session import SessionScreen

BURSTS = int(os.environ.get("COACH_STORM", "16"))
"""So many for each kind of step."""
LONGEST = 9
"""Keys in a burst."""
KEYS = (
    "enter",
    "enter",
    "enter",
    "space",
    "down",
    "up",
    "tab",
    "pagedown",
    "backspace",
    "u",
    "f2",
    *"12345678900..,-",
)
STEPS = ("go", "pulse", "nothing", "measure", "screw", "move", "done")
CALM = {"APART": 0.1, "HELD": 0.12, "CALM": 0.7, "READ": 0.3, "NUMBER": 1.0}
"""What counts as a press, as it is outside of tests."""


class Witness:
    """Sees every row that is taken and every entry that is made: each belongs to a row taken by the newest key."""

    def __init__(self, session: Session, monkeypatch: pytest.MonkeyPatch) -> None:
        self.key, self.taken_by = Key("none", None), Key("none", None)
        self.entries = 0
        early, take, add = PatientApp._is_early, Choices.action_select, Session._add

        def heard(app: PatientApp, key: Key) -> bool:
            dropped = early(app, key)
            self.key = self.key if dropped else key
            return dropped

        def taken(choices: Choices) -> None:
            if choices.deliberate and not choices._spent and choices.highlighted is not None:
                self.check(choices)
                self.taken_by = self.key
            take(choices)

        def entered(made: Session, kind: str, **fields: Any) -> None:
            if made is session and kind not in ("undo", "note", "opened"):
                assert self.taken_by is self.key, f"{kind} was entered, and {self.key} took no row"
                self.entries += 1
            add(made, kind, **fields)

        monkeypatch.setattr(PatientApp, "_is_early", heard)
        monkeypatch.setattr(Choices, "action_select", taken)
        monkeypatch.setattr(Session, "_add", entered)

    def check(self, choices: Choices) -> None:
        """The row stands there with its arrow, stood there before the key was pressed, and the key is no digit."""
        app: Any = choices.app
        assert self.key.key in ("enter", "space"), self.key
        assert self.key.time > app._stands
        assert choices.highlighted is not None
        rows = [strip.text for strip in choices.screen._compositor.render_strips()]
        label = choices.entries[choices.highlighted].label
        assert plain(label) in plain(" ".join(rows)), label
        assert any("▶" in row and plain(label).split()[0] in row for row in rows), label


async def burst(driver: Driver, luck: random.Random) -> list[str]:
    """Some keys: together, a moment apart, or each once the last one had its effect."""
    pressed = luck.choices(KEYS, k=luck.randint(1, LONGEST))
    if luck.random() < 0.2:
        pressed = ["enter"] * LONGEST  # held
    for key in pressed:
        driver._send(key)
        apart = luck.random()
        if apart > 0.9:
            await driver.heard()
        elif apart > 0.6:
            await driver.pilot.pause(0)
    await driver.heard()
    return pressed


@pytest.mark.parametrize("step", sampled(STEPS, "measure"))
async def test_every_entry_was_confirmed_as_it_stood(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    """Whatever was entered was taken by Enter or Space on a row that stood there; the file has that and no more."""
    luck, now = random.Random(step), [1000.0]
    async with running(tmp_path, session=stored(step, tmp_path)) as driver:
        await driver.pass_gates()
        for name, value in CALM.items():
            monkeypatch.setattr(Presses, name, value)
        monkeypatch.setattr(Presses, "clock", staticmethod(lambda: now[0]))
        session, path = driver.session, driver.session.path
        witness, before = Witness(session, monkeypatch), len(session.events)
        for _ in range(BURSTS):
            now[0] += 5.0
            held = [event.kind for event in session.events]
            pressed = await burst(driver, luck)
            if set(pressed) == {"enter"}:
                assert len(session.events) - len(held) <= 1, "a held Enter entered more than one thing"
            while not isinstance(driver.screen, SessionScreen) and len(driver.app.screen_stack) > 2:
                await driver.press("f4")
            if not any(getattr(screen, "session", None) is session for screen in driver.app.screen_stack):
                break  # finished
        made = [event for event in session.events[before:] if not isinstance(event, Undo | Note | Opened)]
        assert len(made) == witness.entries
        assert path is not None
        assert Session.load(path).events[: len(session.events)] == session.events
