"""A few screens with their colours, as SVG pictures against stored ones: one for each look and kind of picture."""

import re
from pathlib import Path

import pytest
from app_driving import Driver
from built_steps import built
from goldens import check, difference, strangers

from coach import settings
from coach.pictures.modes import RasterMode
from coach.tui.app import CoachApp
from coach.tui.screens.session import SessionScreen

SHOWN = {
    "go-dark": ("go", (), "coach-dark", (100, 30)),
    "measuring-light": ("measure", ("enter", "right", "up", "up"), "coach-light", (80, 24)),
    "screw-no-colour": ("screw", (), "coach-dark", (80, 24)),
    "glance-contrast": ("pulse", ("g",), "coach-contrast", (80, 24)),
}
"""Name to step, keys, look and size; "no-colour" is drawn with NO_COLOR, which any look gives way to."""


@pytest.fixture(autouse=True)
def _the_same_everywhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """Colours whatever the environment says."""
    monkeypatch.delenv("NO_COLOR", raising=False)


def drawn(app: CoachApp) -> list[str]:
    """The screen as SVG, without what changes with the content's checksum and without fonts from elsewhere."""
    svg = re.sub(r"terminal-\d+", "terminal", app.export_screenshot())
    svg = re.sub(r"@font-face \{[^}]*\}\s*|<!--.*?-->\s*", "", svg)
    return svg.replace("><", ">\n<").splitlines()


@pytest.mark.parametrize("name", SHOWN)
async def test_as_stored_with_its_colours(tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every letter, colour and style is where the stored picture has it."""
    step, keys, look, size = SHOWN[name]
    if name.endswith("no-colour"):
        monkeypatch.setenv("NO_COLOR", "1")
    settings.save(tmp_path, look=look, signs="unicode", aspect=2.0, hints=False)
    app = CoachApp(tmp_path, mode=None if name.endswith("no-colour") else RasterMode.SMOOTH)
    async with app.run_test(size=size) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        app.push_screen(SessionScreen(built(step, practice=name.startswith("measuring"))))
        await driver.settle()
        await driver.press(*keys)
        await driver.settle()
        check([difference(f"svg/{name}.svg", drawn(app))])


def test_no_golden_is_left_over() -> None:
    """Every stored picture is one that is compared."""
    assert not strangers("svg", [f"{name}.svg" for name in SHOWN])
