"""How long still, on the screen: in the line of the stages where there is room, in the help and at a glance."""

from datetime import timedelta
from pathlib import Path

from app_driving import running, session_at

from coach.session.document import Document, Practice
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.pace import TimeLeft
from coach.steps.standing import standing


def slowly(path: Path) -> TimeLeft | None:
    """Rewrite a stored session as if two minutes lay between its entries; what is then said of the time."""
    session = Session.load(path)
    events = tuple(
        event.model_copy(update={"at": session.created + timedelta(minutes=2 * event.id)}) for event in session.events
    )
    slow = Session(
        Document(
            title=session.title,
            created=session.created,
            machine=session.machine,
            practice=session.practice,
            events=events,
        )
    )
    slow.save(path)
    return standing(slow, current_step(slow, IN_MM)).time


async def test_where_it_stands(tmp_path: Path) -> None:
    """From 100 columns in the line of the stages, whole; at 80 in the help and at a glance; nowhere in 40."""
    path = session_at(tmp_path, "adjust", Practice(kind="plain", seed=11), marks=3)
    time = slowly(path)
    assert time is not None
    said = f"about {time.minutes} minutes at your pace, turning not counted"
    async with running(tmp_path, session=path, size=(100, 30)) as driver:
        await driver.pass_gates()
        assert f"about {time.minutes} min of pulses PRACTICE" in driver.part("#where")
        await driver.resize(140, 45)
        assert f", {said} PRACTICE" in driver.part("#where")
        await driver.resize(80, 24)
        assert "min" not in driver.part("#where")
        assert driver.part("#where").endswith("PRACTICE")
        await driver.press("?")
        assert said in driver.text()
        await driver.press("q", "g")
        assert f"G or Enter: back · to do: {said}" in driver.text()
        await driver.resize(160, 30)
        assert f"of adjusting, {said}" in driver.text()
        await driver.resize(40, 12)
        assert driver.text().endswith("G or Enter: back")


async def test_without_three_timed_pulses_nothing_is_said(tmp_path: Path) -> None:
    """The counts stand alone, as they always did."""
    path = session_at(tmp_path, "go", Practice(kind="plain", seed=11), marks=2)
    assert slowly(path) is None
    async with running(tmp_path, session=path, size=(140, 45)) as driver:
        await driver.pass_gates()
        assert "pulse 2 of about" in driver.part("#where")
        assert "min" not in driver.part("#where")
