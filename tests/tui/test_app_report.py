"""A report is one key away at a step, in the review and at the first screen; nothing is written over."""

from pathlib import Path

import pytest
from app_driving import Driver, running
from built_steps import stored

from coach.report.text import message
from coach.tui.screens.dialogs import Say


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder that one is in."""
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def names(folder: Path) -> list[str]:
    """What lies there, without the session's own name."""
    return sorted(path.name.partition("-report")[2] for path in folder.iterdir() if not path.name.startswith("."))


async def written(driver: Driver, *keys: str) -> str:
    """These keys; what the box then says, which Enter closes."""
    await driver.press(*keys)
    await driver.settle()
    assert isinstance(driver.screen, Say)
    said: str = driver.screen.sentence
    await driver.press("enter")
    return said


async def test_page_and_message_are_written_from_a_step_and_from_the_review(tmp_path: Path, here: Path) -> None:
    """One key, a form, Enter on the name that is proposed: there it is, its path said and kept for the end.

    The message is handed to the terminal, and that nobody knows whether it arrived is said.
    """
    async with running(tmp_path, session=stored("rules", tmp_path)) as driver:
        events = driver.session.events
        said = await written(driver, "w", "1", "enter")
        assert driver.session.events == events
        assert names(here) == [".html"]
        page = next(here.glob("*.html"))
        assert str(page) in said
        assert driver.app.written == [page]
        before = page.read_bytes()
        assert b"<h1>" in before
        await driver.press("r")
        await written(driver, "colon", "1", "enter")  # the twin of W: another keyboard
        assert names(here) == ["-2.html", ".html"]
        assert page.read_bytes() == before
        await driver.press("w", "2")
        assert driver.app.clipboard == message(driver.session)
        assert "nobody can tell" in " ".join(driver.text().split())
        await written(driver, "2", "enter")
        assert names(here) == ["-2.html", ".html", ".txt"]


async def test_at_home_the_highlighted_session_is_reported_over_nothing(tmp_path: Path, here: Path) -> None:
    """A name that is taken, or in a folder that is not there, is refused and stays to be changed.

    On a row that is no session the key says what is missing.
    """
    (here / "mine.html").write_text("mine", encoding="utf-8")
    async with running(tmp_path, session=stored("rules", tmp_path)) as driver:
        await driver.press("q")
        await driver.settle()
        await driver.press("home", "w", "1")
        await driver.press("x")  # the name that was proposed gives way, as a number does
        assert driver.screen.query_one("#file").value == "x"
        for name, said in (("mine.html", "there is one already"), ("nowhere/x.html", "There is no folder")):
            driver.screen.query_one("#file").value = name
            await driver.press("enter")
            assert said in " ".join(driver.text().split())
        assert (here / "mine.html").read_text(encoding="utf-8") == "mine"
        driver.screen.query_one("#file").value = "other.html"
        assert str(here / "other.html") in await written(driver, "enter")
        assert (here / "other.html").is_file()
        await driver.press("end", "w")
        assert "Highlight a session first" in driver.text()
