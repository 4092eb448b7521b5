"""Slips of a finger, of a glove, of a moment: none makes an entry that nobody meant."""

from pathlib import Path

import pytest
from app_driving import Driver, running, session_at, stands
from built_steps import built
from sweeps import sampled
from textual.widgets import Input

from coach.reading.methods import METHODS
from coach.session.document import Practice
from coach.session.events import Mark, Miss, Pulse
from coach.shown import IN_MM
from coach.steps.cautions import WAIT
from coach.tui.presses import Presses
from coach.tui.screens.choices import TOO_SOON, Choices
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.session import SessionScreen

BENCH = Practice(kind="fine", seed=3)
STEPS = ("rules", "question", "eyewear", "go", "pulse", "measure", "adjust", "screw", "move", "done")


async def at_step(driver: Driver, key: str) -> None:
    """Through the gates of a resumed session to the step."""
    while driver.screen.step.key != key and driver.screen.step.gate:
        await driver.press("enter")
    assert driver.screen.step.key == key


async def test_digits_alone_say_nothing(tmp_path: Path) -> None:
    """Digits at every kind of step, together or apart, enter nothing and open nothing: they move to a row."""
    async with running(tmp_path) as driver:
        for key in STEPS:
            session = built(key)
            driver.app.push_screen(SessionScreen(session))
            await driver.settle()
            assert key in (driver.screen.step.key, driver.screen.step.gate)
            before, deep = session.events, len(driver.app.screen_stack)
            for digit in "1239":
                await driver.press(digit)
            await driver.type("321")
            assert session.events == before, key
            assert len(driver.app.screen_stack) == deep, key
            driver.app.pop_screen()
            await driver.settle()


async def test_a_number_is_no_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A number where an answer is chosen leaves nothing chosen, so that the Enter behind it says nothing either; one
    digit and Enter do."""
    now = [1000.0]
    monkeypatch.setattr(Presses, "NUMBER", 1.0)
    monkeypatch.setattr(Presses, "clock", staticmethod(lambda: now[0]))
    async with running(tmp_path, session=session_at(tmp_path, "screw", BENCH)) as driver:
        await at_step(driver, "screw")
        before = driver.session.events
        for number in ("2.0", "12", "8", "1,5"):
            await driver.press(*number)
            said = "Choose a row first" if number == "8" else "no number to type"  # a digit that is no row's
            assert said in driver.part("#keys"), number
            await driver.press("enter")
            assert driver.session.events == before, number
            now[0] += 2
        await driver.press("2")
        assert "Enter says: Half of it" in driver.part("#keys")
        await driver.press("enter")
        assert driver.session.events[-1].kind == "turn"


async def test_a_miss_is_read_back(tmp_path: Path) -> None:
    """ "No mark after all" counts once it was confirmed, in place, and not when it was not."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_step(driver, "measure")
        before, screen = driver.session.events, driver.screen
        cautions = driver.part("#cautions")
        for back in (("enter",), ("2", "enter"), ("f4",)):
            await driver.press("2", "enter")
            assert driver.screen is screen
            assert "no mark at back-left after all" in driver.part("#text")
            assert driver.part("#cautions") == cautions
            await driver.press(*back)
            assert (driver.screen, driver.session.events) == (screen, before)
            assert "1 Measure the mark" in driver.text()
        await driver.press("2", "enter", "1", "enter")
        assert isinstance(driver.session.events[-1], Miss)


@pytest.mark.parametrize(("key", "kind"), sampled([("screw", "turn"), ("move", "shift")], ("move", "shift")))
async def test_the_opposite_is_questioned(tmp_path: Path, key: str, kind: str) -> None:
    """ "The other way" is asked about before it counts, and Enter alone does not say it."""
    async with running(tmp_path, session=session_at(tmp_path, key, BENCH)) as driver:
        await at_step(driver, key)
        before = driver.session.events
        other = str(1 + [choice.label for choice in driver.screen.choices].index("The other way"))
        await driver.press(other, "enter")
        assert "the other way than told" in driver.part("#text")
        await driver.press("enter")
        assert driver.session.events == before
        await driver.press(other, "enter", "1", "enter")
        assert driver.session.events[-1].kind == kind


async def test_the_highlight_goes_back_to_the_first_choice(tmp_path: Path) -> None:
    """After "type it" the next screw begins with "Turned as told" again."""
    async with running(tmp_path, session=session_at(tmp_path, "screw", BENCH)) as driver:
        await at_step(driver, "screw")
        assert driver.screen.step.screw.of > 1
        await driver.press("5", "enter")
        await driver.type("1/16")
        await driver.press("enter", "enter")
        assert driver.screen.step.key == "screw"
        assert "▶ 1 Turned as told" in driver.text()


async def test_a_draft_is_shown_for_its_own_pulse_only(tmp_path: Path) -> None:
    """Back at an earlier station by undo, nothing typed for a later one stands there; its own numbers do."""
    path = session_at(tmp_path, "measure", BENCH, marks=2)
    async with running(tmp_path, session=path) as driver:
        await at_step(driver, "measure")
        await driver.press("enter")
        for _ in METHODS:
            if driver.screen.method.key != "offsets":
                await driver.press("pagedown")
        await driver.type("7,7")
        await driver.press("f4")
        marks = [event for event in driver.session.effective if isinstance(event, Mark)]
        for mark in reversed(marks):
            while mark in driver.session.effective:
                await driver.press("u")
            pulse = next(e for e in reversed(driver.session.effective) if isinstance(e, Pulse))
            assert driver.screen.step.key == "measure"
            assert pulse.station == mark.station
            await driver.press("enter")
            screen = driver.screen
            assert isinstance(screen, MeasureScreen)
            shown = [screen.query_one(f"#field-{key}", Input).value for key in ("across", "along")]
            assert shown == [mark.typed["right"], mark.typed["up"]]
            await driver.press("f4")


async def test_a_pulse_made_anew_begins_with_empty_fields(tmp_path: Path) -> None:
    """The mark and its pulse taken back, then another pulse at the same place: that is another mark."""
    path = session_at(tmp_path, "measure", BENCH, marks=1)
    async with running(tmp_path, session=path) as driver:
        await at_step(driver, "measure")
        await driver.press("enter")
        await driver.measure()
        await driver.press("u", "u")
        await driver.pass_gates()
        assert driver.screen.step.key == "pulse"
        await driver.press("enter", "enter")
        assert [entry.value for entry in driver.screen.query(Input)] == [""] * len(driver.screen.query(Input))
        assert driver.screen.method.key == "offsets"  # the way that was used last


async def test_the_way_face_and_unit_are_remembered(tmp_path: Path) -> None:
    """The next mark begins with how the last one was measured, also after the program was closed between them."""
    path = session_at(tmp_path, "measure", BENCH)
    async with running(tmp_path, session=path) as driver:
        await at_step(driver, "measure")
        await driver.press("enter", "pagedown", "pagedown", "f6", "f9", "asterisk")
        await driver.type("-0.05")
        await driver.press("enter")
        await driver.type("0.02")
        await driver.press("enter")
        await driver.keep()
    async with running(tmp_path, session=path) as driver:
        await driver.to_step("measure")
        await driver.press("enter")
        assert driver.screen.method.key == "offsets"
        assert "STICKY" in driver.part("#options")
        assert "INCHES" in driver.part("#options")
        assert "ruler" in driver.part("#options").lower()


async def test_what_the_bench_shows_on_the_sticky_face(tmp_path: Path) -> None:
    """With the sticky face chosen the bench's callipers are mirrored too: its gaps, typed as read, give its mark."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_step(driver, "measure")
        bench = driver.screen.bench
        await driver.press("enter", "pagedown", "f6")
        line = bench.on("sticky", IN_MM)
        assert line in driver.part("#bench")
        assert "sticky face (swapped)" in line
        for gap in line.split(": ")[1].removesuffix(" mm").split(", "):
            await driver.type(gap.split()[1])
            await driver.press("enter")
        await driver.keep()
        mark = driver.session.effective[-1]
        assert mark.u == pytest.approx(bench.u, abs=0.11)  # gaps are told to 0.1 mm
        assert mark.v == pytest.approx(bench.v, abs=0.11)
        assert abs(bench.u) > 0.3  # so that a wrong sign shows


async def test_gaps_in_the_smallest_terminal(tmp_path: Path) -> None:
    """At 40x12 all gaps, what the bench's callipers say, by the face that is looked at, and a caution are whole."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH), size=(40, 12)) as driver:
        await at_step(driver, "measure")
        await driver.press("enter", "pagedown")
        assert driver.screen.bench.read("outer", IN_MM)[1] in driver.part("#bench")
        await driver.press("f6")
        assert driver.screen.bench.read("sticky", IN_MM)[1] in driver.part("#bench")
        assert "width" in driver.text()
        assert stands(driver, WAIT)


async def test_enter_says_what_it_does_and_the_cursor_goes_to_the_fault(tmp_path: Path) -> None:
    """Next field, then read back; a wrong number brings the cursor back to it, and a key there adds to it."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await at_step(driver, "measure")
        await driver.press("enter", "pagedown", "pagedown")
        screen = driver.screen
        assert "Enter Next field" in driver.part("#keys")
        await driver.type("1,500")
        await driver.press("enter")
        assert "Enter Read back" in driver.part("#keys")
        assert "▶ Up" in driver.text()
        await driver.type("0,4")
        await driver.press("enter")
        assert "could mean 1500 or 1.500" in driver.part("#trouble")
        assert screen.focused.id == "field-across"
        assert "▶ To the right" in driver.text()
        assert screen.bench.on("outer", IN_MM) in driver.part("#bench")  # what is wrong pushes nothing out
        await driver.press("backspace", "backspace")
        await driver.type("2")
        assert screen.focused.value == "1,52"


async def test_half_typed_turns_come_back(tmp_path: Path) -> None:
    """What was being typed about a screw, and half a note, stand there again after the program was left."""
    path = session_at(tmp_path, "screw", BENCH)
    async with running(tmp_path, session=path) as driver:
        await at_step(driver, "screw")
        await driver.press("5", "enter")
        await driver.type("1/1")
        await driver.press("f4", "n")
        await driver.type("Screw is stiff")
        await driver.press("f4")
    async with running(tmp_path, session=path) as driver:
        await driver.pass_gates()
        await driver.settle()
        assert driver.screen.typed == {"turns": "1/1"}
        await driver.press("f4")
        assert isinstance(driver.screen, SessionScreen)
        await driver.press("n")
        assert driver.screen.typed == {"note": "Screw is stiff"}


async def test_keys_after_going_back_are_dropped_with_a_word(tmp_path: Path) -> None:
    """F4 and more keys in one burst, out of a box, out of another screen, and home: what came before the screen
    beneath stood does nothing, and that is said there, also once that screen says its keys anew."""
    async with running(tmp_path, session=session_at(tmp_path, "screw", BENCH)) as driver:
        await at_step(driver, "screw")
        for opens, beneath in (("n", SessionScreen), ("r", SessionScreen), ("", HomeScreen)):
            await driver.press(*filter(None, [opens]))
            before = driver.session.events
            for key in ("f4", "down", "u"):
                driver._send(key)
            await driver.settle()
            assert isinstance(driver.screen, beneath)
            assert beneath is HomeScreen or driver.session.events == before
            assert "typed before this stood here" in driver.part("#keys"), opens


@pytest.mark.parametrize("spent", [False, True])
async def test_an_answer_that_came_too_soon_is_told_in_a_box_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, spent: bool
) -> None:
    """What takes nothing, since nobody reads so fast or since a key before it took something, says so in the box."""
    async with running(tmp_path, session=session_at(tmp_path, "screw", BENCH)) as driver:
        await at_step(driver, "screw")
        await driver.press("m")
        box, before = driver.screen, driver.session.events
        monkeypatch.setattr(Presses, "READ", 0.0 if spent else 600.0)
        box.query_one(Choices)._spent = spent
        await driver.press("enter")
        assert (driver.screen, driver.session.events) == (box, before)
        assert TOO_SOON.partition(":")[0] in driver.part(".hint")
