"""Left at any step of the job and opened again: after the gates that are asked anew it is the same step."""

from pathlib import Path

import pytest
from app_driving import Driver, plain, running
from asked_again import AGAIN, asked_before
from built_steps import NAMES, built, stored
from sweeps import sampled

from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.tui.screens.measure import MeasureScreen


async def through_the_gates(driver: Driver, last: str) -> list[str]:
    """Confirm what is asked until the gate of that name, or all of them; which ones it were."""
    asked: list[str] = []
    while (gate := driver.screen.step.gate) and gate != last:
        asked.append(gate)
        await driver.press("enter")
    return asked


PLACED_AGAIN = ("head-pulse",)
"""Where card or tape are said to be in place once more first, as tape is (tests/steps/test_head_part.py)."""
STAYS = [name for name in NAMES if name not in PLACED_AGAIN]
EVERYDAY = ("pulse", "measure", "move-tube", "flare")
"""Which gates come again at every other step is said without a screen (tests/steps/test_gates.py)."""


@pytest.mark.parametrize(
    ("name", "practice"),
    sampled([*((name, False) for name in STAYS), ("measure", True)], *((name, False) for name in EVERYDAY)),
)
async def test_back_at_the_same_step(tmp_path: Path, name: str, practice: bool) -> None:
    """Action, figure, words and choices stand there as before, and no entry but openings and gates was made."""
    before = built(name, practice=practice)
    step = current_step(before, IN_MM)
    async with running(tmp_path, session=stored(name, tmp_path, practice=practice)) as driver:
        asked = await through_the_gates(driver, step.gate)
        assert asked == asked_before(name, step.gate)
        assert driver.screen.step == current_step(before, driver.screen.wording)
        assert driver.screen.query_one("#action").text == step.action
        assert driver.screen.query_one("#figure").text == step.figure
        assert plain(f"1 {driver.screen.choices[0].label}") in driver.part("#choices")
        driver.app.leave()
    kept = Session.load(tmp_path / "sessions" / f"{name}.toml")
    assert [e for e in kept.effective if e.kind not in ("opened", "gate")] == [
        e for e in before.effective if e.kind not in ("opened", "gate")
    ]
    assert current_step(kept, IN_MM) == step


async def test_after_a_flame_is_out_the_gates_are_asked_again(tmp_path: Path) -> None:
    """Opened again with a flame: first the flame, and once it is out every gate before the job goes on."""
    async with running(tmp_path, session=stored("flare", tmp_path)) as driver:
        assert driver.screen.step.action == "Let go, lid shut"
        await driver.press("enter")
        assert await through_the_gates(driver, "") == AGAIN


HALF = {
    "crosshair": ("measure", ("enter", "right", "up", "up"), "", {"cross_u": "0.5", "cross_v": "1"}),
    "gaps": ("measure", ("enter", "pagedown"), "6,2", {"left": "6,2"}),
    "offsets": (
        "measure",
        ("enter", "pagedown", "pagedown", "f6", "1", "enter"),
        "-3/",
        {"across": "1", "along": "-3/"},
    ),
    "clock": ("search-measure", ("enter", "pageup", "4", "enter"), "7:", {"distance": "4", "hour": "7:"}),
    "turned": ("screw", ("5", "enter"), "1/1", {"turns": "1/1"}),
    "moved": ("move-tube", ("5", "enter", "1", "enter"), "2,", {"up": "1", "back": "2,"}),
}
"""What was being typed: the step, the keys that lead there, the text, and the fields that it fills."""


@pytest.mark.parametrize("what", sampled(HALF, "crosshair"))
async def test_half_typed_entries_stand_there_again(tmp_path: Path, what: str) -> None:
    """Left in the middle of a number: once the gates are passed it stands there as it was typed."""
    name, keys, text, fields = HALF[what]
    path = stored(name, tmp_path)
    async with running(tmp_path, session=path) as driver:
        await driver.pass_gates()
        await driver.press(*keys)
        await driver.type(text)
        driver.app.leave()
    async with running(tmp_path, session=path) as driver:
        await driver.pass_gates()
        await driver.settle()
        screen = driver.screen
        if isinstance(screen, MeasureScreen):
            assert (screen.method.key, screen.face) == (what, "sticky" if what == "offsets" else "outer")
            assert {key: screen.entries.get(key) for key in fields} == fields
        else:
            assert screen.typed == fields
