"""How lengths are said belongs to one program: another one in the same process says them its own way."""

from pathlib import Path

from app_driving import Driver, session_at

from coach import settings
from coach.session.document import Practice
from coach.tui.app import CoachApp
from coach.tui.screens.measure import MeasureScreen


async def unit_beside(folder: Path, other: CoachApp) -> tuple[str, str]:
    """What a program on that folder says of the measuring screen's step, before and after the other one began."""
    app = CoachApp(folder, session=session_at(folder, "measure", Practice(kind="fine", seed=3)))
    said = []
    async with app.run_test(size=(100, 30)) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        await driver.pass_gates()
        await driver.press("enter")
        assert isinstance(driver.screen, MeasureScreen)
        for unit in ("in", "mm"):
            other.change(unit=unit)
            driver.screen.show_entries()
            await driver.settle()
            said.append(driver.part("#options"))
    return said[0], said[1]


async def test_two_programs_say_lengths_each_its_own_way(tmp_path: Path) -> None:
    """1 mm is 0.0394 in (25.4 mm exactly): the unit of one does not follow when the other's is changed."""
    for name, unit, step in (("one", "mm", "0.5 mm"), ("two", "in", "0.0197 in")):
        folder, elsewhere = tmp_path / name, tmp_path / f"beside-{name}"
        folder.mkdir()
        settings.save(folder, unit=unit, signs="unicode")
        before, after = await unit_beside(folder, CoachApp(elsewhere))
        assert step in before
        assert step in after
