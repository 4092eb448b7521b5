"""Every letter on every screen stands out from its ground: at least 4.5 to 1 (WCAG 2.2, success criterion 1.4.3).

The terminal's own sixteen colours are taken as Textual draws them by itself; which they are, the terminal knows.
"""

import html
import re
from collections.abc import Awaitable, Callable, Iterator
from pathlib import Path

import pytest
from app_driving import Driver
from built_steps import built
from sweeps import sampled
from textual.color import Color
from textual.filter import ANSIToTruecolor, DimFilter
from textual.geometry import Region
from textual.widgets import Input

from coach import settings
from coach.pictures.modes import RasterMode
from coach.tui.app import CoachApp
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.session import SessionScreen

LEAST = 4.5


def at(name: str, *keys: str) -> Callable[[Driver], Awaitable[None]]:
    """A step, and what these keys open from there."""

    async def show(driver: Driver) -> None:
        driver.app.push_screen(SessionScreen(built(name, practice=False)))
        await driver.settle()
        await driver.press(*keys)
        await driver.settle()

    return show


async def notice(driver: Driver) -> None:
    """Something said in passing, in place of the keys."""
    await at("go")(driver)  # the first screen says its keys anew whenever a piece of it comes
    driver.app.notify("Colours: dark")
    await driver.settle()
    assert driver.part("#keys") == "✓ Colours: dark"


async def refused(driver: Driver) -> None:
    """A key that took nothing."""
    await at("go")(driver)
    await driver.press("~")
    assert driver.part("#keys").startswith("! ~ does nothing here")


SCREENS = {
    "home": at("go", "q"),
    "gate": at("eyewear"),
    "pulse": at("pulse"),
    "what was done": at("screw", "u"),
    "measuring": at("measure", "enter", "pagedown", "7"),
    "typing a turn": at("screw", "5", "enter"),
    "list of commands": at("screw", "f7"),
    "list of commands, searched": at("screw", "f7", "u", "n"),
    "settings": at("go", "s"),
    "review": at("done", "r"),
    "help": at("screw", "question_mark"),
    "notice": notice,
    "refused": refused,
}


def faint(driver: Driver) -> Iterator[str]:
    """Words with too little contrast, and how much they have."""
    theme = driver.app.ansi_theme
    filters = [ANSIToTruecolor(theme), DimFilter()]
    ground = Color(*theme.background_color)
    for strip in driver.screen._compositor.render_strips():
        segments = list(strip)
        for one in filters:
            segments = one.apply(segments, ground)
        for text, style, _ in segments:
            if style is None or not any(sign.isalnum() for sign in text):
                continue
            ink = style.color.get_truecolor(theme) if style.color else theme.foreground_color
            below = style.bgcolor.get_truecolor(theme, foreground=False) if style.bgcolor else theme.background_color
            if style.reverse:
                ink, below = below, ink
            ratio = contrast(ink, below)
            if ratio < LEAST:
                yield f"{ratio:.1f}: {text.strip()[:40]!r}"


def contrast(one: tuple[int, ...], other: tuple[int, ...]) -> float:
    """The contrast of two colours, from 1 to 21 (WCAG 2.2, relative luminance)."""

    def luminance(colour: tuple[int, ...]) -> float:
        parts = [part / 255 for part in colour]
        red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("look", sampled(settings.LOOKS, "coach-light"))
async def test_every_letter_stands_out(tmp_path: Path, look: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """In every look: steps, cautions, fields, placeholders, the list of commands, and notices."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    found = {}
    settings.save(tmp_path, look=look, signs="unicode", hints=False)
    app = CoachApp(tmp_path, mode=None if look.startswith("ansi") else RasterMode.SMOOTH)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        for name, show in SCREENS.items():
            await show(driver)
            if weak := sorted(set(faint(driver))):
                found[name] = weak
            while not isinstance(driver.screen, HomeScreen):
                app.pop_screen()
                await driver.settle()
    assert not found


FIELDS = {"typing a turn": ("screw", "5", "enter"), "measuring": ("measure", "enter", "pagedown")}


@pytest.mark.parametrize("typed", sampled(["", "7"], "7"))
@pytest.mark.parametrize("name", FIELDS)
async def test_a_field_and_its_cursor_are_seen_without_colours(
    tmp_path: Path, name: str, typed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With NO_COLOR the field that is typed into is reversed, empty or not, and its cursor is not."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = CoachApp(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        step, *keys = FIELDS[name]
        await at(step, *keys)(driver)
        assert isinstance(app.focused, Input)
        await driver.press(*typed)
        row = styled(driver, app.focused.content_region)
        assert sum(reversed_ for _, reversed_ in row) > len(row) // 2
        assert [sign for sign, reversed_ in row if not reversed_][:1] == [" "]
        assert "".join(sign for sign, _ in row).strip() == typed


@pytest.mark.parametrize("look", [look for look in settings.LOOKS if look.startswith("ansi")])
async def test_every_field_is_seen_in_the_terminals_own_colours(tmp_path: Path, look: str) -> None:
    """There a field has no ground of its own: those that wait are underlined as wide as they are."""
    settings.save(tmp_path, look=look, hints=False)
    app = CoachApp(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        await at("measure", "enter", "pagedown")(driver)
        waiting = [field for field in app.screen.query(Input) if field.display and field is not app.focused]
        assert waiting
        for field in waiting:
            region = field.content_region
            strip = driver.screen._compositor.render_strips()[region.y].crop(region.x, region.right)
            assert all(style and style.underline for text, style, _ in strip if text)


async def test_what_is_chosen_in_the_list_of_commands_is_seen_without_colours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With NO_COLOR the command that Enter runs is reversed; no sign of the list is unknown to plain letters."""
    monkeypatch.setenv("NO_COLOR", "1")
    settings.save(tmp_path, signs="ascii", hints=False)
    app = CoachApp(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        await at("screw", "f7", "u", "n")(driver)
        rows = [segment for strip in driver.screen._compositor.render_strips() for segment in strip]
        assert any("Undo" in text for text, style, _ in rows if style and style.reverse)
        assert not any("Settings" in text for text, style, _ in rows if style and style.reverse)
        assert "??" not in shown(driver)


async def test_the_highlighted_choice_is_reversed_without_colours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With NO_COLOR the row that Enter takes stands out from the others."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = CoachApp(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        await at("screw")(driver)
        region = app.screen.query_one("#choices").content_region
        first = styled(driver, region)
        second = styled(driver, region.translate((0, 1)))
        assert all(reversed_ for _, reversed_ in first)
        assert not any(reversed_ for _, reversed_ in second)


def styled(driver: Driver, region: Region) -> list[tuple[str, bool]]:
    """The signs of a region's first row, and whether each is reversed."""
    strip = driver.screen._compositor.render_strips()[region.y].crop(region.x, region.right)
    return [(sign, bool(style and style.reverse)) for text, style, _ in strip for sign in text]


def shown(driver: Driver) -> str:
    """What the terminal gets, after all that is put into plain signs."""
    return re.sub(r"<[^>]*>", "", html.unescape(driver.app.export_screenshot()))
