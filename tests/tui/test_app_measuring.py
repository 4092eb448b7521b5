"""Measuring by keyboard: what is typed survives, is read back, and is questioned before it counts."""

import re
from pathlib import Path

import pytest
from app_driving import Driver, running, session_at, stored_session
from stillness import until
from textual.widgets import Input

from coach.advice.advice import Shot
from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.events import Amend, Mark
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.gates import GATES
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.session import SessionScreen

BENCH = Practice(kind="fine", seed=3)


async def at_measuring(driver: Driver, way: str) -> MeasureScreen:
    """The first mark's measuring screen, switched to a way by PgDn."""
    await driver.pass_gates()
    await driver.press("enter")
    screen: MeasureScreen = driver.screen
    for _ in range(4):
        if screen.method.key == way:
            break
        await driver.press("pagedown")
    assert screen.method.key == way
    return screen


def last_mark(driver: Driver) -> Mark:
    """The newest entry, which has to be a mark."""
    event = driver.session.effective[-1]
    assert isinstance(event, Mark)
    return event


@pytest.mark.parametrize("size", [(40, 12), pytest.param((80, 24), marks=pytest.mark.sweep)])
async def test_a_comma_stays_a_comma(tmp_path: Path, size: tuple[int, int]) -> None:
    """-1,2 and 0,6 are read as −1.2 and 0.6 mm, said so before they count, and kept word for word."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH), size=size) as driver:
        screen = await at_measuring(driver, "offsets")
        await driver.type("-1,2")
        await driver.press("enter")
        await driver.type("0,6")
        assert "1.2 LEFT, 0.6 UP" in screen.query_one("#action").text.upper()
        await driver.press("enter")
        assert driver.reads_back
        assert "1.2 mm left, 0.6 mm up" in driver.text()
        await driver.press("enter")
        mark = last_mark(driver)
        assert (mark.u, mark.v, mark.kept) == (-1.2, 0.6, False)
        assert mark.typed["right"] == "-1,2"


async def test_the_crosshair(tmp_path: Path) -> None:
    """Arrows move it by the step, + and − change the step, and an unmoved cross is not taken for a mark."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        screen = await at_measuring(driver, "crosshair")
        await driver.press("enter")
        assert driver.screen is screen
        assert "The cross was not moved yet" in driver.part("#trouble")
        await driver.press("left", "left", "minus", "left", "plus", "up")
        assert "1.1 mm left, 0.5 mm up, give or take" in driver.part("#figure")
        await driver.press("plus", "down", "minus", "minus", "subtract", "up")
        assert "1.1 mm left, 1.4 mm down" in driver.part("#figure")
        await driver.press("f6", "up")
        assert "STICKY" in driver.part("#options")
        assert "1.1 mm left, 1.3 mm down" in driver.part("#figure")  # same spot of the tape
        await driver.press("right")
        assert "1.2 mm left" in driver.part("#figure")  # to the right on the sticky side is to the left
        await driver.press("enter", "enter")
        assert (last_mark(driver).u, last_mark(driver).v) == (-1.2, -1.3)


async def test_units_faces_and_gaps(tmp_path: Path) -> None:
    """Function keys switch inches, the sticky face, gaps to the centre; a letter in a number switches nothing."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        screen = await at_measuring(driver, "gaps")
        await driver.type("1/4")
        before = dict(screen.entries)
        await driver.type("fime")
        assert screen.entries == before
        assert "'fime' was dropped: only a number belongs here, such as 4,2 or 3/16." in driver.part("#keys")
        await driver.type("0")
        assert (screen.entries["left"], "'fime' was dropped" in driver.part("#keys")) == ("1/40", True)
        await driver.press("backspace")
        await driver.press("f9", "f6", "asterisk")
        assert screen.query_one("#field-left", Input).value == "1/4"
        assert "INCHES" in driver.part("#options")
        assert "STICKY" in driver.part("#options")
        assert "CENTRE" in driver.part("#options")
        await driver.press("f9", "f6")
        assert "mm" in driver.part("#options")
        assert "outer" in driver.part("#options")


async def test_a_reading_far_off_is_questioned(tmp_path: Path) -> None:
    """Far from what the marks before say: measuring again is the default, keeping widens the doubt."""
    path = session_at(tmp_path, "measure", BENCH, marks=4)
    async with running(tmp_path, session=path) as driver:
        screen = await at_measuring(driver, "offsets")
        far = f"{screen.purpose.shot.expected_u + 6:.1f}"
        await driver.type(far)
        await driver.press("enter")
        await driver.type(f"{screen.bench.v:.1f}")
        await driver.press("enter")
        assert driver.answers[0].key == "again"
        assert "but seen" in driver.part("#asked")
        await driver.press("enter")
        assert driver.screen is screen
        assert screen.query_one("#field-across", Input).value == far
        await driver.press("f2", "1", "enter")
        assert driver.reads_back  # 1 says "right", and that is not on offer
        await driver.press("4", "enter")
        mark = last_mark(driver)
        assert mark.kept
        assert mark.sd is not None
        assert mark.sd >= (6 - 0.05) / 2  # at least half of how far it was out, typed to 0.1 mm
        await driver.press("u", "enter", "f2", "3", "enter")  # the same numbers, looked at twice: they count in full
        sure = last_mark(driver)
        assert (sure.u, sure.v, sure.kept) == (mark.u, mark.v, True)
        assert sure.sd is not None
        assert sure.sd < 0.5


async def test_the_mirrored_reading_is_offered(tmp_path: Path) -> None:
    """A reading that fits when seen from the other face: one key takes it so, and the mark gets the right sign."""
    path = session_at(tmp_path, "measure", BENCH, marks=4)
    async with running(tmp_path, session=path) as driver:
        screen = await at_measuring(driver, "offsets")
        await driver.type(f"{-screen.bench.u:.1f}")
        await driver.press("enter")
        await driver.type(f"{screen.bench.v:.1f}")
        await driver.press("enter", "5", "enter")
        assert [entry.key for entry in driver.answers] == ["keep", "again"]
        await driver.press("1", "enter")
        assert last_mark(driver).u == pytest.approx(screen.bench.u, abs=0.051)
        assert last_mark(driver).typed["face"] == "sticky"


async def test_a_refused_entry_stays_and_says_why(tmp_path: Path) -> None:
    """Two gaps are not enough: one sentence, and the entry is still there to go on from."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        screen = await at_measuring(driver, "gaps")
        await driver.type("6,2")
        await driver.press("enter", "f2")
        assert driver.screen is screen
        assert "at least three of left" in driver.part("#trouble")
        assert screen.query_one("#field-left", Input).value == "6,2"


async def test_half_typed_entries_come_back(tmp_path: Path) -> None:
    """Leaving without another word in the middle of measuring, then resuming: way, option and number stand there."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_measuring(driver, "gaps")
        await driver.type("6,2")
        await driver.press("enter")  # on to the next field: the entry is on disk now
        await driver.press("f6")
        await driver.type("7")
        await until(driver.pilot, lambda: driver.session.draft.get("right") == "7")  # kept after a pause
    assert Session.load(stored_session(tmp_path)).draft["right"] == "7"
    async with running(tmp_path, session=stored_session(tmp_path)) as driver:
        await driver.pass_gates()
        await driver.settle()
        screen = driver.screen
        assert isinstance(screen, MeasureScreen)
        assert screen.method.key == "gaps"
        assert "STICKY" in driver.part("#options")
        assert [screen.query_one(f"#field-{side}", Input).value for side in ("left", "right")] == ["6,2", "7"]
        await driver.press("f4")
        assert isinstance(driver.screen, SessionScreen)


async def test_correcting_a_mark_in_the_review(tmp_path: Path) -> None:
    """Enter on an old mark opens what was typed for it; the correction counts from then on."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_measuring(driver, "offsets")
        await driver.measure()
        await driver.press("r", "enter")
        screen = driver.screen
        assert isinstance(screen, MeasureScreen)
        assert screen.query_one("#field-along", Input).value != ""
        await driver.press("down", "home", *["delete"] * 6)
        await driver.type("0,3")
        await driver.press("f2")
        assert driver.reads_back
        await driver.keep()
        assert isinstance(driver.session.events[-1], Amend)
        assert "corrected" in driver.text()
        (mark,) = [event for event in driver.session.effective if isinstance(event, Mark)]
        assert mark.v == 0.3


async def test_mirror_2_s_own_tape(tmp_path: Path) -> None:
    """Its opening's size is not known, so gaps are not offered; the other ways measure there too."""
    session = Session.start(demo_machine())
    session.keep_in(tmp_path / "one.toml")
    session.opened()
    for gate in GATES:
        session.gate(gate.name)
    shot = Shot("first search", 0.0, 420.0, "mirror 2")
    session.arrive(shot)
    session.pulse(shot, "mark")
    async with running(tmp_path, session=tmp_path / "one.toml") as driver:
        screen = await at_measuring(driver, "clock")
        assert "Gaps" not in driver.part("#ways")
        await driver.type("14")
        await driver.press("enter")
        await driver.type("3")
        await driver.press("enter")
        assert "14.0 mm right" in driver.part("#figure")
        await driver.keep()
        assert driver.screen is not screen
        assert (last_mark(driver).target, last_mark(driver).u) == ("mirror 2", pytest.approx(14.0))


async def test_the_drawing_says_what_a_gap_is(tmp_path: Path) -> None:
    """First the bench's mark, then the one that is read; the gap that is typed stands out, * moves its end."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        screen = await at_measuring(driver, "gaps")
        scene = screen.query_one("#picture").scene
        assert (scene.u, scene.v) == (screen.bench.u, screen.bench.v)
        assert (scene.example, scene.asked, scene.to_edge) == (False, "left", True)
        assert "straight left, right, above or below" in " ".join(str(screen.query_one("#hint").content).split())
        for text in ("6", "9", "7", "7"):
            await driver.type(text)
            await driver.press("down")
        await driver.press("up")
        scene = screen.query_one("#picture").scene
        assert (scene.u < 0, scene.asked) == (True, "bottom")
        await driver.press("asterisk")
        assert not screen.query_one("#picture").scene.to_edge
        assert "imprint to the mark's middle." in str(screen.query_one("#hint").content)


async def test_gaps_in_inches_are_no_mark_in_the_middle(tmp_path: Path) -> None:
    """Four gaps of 0.29 would be a mark of 17.4 mm: asked about; taken as inches it is one of 3.3 mm, and counts."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_measuring(driver, "gaps")
        for text in ("0.29", "0.28", "0.30", "0.29"):
            await driver.type(text)
            await driver.press("down")
        await driver.press("f2")
        assert driver.answers[0].key == "again"
        body = " ".join(driver.part("#asked").split())
        assert "The mark would be 17.4 mm wide" in body
        assert "Were these gaps typed in inches?" in body
        await driver.press(next(str(entry.number) for entry in driver.answers if entry.key == "in inches"), "enter")
        assert "The mark is about 3.3 mm wide" in " ".join(driver.part("#asked").split())
        await driver.press("1", "enter")
        assert (last_mark(driver).typed["unit"], last_mark(driver).kept) == ("in", False)
        assert last_mark(driver).u == pytest.approx(0.127, abs=0.01)


async def test_a_number_that_stood_there_is_replaced(tmp_path: Path) -> None:
    """Measured again, the cursor is in the first field, and what is typed replaces what stood there: 5.0 and 0.5 make
    0.5; Backspace edits instead."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        screen = await at_measuring(driver, "offsets")
        for text in ("5.0", "1.0"):
            await driver.type(text)
            await driver.press("enter")
        await driver.press("2", "enter")
        assert driver.screen is screen
        assert screen.focused.id == "field-across"
        await driver.press("enter")  # as it was: on to the next, whose Enter reads back
        assert screen.focused.id == "field-along"
        assert screen.asked is None
        await driver.press("enter")
        assert screen.asked is not None
        await driver.press("2", "enter")
        assert screen.focused.id == "field-across"
        await driver.type("0.5")
        assert screen.focused.value == "0.5"
        await driver.press("down", "backspace", "4")
        assert screen.entries["along"] == "1.4"
        await driver.press("up", "f6", "f9", "a", "2")
        assert screen.focused.value == "2"  # neither a command nor a slip had begun to edit it


KEYS, SCREENS = 16, 3
"""What one station may take whose mark is measured by gaps: go there, pulse, measure."""


async def test_a_station_takes_few_keys_and_none_answers_by_accident(tmp_path: Path) -> None:
    """Three gaps and the width of the mark before: Enter leads on to the fourth, since a fourth gap makes it surer,
    and the screen says so; Enter there, with nothing typed, reads back, and one more keeps it, as a
    digit chooses.  A number that is typed out of habit then keeps nothing."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_measuring(driver, "gaps")
        await driver.measure("gaps")
        assert last_mark(driver).width is not None
        keys, screens = 0, []

        async def press(*pressed: str) -> None:
            nonlocal keys
            for key in pressed:
                shown = (type(driver.screen), getattr(getattr(driver.screen, "step", None), "key", ""))
                if shown not in screens:
                    screens.append(shown)
                await driver.press(key)
            keys += len(pressed)

        await driver.to_step("go")
        await press("enter", "enter")
        screen = driver.screen
        assert isinstance(screen, MeasureScreen)
        assert "from the last" in driver.part("#field-mark")
        gaps = re.findall(r"[0-9]+\.[0-9]", screen.bench.on("outer", IN_MM))[:3]
        for gap in gaps:
            assert screen.asked is None
            await press(*gap.replace(".", ","), "enter")
        assert (screen.asked, driver.screen.focused.id) == (None, "field-bottom")
        assert "the fourth gap makes it surer" in driver.part("#figure")
        assert "Read back" in driver.part("#keys")
        await press("enter")
        assert (driver.screen, driver.reads_back) == (screen, True)
        assert re.search(r"width \d", driver.part("#asked"))
        assert "from the last mark, not measured here" in driver.part("#asked")
        before = driver.session.events
        for number in ("4", "1,5"):
            await driver.press(*number, "enter")
            assert (driver.session.events, driver.reads_back) == (before, True), number
        await driver.press("1")
        await press("enter")
        mark = last_mark(driver)
        assert (mark.station, mark.width, mark.kept) == (screen.purpose.shot.name, None, False)
        assert (keys <= KEYS, len(screens) <= SCREENS) == (True, True), (keys, screens)


async def test_a_fourth_gap_is_typed_where_a_width_is_kept(tmp_path: Path) -> None:
    """With the last mark's width at hand all four gaps can be typed one after the other; then that width counts for
    nothing, and the doubt is smaller than it was with three."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_measuring(driver, "gaps")
        await driver.measure("gaps")
        await driver.to_step("go")
        await driver.press("enter", "enter")
        screen, doubts = driver.screen, []
        assert isinstance(screen, MeasureScreen)
        for gap in re.findall(r"[0-9]+\.[0-9]", screen.bench.on("outer", IN_MM)):
            assert screen.asked is None
            await driver.type(gap)
            doubts += [reading.sd] if (reading := screen._reading_if_any()) else []
            await driver.press("enter")
        three, four = doubts
        assert four < three
        assert "from the last" not in driver.part("#asked")
        await driver.press("enter")
        assert last_mark(driver).width is not None


async def test_what_is_read_back_covers_nothing(tmp_path: Path) -> None:
    """Neither picture nor caution gives way to it or lies beneath; F4 and "measure again" lead to the numbers."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        screen = await at_measuring(driver, "gaps")
        for gap in re.findall(r"[0-9]+\.[0-9]", screen.bench.on("outer", IN_MM)):
            await driver.type(gap)
            await driver.press("enter")
        assert driver.reads_back
        for size in ((80, 24), (100, 30), (140, 45), (60, 20)):
            await driver.resize(*size)
            picture = screen.query_one("#picture")
            assert picture.display
            others = [w for w in screen.query("#form > *, #cautions") if w.display and w is not picture]
            assert not any(w.region.overlaps(picture.region) for w in others), size
            assert "WARNING" in driver.part("#cautions")
        await driver.press("f6", "pagedown")
        assert (driver.reads_back, screen.face) == (True, "outer")
        await driver.press("f4")
        assert (driver.screen, driver.reads_back, screen.focused.id) == (screen, False, "field-left")
        await driver.press("f2", "2", "enter")
        assert (driver.reads_back, screen.focused.id) == (False, "field-left")
