"""A visit that is rehearsed on the screen: what the practice machine shows stands beside steps and fields."""

from pathlib import Path

from app_driving import plain, running
from rehearsing import rehearse

from coach.practice.assist import Assist
from coach.practice.begun import begun
from coach.practice.visit_seen import LEAD
from coach.session.document import Practice
from coach.shown import IN_MM
from coach.tui.screens.asking import Ask
from coach.tui.screens.session import SessionScreen


def left_at(folder: Path, key: str, item: str) -> Path:
    """A visit to a bed out of level, left before that step was answered."""
    session = begun(Practice(kind="visit-bed", seed=1))
    path = folder / "sessions" / "visit.toml"
    path.parent.mkdir(parents=True)
    session.keep_in(path)
    session.opened()
    for step in rehearse(session):
        if (step.key, step.item) == (key, item):
            return path
    raise AssertionError(f"{key} {item} never came")


async def test_what_is_seen_stands_beside_the_step_and_is_picked_by_the_person(tmp_path: Path) -> None:
    """The owner's answer is said; which row it is, the person finds."""
    async with running(tmp_path, session=left_at(tmp_path, "ask", "weak")) as driver:
        await driver.pass_gates()
        assert f"{LEAD}toward one corner." in driver.text()
        await driver.press("2", "enter")
        assert driver.session.answers()["weak"] == ("toward one corner",)
        assert f"{LEAD}suddenly." in driver.text()


async def test_figures_stay_in_sight_while_they_are_typed(tmp_path: Path) -> None:
    """The gaps that the bench shows at the step stand over the fields too, in the smallest terminal."""
    async with running(tmp_path, session=left_at(tmp_path, "check", "bed"), size=(80, 24)) as driver:
        for _ in range(4):
            await driver.pass_gates()
        screen = driver.screen
        assert isinstance(screen, SessionScreen)
        assert (screen.step.key, screen.step.item) == ("check", "bed")
        seen = Assist(driver.session).seen(screen.step, IN_MM)
        assert seen is not None
        assert plain(seen.line) in driver.text()
        await driver.press("1", "enter")
        assert isinstance(driver.screen, Ask)
        assert plain(seen.line) in driver.text()
        for gap in seen.figures.values():
            await driver.type(f"{gap}")
            await driver.press("enter")
        await driver.press("enter")
        gaps = driver.session.checks()["bed"].figures
        assert gaps == seen.figures
