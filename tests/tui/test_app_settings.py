"""The settings inside the program, hints, the person's unit and keys, plain letters, and keys that are only held."""

from pathlib import Path

import pytest
from app_driving import Driver, running, session_at, stands, stored_session
from stillness import until
from sweeps import sampled
from textual.binding import Binding

from coach import settings
from coach.files import write_toml
from coach.session.document import Practice
from coach.session.events import Gate, Mark, Plan, Shift
from coach.settings import Settings
from coach.shown import IN_MM
from coach.signs import in_place, to_ascii
from coach.steps.cautions import ALWAYS
from coach.tui.commands import own, registry
from coach.tui.presses import Presses
from coach.tui.screens.choices import TOO_SOON, Choices
from coach.tui.screens.hints import HINTS
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.measure_parts import FieldRow
from coach.tui.screens.parts import HINT
from coach.tui.screens.session import SessionScreen
from coach.tui.screens.settings import SettingsScreen
from coach.tui.screens.settings_rows import ROWS

BENCH = Practice(kind="fine", seed=3)


def kept(folder: Path) -> Settings:
    """The settings on disk, which have to be readable."""
    loaded = settings.load(folder)
    assert not loaded.problems
    return loaded.settings


def row(key: str) -> str:
    """The digit that takes a row of the list."""
    return str(1 + [each.key for each in ROWS].index(key))


OWN_KEYS = ("s", "end", "enter")
"""To the last row of the settings: there may be more rows than digits."""


# -- the list -------------------------------------------------------------------------------------


async def test_every_change_is_kept_at_once(tmp_path: Path) -> None:
    """Enter, digits and arrows change values, what is typed is told back, the file says what the screen does."""
    async with running(tmp_path) as driver:
        await driver.press("s", row("unit"))
        assert isinstance(driver.screen, SettingsScreen)
        assert "Saved. Lengths, shown and typed: inches." in driver.text()
        assert kept(tmp_path).unit == "in"
        await driver.press("up", "left")
        assert kept(tmp_path).look == "ansi-light"
        assert driver.app.theme == "ansi-light"
        await driver.press("t")  # the key for the next colours shows in the list too
        assert "Colours: dark" in driver.text()
        await driver.press(row("turns_in"))
        assert "Saved. Screw turns, said first: fractions of a turn." in driver.text()
        assert driver.app.wording.turns_in == "fractions"
        await driver.press(row("unit"), row("steps"), *["backspace"] * 3)
        await driver.type("3 mm")
        await driver.press("enter")
        assert "! These are no three steps" in driver.text()
        await driver.press(*["backspace"] * 4)
        await driver.type("0,2")
        assert "Understood: 0.2 mm, 0.5 mm, 2 mm" in driver.text()
        await driver.press("enter")
        assert "Saved. Crosshair's steps: 0.2, 0.5, 2 mm." in driver.text()
        await driver.press(row("signs"), row("aspect"), "right", row("hints"), "q")
    assert kept(tmp_path).steps == (0.2, 0.5, 2.0)
    assert (kept(tmp_path).signs, kept(tmp_path).aspect, kept(tmp_path).hints) == ("unicode", 1.6, False)


async def test_what_cannot_be_used_is_said_and_stops_nothing(tmp_path: Path) -> None:
    """A value, a key and a clash that an editor left there: each named, the rest heeded, the program goes on."""
    table = {"look": "pink", "unit": "inch", "keys": {"undo": ["r", "f11", "z"], "fly": ["x"]}}
    write_toml(tmp_path / settings.FILE, table)
    async with running(tmp_path, size=(100, 30)) as driver:
        said = driver.text()
        for part in ("'look' cannot be used", "R means Review already", "F11", "There is no command 'fly'"):
            assert part in said
        await driver.press("enter", "s")
        assert "Lengths, shown and typed: inches" in driver.text()
        assert "1 of your own" in driver.text()


# -- keys -----------------------------------------------------------------------------------------


async def test_a_key_of_ones_own(tmp_path: Path) -> None:
    """Pressed once where it is asked for, it works besides the others, is told in the help, and can be taken back."""
    async with running(tmp_path, session=session_at(tmp_path, "go", BENCH)) as driver:
        await driver.pass_gates()
        await driver.press(*OWN_KEYS)
        choices = driver.screen.query_one("#list", Choices)
        choices.highlighted = next(i for i, entry in enumerate(choices.entries) if entry.key == "undo")
        await driver.press("enter", "r")
        assert "R means Review already" in driver.text()
        for refused in ("f11", "5", "full_stop", "alt+x", "left_square_bracket", "enter"):
            await driver.press(refused)
            assert "!" in driver.text()
        await driver.press("z")
        assert "Saved: Z means Undo, Undo last too." in driver.text()
        await driver.press("q", "q")
        before = len(driver.session.effective)
        await driver.press("Z")
        assert len(driver.session.effective) == before - 1
        await driver.press("u")
        assert len(driver.session.effective) == before - 2
        await driver.press("question_mark", "space")
        assert "U or F5, also Z" in driver.text()
        await driver.press("q", *OWN_KEYS, "up", "up", "home", "enter", "q", "q")
        assert kept(tmp_path).keys == {}
        before = len(driver.session.effective)
        await driver.press("z")
        assert len(driver.session.effective) == before


def test_the_usual_keys_clash_nowhere() -> None:
    """On no screen do two commands share a key, none is one that a terminal keeps, and each has its own name."""
    ids = {}
    for screen in registry.ALL:
        keys = [key for command in screen for key in command.keys]
        assert len(keys) == len(set(keys))
        assert not {"f10", "f11"} & set(keys)
        for command in screen:
            assert ids.setdefault(command.id(), type(command)) is type(command)


# -- the unit -------------------------------------------------------------------------------------


async def test_inches_from_the_step_to_the_file(tmp_path: Path) -> None:
    """What is read, typed and read back is in inches; the file keeps mm and the unit in which it was typed."""
    settings.save(tmp_path, unit="in")
    async with running(tmp_path, session=session_at(tmp_path, "go", BENCH)) as driver:
        await driver.pass_gates()
        assert driver.screen.step.figure.startswith("X 0.79")
        assert " mm" not in driver.text()
        await driver.press("enter", "enter", "enter", "pagedown", "pagedown")
        assert isinstance(driver.screen, MeasureScreen)
        assert "INCHES" in driver.part("#options")
        assert " mm" not in driver.text()
        await driver.type("1/8")
        await driver.press("enter")
        await driver.type("-0,02")
        assert "0.125 RIGHT, 0.020 DOWN" in driver.screen.query_one("#action").text.upper()
        await driver.press("enter")
        assert driver.reads_back
        assert "0.125 in right, 0.020 in down" in driver.text()
        assert " mm" not in driver.text()
        await driver.keep()
        (mark,) = [event for event in driver.session.events if isinstance(event, Mark)]
        assert (mark.u, mark.v) == (3.175, -0.508)  # 1 in = 25.4 mm exactly (NBS Circular 572 addendum, read)
        assert (mark.typed["right"], mark.typed["unit"]) == ("1/8", "in")


async def test_a_plan_is_kept_in_mm_and_read_in_inches(tmp_path: Path) -> None:
    """A plan keeps no sentence, and its reason is said in inches; what was moved is typed in inches, and kept so."""
    settings.save(tmp_path, unit="in")
    session_at(tmp_path, "adjust-part", Practice(kind="fine", seed=1))
    async with running(tmp_path, session=stored_session(tmp_path)) as driver:
        await driver.pass_gates()
        assert " mm" not in driver.text()
        await driver.press("enter")
        (*_, plan) = [event for event in driver.session.events if isinstance(event, Plan)]
        assert "why" not in plan.model_dump()
        assert " mm" not in driver.text()
        await driver.to_step("move")
        await driver.press("5", "enter")
        await driver.type("0.02")
        assert "0.0200 in" in driver.text()
        await until(driver.pilot, lambda: driver.session.draft.get("unit") == "in")  # kept after a pause
        await driver.press("enter", "enter", "1", "enter")
        shift = next(e for e in reversed(driver.session.events) if isinstance(e, Shift))
        assert 0.508 in (abs(shift.up), abs(shift.right), abs(shift.back))
        assert shift.typed is not None
        assert shift.typed["unit"] == "in"


@pytest.mark.sweep
async def test_a_unit_chosen_meanwhile_counts_for_the_next_mark(tmp_path: Path) -> None:
    """Marks before were typed in mm: from the change on the fields take inches, and what was half typed does not."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH, marks=1)) as driver:
        await driver.pass_gates()
        await driver.press("s", row("unit"), "q", "enter")
        assert driver.screen.method.key == "offsets"  # as before, but for the unit
        assert "INCHES" in driver.part("#options")
        await driver.type("0,1")
        await driver.press("f4", "s", row("unit"), "q", "enter")
        assert "INCHES" in driver.part("#options")  # that 0,1 was typed in inches


# -- hints ----------------------------------------------------------------------------------------


async def test_a_hint_comes_once(tmp_path: Path) -> None:
    """At the first station it stands in place of the keys until a key is pressed; the next time it does not."""
    async with running(tmp_path, session=session_at(tmp_path, "go", BENCH)) as driver:
        await driver.pass_gates()
        assert driver.part("#keys").startswith(HINT + HINTS["go"])
        assert "Glance" in driver.part("#keys")
        await driver.press("enter", "u")
        assert "Hint" not in driver.part("#keys")
    assert {"go", "pulse"} <= set(kept(tmp_path).seen)


async def test_hints_off_and_on_again(tmp_path: Path) -> None:
    """Off means none; shown once more they start from the beginning."""
    settings.save(tmp_path, hints=False)
    async with running(tmp_path) as driver:
        assert "Hint" not in driver.text()
        await driver.press("s", row("hints"), "q")
        driver.app.practise(BENCH)
        await driver.settle()
        await driver.settle()
        assert HINTS["safety"] in driver.part("#keys")


@pytest.mark.parametrize(
    "size", [(80, 24), *(pytest.param(size, marks=pytest.mark.sweep) for size in ((100, 30), (140, 45)))]
)
async def test_a_hint_costs_nothing(tmp_path: Path, size: tuple[int, int]) -> None:
    """With a hint action, choices, picture, keys and every caution stand as without."""
    session_at(tmp_path, "go", BENCH)
    seen = []
    for hints in (True, False):
        settings.save(tmp_path, hints=hints, seen=())
        async with running(tmp_path, session=stored_session(tmp_path), size=size) as driver:
            await driver.pass_gates()
            assert (HINTS["go"] in driver.part("#keys")) is hints
            assert "Glance" in driver.part("#keys")
            parts = ("#action", "#figure", "#text", "#choices", "#cautions")
            seen.append([driver.part(part) for part in parts] + [driver.screen.query_one("#picture").display])
    assert seen[0] == seen[1]


def test_hints_fit_the_smallest_line() -> None:
    """Each stands whole in one line of 80 columns, and is shown somewhere."""
    assert all(len(HINT) + len(text) <= 78 for text in HINTS.values())
    from coach.steps.table import STEPS

    assert set(HINTS) <= {*STEPS, "describe", "home", "review", "settings", "measuring", "upkeep"}


# -- plain letters --------------------------------------------------------------------------------


@pytest.mark.parametrize("by", sampled(["setting", "encoding"]))
async def test_plain_letters_everywhere(tmp_path: Path, by: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """By one's own word, or on a terminal that knows no more: nothing but ASCII on any screen of a whole job."""
    if by == "setting":
        settings.save(tmp_path, signs="ascii")
    else:
        monkeypatch.setattr("rich.console.Console.encoding", property(lambda console: "iso-8859-1"))
    seen: set[str] = set()

    def look(driver: Driver) -> None:
        name = getattr(getattr(driver.screen, "step", None), "key", type(driver.screen).__name__)
        seen.add(name)
        strange = {sign for row in driver.rows() for sign in row if not sign.isascii()}
        assert not strange, (name, strange)

    async with running(tmp_path, size=(100, 30)) as driver:
        look(driver)
        for keys in (*OWN_KEYS, "down", "enter"):
            await driver.press(keys)
            look(driver)
        await driver.press("f4", "q", "q")
        driver.app.practise(BENCH)
        await driver.settle()
        await driver.settle()
        for _ in range(60):
            look(driver)
            if isinstance(driver.screen, SessionScreen) and driver.screen.step.key in ("screw", "done"):
                break
            if isinstance(driver.screen, MeasureScreen):
                await driver.press("pagedown")
                look(driver)
                await driver.measure()
            else:
                await driver.press("enter")
        assert driver.screen.step.key in ("screw", "done")
        for keys in ("g", "question_mark", "r", "n", "p"):
            await driver.press(keys)
            await driver.settle()
            look(driver)
            await driver.press("escape" if keys == "p" else "f4")
    assert {"HomeScreen", "SettingsScreen", "KeysScreen", "NewKey", "go", "pulse", "MeasureScreen", "adjust"} <= seen
    assert {"MeasureScreen", "GlanceScreen", "HelpScreen", "ReviewScreen", "Ask", "FindCommand"} <= seen


def test_signs_in_plain_letters() -> None:
    """Fractions are written out; what is laid out already keeps its width, whatever letters a person uses."""
    assert to_ascii("⅛ turn − ✓ → 1,5 · ⚠ Werkstück") == "1/8 turn - + > 1,5 . ! Werkstuck"
    for text in ("⅛ turn", "┏━┓│┃▌▅", "Лазер", "激光 1", "…"):
        from rich.cells import cell_len

        assert in_place(text).isascii()
        assert len(in_place(text)) == cell_len(text)
    assert in_place("┏━┓│┃├") == "+-+||+"
    assert (in_place("0.8° lean, 20 °C"), to_ascii("6°, 20 °C")) == ("0.8d lean, 20  C", "6 deg, 20 C")  # never 0.80


# -- keys that are only held ----------------------------------------------------------------------


class Clock:
    """Seconds that pass when a test says so."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.now = 1000.0
        for name, value in (("APART", 0.1), ("HELD", 0.12), ("CALM", 0.7), ("READ", 0.3), ("NUMBER", 1.0)):
            monkeypatch.setattr(Presses, name, value)
        monkeypatch.setattr(Presses, "clock", staticmethod(lambda: self.now))


def gates(driver: Driver) -> int:
    """How many gates were acknowledged."""
    return sum(isinstance(event, Gate) for event in driver.session.events)


@pytest.mark.parametrize("key", ["enter", "space"])
async def test_a_held_key_passes_one_gate(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, key: str) -> None:
    """It repeats after half a second and then thirty times a second: one gate is passed, and it is said why."""
    clock = Clock(monkeypatch)
    async with running(tmp_path, practice=BENCH) as driver:
        clock.now += 10
        await driver.press(key)
        assert gates(driver) == 1
        for wait in (0.5, *[0.033] * 30):
            clock.now += wait
            await driver.press(key)
            assert gates(driver) == 1
        assert TOO_SOON in driver.part("#keys")
        clock.now += 0.75  # let go, read, pressed again
        await driver.press(key)
        assert gates(driver) == 2
        clock.now += 0.31
        await driver.press("enter" if key != "enter" else "space")  # another key is another press
        assert gates(driver) == 3


async def test_a_held_enter_keeps_no_reading(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Enter in the last field reads back; still held, it does not answer what is read back."""
    clock = Clock(monkeypatch)
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        while not isinstance(driver.screen, MeasureScreen):
            clock.now += 10
            await driver.press("enter")
        while driver.screen.method.key != "offsets":
            await driver.press("pagedown")
        await driver.type("1,2")
        await driver.press("down")
        await driver.type("0,4")
        for wait in (10, 0.5, *[0.033] * 10):
            clock.now += wait
            await driver.press("enter")
            assert driver.reads_back
        clock.now += 1
        await driver.press("enter")
        assert isinstance(driver.session.events[-1], Mark)


# -- measuring in a small terminal ----------------------------------------------------------------

LONGEST_TROUBLES = {"gaps": ("1,500", "9", "9", "9", "x"), "offsets": ("1,500", "2"), "clock": ("1/8", "25:61")}


@pytest.mark.parametrize("way", sampled(["gaps", "offsets", "clock"], "gaps"))
async def test_what_is_wrong_and_the_callipers_stand_together(tmp_path: Path, way: str) -> None:
    """At 80 by 24, with the longest sentences: fields, options, what is wrong and the bench's callipers are whole."""
    async with running(tmp_path, session=session_at(tmp_path, "measure", BENCH)) as driver:
        await driver.pass_gates()
        await driver.press("enter")
        while driver.screen.method.key != way:
            await driver.press("pagedown")
        for text in LONGEST_TROUBLES[way]:
            await driver.type(text.replace("x", ""))
            await driver.press("down")
        await driver.press("f2")
        assert driver.screen.trouble
        assert driver.part("#trouble") == f"! {driver.screen.trouble}"
        assert driver.screen.bench.on("outer", IN_MM) in driver.part("#bench")
        for row in driver.screen.query(FieldRow):
            assert not row.has_class(way) or row.said in driver.part(f"#{row.id}")
        assert "F6" in driver.part("#options")
        assert all(stands(driver, caution) for caution in ALWAYS)


def test_bindings_carry_what_the_map_of_keys_calls_them() -> None:
    """One's own keys come besides the usual ones, letters in both cases."""
    undoing = ("undo", "reviewundo", "upkeepundo", "sheetundo")
    assert own.keymap({"undo": ("z", "f12")}) == dict.fromkeys(undoing, "u,U,f5,z,Z,f12")
    (binding,) = [b for b in SessionScreen.BINDINGS if isinstance(b, Binding) and b.id == "undo"]
    assert binding.key == "u,U,f5"
