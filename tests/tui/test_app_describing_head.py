"""Mirror 3, lens and nozzle described in the middle of a session, by keys alone."""

from pathlib import Path

from app_driving import Driver, running, stands
from machines import make_machine, mount_table

from coach import Machine
from coach.describing import drafts
from coach.describing.head_answers import TURNS
from coach.machine import Mount
from coach.session.session import Session
from coach.session.store import Store
from coach.steps.cautions import LENS, NOT_FIRING
from coach.tui.screens.describe_head import DescribeHeadScreen, describe_head


def begun(folder: Path) -> Path:
    """A session on a stored machine of whose head nothing is known."""
    machine = Machine.load(Store(folder).save_machine(make_machine()))
    session = Session.start(machine)
    session.keep_in(folder / "sessions" / "s.toml")
    return folder / "sessions" / "s.toml"


async def opened(driver: Driver, said: list[str]) -> None:
    """The form over the session's screen, as a step opens it."""
    screen, session = driver.screen, driver.session
    describe_head(screen, session, session.described, said.append)
    await driver.settle()
    assert isinstance(driver.screen, DescribeHeadScreen)


async def test_the_head_is_described_and_the_session_goes_on_with_it(tmp_path: Path) -> None:
    """Only its questions, with the cautions of lens and nozzle; kept in session and machine; no draft is left."""
    path, said = begun(tmp_path), list[str]()
    async with running(tmp_path, session=path, size=(100, 30)) as driver:
        await opened(driver, said)
        assert "Mirror 3, lens and nozzle question 1 of 7" in driver.text()
        assert stands(driver, NOT_FIRING)
        await driver.press("shift+tab")
        assert "This is the first question" in driver.part("#keys")
        await driver.press("2", "1", "1")  # screws: an L, its corner at the lower left
        await driver.type("32")
        await driver.press("enter", "2", "1")  # M4, push
        await driver.type("63,5")
        await driver.press("enter")
        assert stands(driver, LENS)
        await driver.press("f3")
        assert driver.screen.rows()[0].label == "Keep it: on with the visit"
        assert "nozzle to focus: 8.0 mm, guessed" in driver.part("#choices")
        assert "travel" not in driver.part("#choices")
        await driver.press("1")
        assert driver.screen is driver.app.screen_stack[-1]
        assert not isinstance(driver.screen, DescribeHeadScreen)
        assert driver.session.head_belief.layout.screws == ("B", "C")
    assert "kept with the machine in" in said[0]
    kept, stored = Session.load(path).machine, Store(tmp_path).find_machine("Shed laser")
    assert (kept.lens, kept.mount(3)) == (stored.lens, stored.mount(3))
    assert kept.lens is not None
    assert kept.lens.focal == 63.5
    assert [(p.x, p.y) for p in kept.mount(3).points] == [(-16, -16), (16, -16), (-16, 16)]
    assert not list((tmp_path / "drafts").rglob("*.toml"))


async def test_half_of_it_waits_and_a_refusal_is_told(tmp_path: Path) -> None:
    """Left in the middle nothing is entered; gone on with where it stood; a refusal leaves the draft."""
    path, said = begun(tmp_path), list[str]()
    async with running(tmp_path, session=path) as driver:
        await opened(driver, said)
        await driver.press("1")  # fixed
        await driver.type("6")
        await driver.press("f4")
        await driver.settle()
        assert said == [""]
    assert Session.load(path).machine.mirror3 is None
    async with running(tmp_path, session=path) as driver:
        session = driver.session
        await opened(driver, said)
        assert (driver.screen.question.key, driver.screen.entry.value) == ("lens.focal", "6")
        await driver.type("63,5")
        await driver.press("enter", "f3")
        third = Mount.model_validate(mount_table(3))
        session.described(session.machine.model_copy(update={"mounts": (*session.machine.mounts, third)}))
        session.turn(3, {"B": 0.1})
        await driver.press("1")
        await driver.settle()
        assert "Screw B of mirror 3 was turned" in driver.text()
    (draft,) = (tmp_path / "drafts" / "head").glob("*.toml")
    assert drafts.read(draft).description.answers[TURNS] == "no"
