"""A signal that stops the program is heeded between two deeds of it, whatever it was doing when it came."""

import asyncio
import os
import signal
import sys
from typing import Any

import pytest

if sys.platform == "win32":
    pytest.skip("has no such signals", allow_module_level=True)

from textual.driver import Driver

from coach.tui.suspending import stops_in_turn


class _Thread:
    def __init__(self) -> None:
        self.alive = True

    def is_alive(self) -> bool:
        return self.alive


class _Taken:
    """What a driver does with a terminal, told in order."""

    def __init__(self) -> None:
        self.told: list[str] = []
        self._auto_restart, self._key_thread, self._app = True, _Thread(), self

    def _sigtstp_application(self, *_: object) -> None: ...

    def suspend_application_mode(self) -> None:
        self.told.append("given back")
        self._key_thread.alive = False

    def resume_application_mode(self) -> None:
        self.told.append("taken")
        self._key_thread.alive = True

    def refresh(self, **_: Any) -> None:
        self.told.append("drawn")


@pytest.fixture
def stops(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Which signals the program sent to itself, in place of stopping the tests."""
    sent: list[int] = []
    monkeypatch.setattr(os, "kill", lambda pid, number: sent.append(number))
    return sent


def test_nothing_is_done_in_the_midst_of_a_deed(stops: list[int]) -> None:
    """The one that hands a piece to the writing thread holds its lock: a second piece would wait for ever."""

    async def played() -> list[str]:
        driver: Any = stops_in_turn(_Taken)()  # type: ignore[type-var]
        driver._sigtstp_application(signal.SIGTSTP, None)
        assert (driver.told, stops) == ([], [])
        await asyncio.sleep(0)
        assert (driver.told, stops) == (["given back"], [signal.SIGSTOP])
        driver._sigcont_application(signal.SIGCONT, None)
        await asyncio.sleep(0)
        return driver.told

    assert asyncio.run(played()) == ["given back", "taken", "drawn"]


def test_who_was_stopped_without_a_word_gives_back_before_taking_anew(stops: list[int]) -> None:
    """Else the terminal as it was before the program is forgotten, and left raw at its end."""

    async def played() -> list[str]:
        driver: Any = stops_in_turn(_Taken)()  # type: ignore[type-var]
        driver._sigcont_application(signal.SIGCONT, None)
        await asyncio.sleep(0)
        return driver.told

    assert asyncio.run(played()) == ["given back", "taken", "drawn"]


def test_a_driver_without_such_signals_stays_as_it_is() -> None:
    """On Windows, and where nothing is drawn."""
    assert stops_in_turn(Driver) is Driver
