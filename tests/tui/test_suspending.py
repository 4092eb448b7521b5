"""A signal that stops the program is heeded between two deeds of it, whatever it was doing when it came."""

import asyncio
import io
import os
import signal
import sys
import threading
from typing import Any

import pytest

if sys.platform == "win32":
    pytest.skip("has no such signals", allow_module_level=True)

from textual.driver import Driver
from textual.drivers._writer_thread import WriterThread

from coach.tui.suspending import Parting, let_go, stops_in_turn


class _Thread:
    def __init__(self) -> None:
        self.alive = True

    def is_alive(self) -> bool:
        return self.alive


class _Taken:
    """What a driver does with a terminal, told in order."""

    def __init__(self) -> None:
        self.told: list[str] = []
        self._auto_restart, self._key_thread, self._app, self._file = True, _Thread(), self, sys.stderr

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


def test_a_terminal_that_is_gone_is_told_once_and_keeps_nobody_waiting() -> None:
    """Else the toolkit's writing thread ends at the first piece, and the thirty-second is never taken."""
    told: list[str] = []
    terminal = io.StringIO()
    drawn = Parting(terminal, lambda: told.append("gone"))
    drawn.write("there")
    assert terminal.getvalue() == "there"
    terminal.close()
    writer = WriterThread(drawn)  # type: ignore[arg-type]
    writer.start()
    for _ in range(40):
        writer.write("nobody sees it")
    writer.stop()
    assert told == ["gone"]


def test_whoever_reads_keys_ends_with_the_program() -> None:
    """However the program ended; without a driver, or one that reads no keys, nothing has to."""

    class _Reads:
        exit_event = threading.Event()

    let_go(_Reads())  # type: ignore[arg-type]
    let_go(None)
    assert _Reads.exit_event.is_set()
