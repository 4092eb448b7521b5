"""A copy of a session is given away from its review: what is personal is listed first, and can be left out."""

from pathlib import Path

import pytest
from app_driving import running
from textual.widgets import Input

from coach.practice.demo import demo_machine
from coach.session.session import Session
from coach.tui.screens.review import ReviewScreen


async def test_a_copy_without_names_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Listed, asked for, written where the box says, and once: a second time it is refused there; F4 leads back."""
    monkeypatch.chdir(tmp_path)
    session = Session.start(demo_machine(), title="Bob's visit")
    path = session.keep_new(tmp_path)
    session.note("\x1bBob was here")
    session.finish()
    async with running(tmp_path, session=path) as driver:
        assert isinstance(driver.screen, ReviewScreen)
        await driver.press("x")
        assert "Title: Bob's visit (a name)" in driver.text()
        assert "a note: \N{SYMBOL FOR ESCAPE}Bob was here (a note)" in driver.text()
        await driver.press("1", "enter")
        assert "The copy is in" in driver.text()
        (copy,) = tmp_path.glob("*-copy.toml")
        assert "bob" not in f"{copy.name}{copy.read_text(encoding='utf-8')}".lower()
        assert Session.load(copy).created == session.created
        await driver.press("enter", "@", "1", "enter")
        assert "there is one already" in driver.text()
        await driver.press("f4")
        assert isinstance(driver.screen, ReviewScreen)


async def test_a_file_from_elsewhere_is_taken_up_at_the_first_screen(tmp_path: Path) -> None:
    """I asks for its path and says what is in it; what is no visit is refused there; then it is in the list, and the
    answer is what the shell says; a longer copy goes on here, or beside, only if that is chosen."""
    elsewhere, here = tmp_path / "elsewhere.toml", tmp_path / "here"
    session = Session.start(demo_machine(), title="Evening")
    session.note("dust")
    session.save(elsewhere)
    async with running(here) as driver:
        await driver.press("i")
        await driver.type(str(tmp_path / "nothing.toml"))
        await driver.press("enter")
        assert "! " in driver.part("#echo")
        for entry in driver.screen.query(Input):
            entry.value = str(elsewhere)
        await driver.settle()
        assert "Evening: begun" in driver.part("#echo")
        await driver.press("enter")
        (kept,) = (here / "sessions").glob("*.toml")
        assert "Kept in" in driver.text()
        await driver.press("enter")
        await driver.settle()
        assert any("Evening" in row.label for row in driver.screen.query_one("#list").entries)
        session.note("more dust")
        session.save(elsewhere)
        await driver.press("i")
        driver.screen.query_one(Input).value = str(elsewhere)
        await driver.settle()
        await driver.press("enter")
        assert len(Session.load(kept).events) == 1
        await driver.press("1")
        assert len(Session.load(kept).events) == 2
