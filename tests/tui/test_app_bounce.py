"""One press of Enter that arrives two or three times at once: it is one answer, and no screen is lost."""

from pathlib import Path

import pytest
from app_driving import Driver, running
from built_steps import stored

from coach.describing import drafts
from coach.tui.screens.describe import DescribeScreen


async def bounced(driver: Driver, key: str = "enter") -> None:
    """The key three times before the program can heed the first."""
    for _ in range(3):
        driver._send(key)
    for _ in range(3):
        await driver.settle()


@pytest.mark.parametrize(
    ("step", "keys", "text", "boxes", "entries"),
    [
        ("go", ("n",), "Tube hums", [], ["note"]),
        pytest.param("go", ("p",), "undo", [], ["undo"], marks=pytest.mark.sweep),
        ("screw", ("5", "enter"), "1/16", ["Ask"], []),
        pytest.param("move-tube", ("5", "enter", "0", "enter"), "1,5", ["Ask"], [], marks=pytest.mark.sweep),
        ("measure", ("enter", "pagedown", "pagedown", "1", "enter"), "2", ["MeasureScreen"], []),
    ],
    ids=["note", "list of commands", "turned", "moved", "measured"],
)
async def test_one_answer(
    tmp_path: Path, step: str, keys: tuple[str, ...], text: str, boxes: list[str], entries: list[str]
) -> None:
    """One entry or one box to confirm it, above the session that was open."""
    async with running(tmp_path, session=stored(step, tmp_path)) as driver:
        await driver.pass_gates()
        await driver.press(*keys)
        await driver.type(text)
        await driver.settle()
        before = len(driver.session.events)
        await bounced(driver)
        names = [type(screen).__name__ for screen in driver.app.screen_stack]
        assert names[1:] == ["SessionScreen", *boxes]
        assert [event.kind for event in driver.session.events[before:]] == entries


async def test_what_is_typed_answers_one_question(tmp_path: Path) -> None:
    """The travel from left to right is not also the one from front to back."""
    async with running(tmp_path) as driver:
        await driver.press("1", "f12")
        await driver.type("600")
        await bounced(driver)
        assert isinstance(driver.screen, DescribeScreen)
        assert driver.screen.question.key == "bed.depth"
        assert "bed.depth" not in driver.screen.draft.description.answers
    (draft,), _ = drafts.drafts(tmp_path)
    assert draft.description.answers["bed.width"] == "600"
