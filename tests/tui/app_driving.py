"""Drives the full-screen program as a person would, by keys, and reads what stands on the screen."""

import asyncio
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from functools import lru_cache
from pathlib import Path
from typing import Any

from following import follow
from stillness import until_still
from textual import events
from textual.keys import REPLACED_KEYS, _character_to_key, _get_unicode_name_from_key
from textual.pilot import Pilot
from textual.widgets import Static
from textual.worker import WorkerCancelled

from coach.practice.demo import demo_machine
from coach.reading.methods import METHODS
from coach.session.document import Document, Practice
from coach.session.events import Mark
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.cautions import Caution
from coach.steps.current import current_step
from coach.steps.gates import GATES as ALL_GATES
from coach.steps.perform import perform
from coach.tui.app import CoachApp
from coach.tui.screens.choices import Choices, Entry
from coach.tui.screens.fitting import choice_rows
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.session import SessionScreen

GATES = len(ALL_GATES)
"""Gates before the first station; after a resume fewer are asked again."""


class Driver:
    """One running program."""

    def __init__(self, app: CoachApp, pilot: Pilot[Any]) -> None:
        self.app, self.pilot = app, pilot
        self._seen: list[str] | None = None
        """What stands on the screen, until the program goes on: while a test looks, nothing moves."""

    @property
    def screen(self) -> Any:
        """The screen in front."""
        return self.app.screen

    @property
    def session(self) -> Session:
        """The session that is open."""
        return next(s for s in self.app.screen_stack if isinstance(s, SessionScreen)).session

    async def settle(self) -> None:
        """Wait until nothing more happens by itself: what is read beside the screen may begin only once it stands."""
        await self.heard()
        while working := [worker for worker in self.app.workers if not worker.is_finished]:
            for worker in working:
                with suppress(WorkerCancelled):  # another took its place
                    await worker.wait()
            await self.heard()

    async def heard(self) -> None:
        """Wait until every key that was sent had its effect, and what it led to stands on the screen."""
        await until_still(self.app, self.pilot)

    async def resize(self, columns: int, rows: int) -> None:
        """Another size of the terminal, and everything drawn for it."""
        await self.pilot.resize_terminal(columns, rows)
        await self.settle()

    async def press(self, *keys: str) -> None:
        """Keys one after another, each with time to act."""
        for key in keys:
            self._send(key)
            await self.heard()

    async def type(self, text: str) -> None:
        """A text into the focused field, then time to act."""
        for letter in text:
            self._send(letter)
        await self.heard()

    def _send(self, key: str) -> None:
        import unicodedata

        name = _character_to_key(key) if len(key) == 1 and not key.isalnum() else key
        try:
            character: str | None = unicodedata.lookup(_get_unicode_name_from_key(REPLACED_KEYS.get(name, name)))
        except KeyError:
            character = name if len(name) == 1 else None
        event = events.Key(name, character)
        event.set_sender(self.app)
        assert self.app._driver is not None
        self.app._driver.send_message(event)

    def rows(self) -> list[str]:
        """What stands on the screen, row by row."""
        if self._seen is None:
            self._seen = [strip.text for strip in self.screen._compositor.render_strips()]
            asyncio.get_running_loop().call_soon(self._look_again)
        return list(self._seen)

    def _look_again(self) -> None:
        self._seen = None

    def text(self) -> str:
        """What stands on the screen, spaces and line breaks alike, so that wrapped sentences are found."""
        return plain(" ".join(self.rows()))

    def part(self, selector: str) -> str:
        """The visible text of one widget."""
        widget = self.screen.query_one(selector)
        region = widget.content_region
        rows = self.rows()[max(region.y, 0) : region.bottom]
        return plain(" ".join(row[region.x : region.right] for row in rows)) if widget.display else ""

    async def measure(self, way: str = "offsets") -> None:
        """On the measuring screen: measure the bench's mark and keep it, whatever is asked."""
        screen = self.screen
        assert isinstance(screen, MeasureScreen)
        assert screen.bench is not None
        for _ in range(len(METHODS)):
            if screen.method.key != way:
                await self.press("pagedown")
        if way == "offsets":
            for amount in (screen.bench.u, screen.bench.v):
                await self.type(f"{amount:.1f}".replace(".", ","))
                await self.press("enter")
        else:
            for gap in re.findall(r"[0-9]+\.[0-9]", screen.bench.on("outer", IN_MM)):
                await self.type(gap)
                await self.press("enter")
                if self.reads_back:
                    break  # three gaps and the width of the mark before are enough
            if isinstance(self.screen, MeasureScreen):
                await self.press("f2")
        assert self.reads_back, self.screen.query_one("#trouble", Static).content
        await self.keep()

    async def keep(self) -> None:
        """At a read-back: keep the reading, questioned or not."""
        assert self.reads_back
        keys = [answer.key for answer in self.answers]
        await self.press(*["down"] * keys.index("keep" if "keep" in keys else "doubtful"), "enter")

    @property
    def reads_back(self) -> bool:
        """Whether a reading is read back, in place on the measuring screen."""
        return isinstance(self.screen, MeasureScreen) and self.screen.asked is not None

    @property
    def answers(self) -> tuple[Entry, ...]:
        """How what is read back can be answered."""
        choices: Choices = self.screen.query_one("#answers", Choices)
        return choices.entries if choices.display else ()

    async def pass_gates(self) -> None:
        """Confirm what is asked before the job goes on; how a gate is confirmed by keys has tests of its own."""
        screen, passed = self.screen, None
        if not isinstance(screen, SessionScreen):
            return
        while (step := current_step(screen.session, screen.wording)).gate:
            perform(screen.session, step, step.choices[0].key)
            passed = step
        if passed is not None:
            screen.tell_made(passed, passed.choices[0].key)
            await self.heard()

    async def to_step(self, *keys: str, most: int = 120) -> None:
        """Take the first choice of every step until one of these is reached."""
        for _ in range(most):
            if isinstance(self.screen, SessionScreen) and self.screen.step.key in keys:
                return
            if isinstance(self.screen, MeasureScreen) and "measure" in keys:
                await self.press("f4")
            elif isinstance(self.screen, MeasureScreen):
                await self.measure()
            else:
                await self.press("enter")
        raise AssertionError(f"none of {keys} was reached")


def stands(driver: Driver, caution: Caution) -> bool:
    """Whether a caution is said in the band, whole or in brief, its signal word before it or before the last one."""
    band = driver.part("#cautions")
    return caution.signal in band and (plain(caution.text) in band or plain(caution.brief) in band)


def offered(driver: Driver, number: int, label: str, within: str = "#choices") -> bool:
    """Whether a choice stands whole among those on the screen, in plain letters or in large ones."""
    choices = driver.screen.query_one(within)
    rows = driver.rows()[choices.region.y : choices.region.bottom]
    large = choice_rows(number, label, choices._columns, choices._large, choices._ascii_only)
    seen = [row[choices.region.x :].removeprefix("▶ ").strip() for row in rows]
    wanted = [row.strip() for row in large]
    return any(all(w in s for w, s in zip(wanted, seen[at:], strict=False)) for at in range(len(seen)))


def plain(text: str) -> str:
    """Words with single spaces between."""
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


@asynccontextmanager
async def running(
    folder: Path,
    *,
    practice: Practice | None = None,
    session: Path | None = None,
    size: tuple[int, int] = (80, 24),
) -> AsyncIterator[Driver]:
    """The program on a data folder, ready for keys."""
    app = CoachApp(folder, practice=None if practice is None else lambda: practice, session=session)
    app._engine.is_loaded = True  # tests have loaded it; what stands while it is not has tests of its own
    async with app.run_test(size=size) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        await driver.settle()
        yield driver


class Walk:
    """A practice job as far as anybody asked for: its sessions step by step, each built once for all tests."""

    def __init__(self, practice: Practice) -> None:
        self.session = Session.start(demo_machine(), practice=practice)
        self.session.opened()
        self.passed: list[tuple[str, int, Document]] = []
        self._note()

    def go_on(self) -> None:
        """Do what the coach asks."""
        follow(self.session, current_step(self.session, IN_MM))
        self._note()

    def _note(self) -> None:
        step = current_step(self.session, IN_MM)
        marks = sum(isinstance(event, Mark) for event in self.session.events)
        self.passed.append((step.key, marks, self.session._doc))


walk = lru_cache(Walk)


def session_at(folder: Path, key: str, practice: Practice, marks: int = 0) -> Path:
    """A stored practice session at the first step with that key after so many marks, made without the screen."""
    path, walked = folder / "sessions" / "practice.toml", walk(practice)
    for place in range(150):
        if place == len(walked.passed):
            walked.go_on()
        at, marked, document = walked.passed[place]
        if at == key and marked >= marks:
            Session(document).save(path)
            return path
    raise AssertionError(f"{key} was not reached")


def stored_session(folder: Path) -> Path:
    """The one session in the folder."""
    (path,) = (folder / "sessions").glob("*.toml")
    return path


__all__ = ["GATES", "Driver", "offered", "plain", "running", "session_at", "stands", "stored_session"]
