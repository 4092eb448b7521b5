"""What was done otherwise than told, what cannot be done, how a stop goes on: one digit each, on the screen."""

from pathlib import Path

import pytest
from app_driving import running
from built_steps import built, stored
from sweeps import sampled
from textual.widgets import Input

from coach.session.events import Turn
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.deeds import part_of


@pytest.mark.parametrize(("digit", "times"), sampled([("1", 1.0), ("2", 0.5), ("3", 2.0)], ("2", 0.5)))
async def test_a_turn_by_one_digit(tmp_path: Path, digit: str, times: float) -> None:
    """As told, half of it, twice as far: entered at once, and on to what follows."""
    task = current_step(built("screw"), IN_MM).screw
    async with running(tmp_path, session=stored("screw", tmp_path)) as driver:
        await driver.pass_gates()
        await driver.press(digit, "enter")
        turn = driver.session.effective[-1]
        assert isinstance(turn, Turn)
        assert (turn.mirror, turn.screws) == (task.mirror, {task.screw: times * task.turns})
        assert driver.screen.step.screw != task


@pytest.mark.parametrize(
    ("name", "digit"),
    sampled([("adjust-part", "2"), ("move", "6"), ("adjust-tube", "2"), ("tube-off", "2")], ("move", "6")),
)
async def test_what_cannot_be_moved_is_confirmed(tmp_path: Path, name: str, digit: str) -> None:
    """Read back with its part; two leaves all as it was, one enters it, and it is asked for no more."""
    async with running(tmp_path, session=stored(name, tmp_path)) as driver:
        await driver.pass_gates() if name != "tube-off" else await driver.to_step("unplug")
        step, before = driver.screen.step, driver.session.events
        await driver.press(digit, "enter")
        assert driver.screen.asked is not None
        assert "cannot be moved: the coach will not ask for it again" in driver.part("#text")
        await driver.press("enter")
        assert (driver.screen.step, driver.session.events) == (step, before)
        await driver.press(digit, "enter", "1", "enter")
        assert driver.session.effective[-1].kind == "refused"
        assert {refused for refused, _ in driver.session.belief.refused} == {part_of(step)}
        assert part_of(driver.screen.step) != part_of(step)


@pytest.mark.parametrize(("digit", "kind"), sampled([("1", "mended"), ("2", "best")], ("2", "best")))
async def test_a_stop_goes_on(tmp_path: Path, digit: str, kind: str) -> None:
    """Mended, or aligned to the best that can be had: entered with the stop's cause."""
    async with running(tmp_path, session=stored("stop", tmp_path)) as driver:
        await driver.pass_gates()
        assert driver.screen.step.action == "Gantry yaws"
        await driver.press(digit, "enter")
        event = driver.session.effective[-1]
        assert (event.kind, event.cause) == (kind, "yaw")


@pytest.mark.parametrize(("name", "told"), sampled([("screw", "screw"), ("move", "shift")], ("screw", "screw")))
async def test_the_opposite_of_what_was_told_is_questioned(tmp_path: Path, name: str, told: str) -> None:
    """Typed the other way, Enter takes "No, back" and enters nothing; as told it takes "Yes, keep it"; no box opens
    over the box."""
    async with running(tmp_path, session=stored(name, tmp_path)) as driver:
        await driver.pass_gates()
        task, before = getattr(driver.screen.step, told), driver.session.events
        for times, kept in ((-1, False), (1, True)):
            await driver.press(next(str(n) for n, c in enumerate(driver.screen.choices, 1) if c.wants), "enter")
            box = driver.screen
            fields = box.query(Input)
            for field in fields:
                await driver.type(f"{times * getattr(task, field.id):.4f}")
                await driver.press("enter" if field is fields.last() else "down")
            assert driver.screen is box
            assert ("other way than told" in driver.part("#echo")) is not kept
            await driver.press("enter")
            assert (driver.screen is not box) is kept
            assert (driver.session.events == before) is not kept
            await driver.press(*() if kept else ("f4",))


async def test_another_dose_is_typed_read_back_and_set(tmp_path: Path) -> None:
    """The last answer at a pulse: seconds in place of ms stand there to be corrected; then it is set, on disk, and
    the same step says so."""
    async with running(tmp_path, session=stored("pulse", tmp_path)) as driver:
        await driver.pass_gates()
        before = driver.session.events
        choice = next(n for n, c in enumerate(driver.screen.choices, start=1) if c.wants == "dose")
        await driver.press(str(choice), "enter")
        await driver.press(*"0.09", "down", "down", "2", "enter")
        assert "in seconds it would be 90 ms" in driver.part("#echo")
        assert driver.session.events == before
        await driver.press(*"90", "enter", "enter")
        event = driver.session.effective[-1]
        assert (event.kind, event.ms, event.layers) == ("arrive", 90.0, 2)
        assert "Set by you: 90 ms at 12 %, 2 layers of tape." in driver.screen.step.do[0]


SIZES = [(140, 45), (40, 12), (60, 20), (80, 24), (100, 30)]


@pytest.mark.parametrize(
    ("key", "wants"),
    sampled([("screw", "turns"), ("move", "shift"), ("pulse", "dose"), ("done", "mirror")], ("move", "shift")),
)
async def test_what_is_asked_stands_in_its_place(tmp_path: Path, key: str, wants: str) -> None:
    """A box at a step leaves the cautions free, also after the terminal got another size, and its field or its
    choices are in view."""
    async with running(tmp_path, session=stored(key, tmp_path), size=(140, 45)) as driver:
        await driver.to_step(key)
        step = driver.screen
        digit = 1 + [choice.wants for choice in step.choices].index(wants)
        await driver.press(str(digit), "enter")
        assert driver.screen is not step
        for columns, rows in (SIZES[0], *(way for size in SIZES[1:] for way in (size, SIZES[0]))):
            await driver.resize(columns, rows)
            box, band = driver.screen.query_one(".box"), step.query_one("#cautions")
            assert band.region.height == len(band.rows) > 0
            assert band.region.bottom <= rows
            assert not box.region.overlaps(band.region)
            seen = driver.screen.focused.region
            assert seen.height > 0
            assert box.region.contains_region(seen)
