"""Describing a machine inside the program, by keys alone; changing it later; and nothing lost in between."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from app_driving import Driver, offered, running, stands
from machines import make_machine
from sweeps import sampled

from coach import Machine
from coach.describing import drafts, questions
from coach.describing.description import Description
from coach.describing.profile import screw
from coach.errors import Unwritable
from coach.session.document import Practice
from coach.session.session import Session
from coach.session.store import Store
from coach.shown import IN_MM
from coach.steps.cautions import NOT_FIRING, SUPPLY
from coach.tui.screens.describe import DescribeScreen
from coach.tui.screens.dialogs import Pick, Say
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.session import SessionScreen
from coach.tui.widgets.bigfont import set_text


async def entered(driver: Driver, text: str) -> None:
    """Type into the field and take it."""
    await driver.type(text)
    await driver.press("enter")


async def begun(driver: Driver) -> None:
    """A new description with what cannot be guessed; the next question is mirror 1's gap."""
    await driver.press("1")
    for text in ("Shed laser", "600", "400"):
        await entered(driver, text)
    await driver.press("1", "1")  # mirrors on the left, 0/0 at the front left
    assert driver.screen.question.key == "path.mirror1_gap"


@pytest.mark.sweep
async def test_a_whole_description_by_keys_and_a_session_on_it(tmp_path: Path) -> None:
    """From an empty folder to a machine with own points in inches, and a session begun on it at once."""
    async with running(tmp_path) as driver:
        await begun(driver)
        await entered(driver, "140,5")
        await entered(driver, "4 1/2 in")
        await entered(driver, "25")
        await entered(driver, "20")
        await entered(driver, "18")
        await driver.press("f12", "f12")  # the tape, the wide card
        await entered(driver, "0,8")
        await driver.press("1", "2")  # an L, its corner at the lower right
        await entered(driver, "38")
        await driver.press("3", "2")  # M5, pull
        await driver.press("7")
        await entered(driver, "p -20 -20; s 20 -20; top screw 0 22,5")
        await driver.press("8")
        await entered(driver, "M5x0.5")
        await driver.press("3")
        await driver.press("2")  # mirror 2 can be moved
        await entered(driver, "4")
        await driver.press("2")  # the head too, but not up
        await entered(driver, "0")
        await entered(driver, "1/8 in")
        await driver.press("f12", "1")  # nothing known of mirror 1, the tube fixed
        await driver.press("2", "1")  # pulses by hand, the power in per cent
        await entered(driver, "12")
        await driver.press("1")  # the usual stations
        assert driver.screen.question.key == "head.now"
        await driver.press("1")  # mirror 3 and the lens wait
        assert driver.screen.question is None
        assert "1 value is guessed" in driver.text()
        await driver.press("enter")
        (path,) = (tmp_path / "machines").glob("*.toml")
        assert isinstance(driver.screen, Pick)
        assert path.name in driver.part(".body")
        await driver.press("1")
        assert isinstance(driver.screen, SessionScreen)
        assert driver.session.machine == Machine.load(path)
    machine = Machine.load(path)
    assert machine.guessed == ("tape.radius",)
    assert machine.pulse.model_dump(exclude_none=True) == {"timed": False, "percent": True, "power": 12.0}
    assert (machine.path.mirror1_gap, machine.path.mirror2_gap, machine.tolerance) == (140.5, 114.3, 0.8)
    assert (machine.path.mirror1, machine.path.mirror2) == (25.0, 20.0)
    assert [move.model_dump(exclude_none=True) for move in machine.moves] == [
        {"part": "mirror 2", "right": 4.0}, {"part": "head", "up": 0.0, "back": 3.175},
        {"part": "tube", "up": 0.0, "back": 0.0},
    ]  # fmt: skip
    first, second = machine.mounts
    assert [(p.name, p.kind, p.x, p.y) for p in first.points] == [
        ("A", "pivot", 19, -19), ("B", "screw", -19, -19), ("C", "screw", 19, 19),
    ]  # fmt: skip
    assert (first.thread, first.drive, second.thread, second.drive) == ("M5", "pull", "M5x0.5", "unknown")
    assert [(p.name, p.kind, p.x, p.y) for p in second.points] == [
        ("A", "pivot", -20, -20), ("B", "screw", 20, -20), ("top", "screw", 0, 22.5),
    ]  # fmt: skip
    assert drafts.drafts(tmp_path) == ((), ())


@pytest.mark.sweep
async def test_the_head_described_later_from_the_list(tmp_path: Path) -> None:
    """Of a stored machine, from the list: each question once, skipped ones guessed or not known, left in between and
    gone on with, and back in the list; the file holds it, and what it held before."""
    path = Store(tmp_path).save_machine(make_machine())
    async with running(tmp_path) as driver:
        await driver.press("1", "4")
        assert driver.screen.draft.machine == path
        driver.screen.ask("head.now")
        await driver.press("2")
        assert driver.screen.question.key == "mounts.3.can"
        assert stands(driver, NOT_FIRING)
        await driver.press("2", "2", "3")  # screws: an L of three, its bend at the upper left
        await entered(driver, "28,5")
        await driver.press("1")  # M3
        await driver.press("1")  # push
        await entered(driver, "2")
        assert "Did you mean inches: 2.000 in, that is 50.8 mm?" in driver.part(".body")
        await driver.press("5")
        await entered(driver, "51")
        assert "does not go with a lens of 50.8 mm" in driver.part("#echo")
        assert driver.screen.entry.value == "51"
        await driver.press("f4")
        await driver.settle()
    async with running(tmp_path) as driver:
        await driver.press("1", "enter")
        assert (driver.screen.question.key, driver.screen.entry.value) == ("lens.nozzle_distance", "51")
        await driver.press(*["backspace"] * 2)
        await entered(driver, "6")
        await driver.press("f12")  # the hole
        await driver.press("enter")  # the curved side: in passing nothing is said of it
        await driver.press("f12", "1")  # how it hangs; the tube is fixed
        assert driver.screen.question is None
        rows = " ".join(entry.label for entry in driver.screen.rows())
        assert "nozzle's hole: 2.5 mm, guessed" in rows
        assert "lens, curved side: I do not know" in rows
        await driver.press("1")
    machine, before = Machine.load(path), make_machine()
    assert machine.mounts[:2] == before.mounts
    third = machine.mount(3)
    assert [(p.x, p.y, p.kind) for p in third.points] == [
        (-14.25, 14.25, "screw"), (14.25, 14.25, "screw"), (-14.25, -14.25, "screw"),
    ]  # fmt: skip
    assert (third.thread, third.drive) == ("M3", "push")
    assert machine.lens is not None
    assert machine.lens.model_dump(exclude_unset=True) == {
        "focal": 50.8, "nozzle_distance": 6.0, "nozzle": 2.5, "reach": 0.0,
    }  # fmt: skip
    assert machine.guessed == ("path.mirror1", "path.mirror2", "lens.nozzle")


async def test_enough_guesses_the_rest_but_not_what_cannot_be_guessed(tmp_path: Path) -> None:
    """F3 before travel and side leads to what is missing, and says so; after them to the list, guesses marked."""
    async with running(tmp_path) as driver:
        await driver.press("1", "f3")
        assert driver.screen.question.key == "bed.width"
        assert "cannot be guessed: travel and side" in driver.part("#echo")
        await driver.press("f12")
        assert "cannot be guessed" in driver.part("#keys")
        for text in ("600", "400"):
            await entered(driver, text)
        await driver.press("2", "f3")
        assert driver.screen.question is None
        rows = " ".join(entry.label for entry in driver.screen.rows())
        assert "mirror 1 to 2: 150.0 mm, guessed" in rows
        assert "mirror 1, thread: M4, 0.70 mm in one turn, guessed" in rows
        assert "travel, left to right: 600.0 mm mirror" not in rows
        await driver.press("enter", "3")
        assert isinstance(driver.screen, HomeScreen)
    machine = Machine.load(tmp_path / "machines" / "my-laser.toml")
    assert len(machine.guessed) == 11
    assert machine.moves == ()
    assert machine.path.side == "right"


async def test_back_and_from_the_list_to_a_value_and_back(tmp_path: Path) -> None:
    """Before goes back with the answer in the field; a value chosen in the list leads back to the list."""
    async with running(tmp_path) as driver:
        await begun(driver)
        await driver.press("shift+tab", "b", "shift+tab", "b", "shift+tab")
        assert driver.screen.question.key == "bed.width"
        await driver.press("backspace", "5", "enter", "f3")
        assert driver.screen.draft.description.answers["bed.width"] == "605"
        await driver.press("7")
        assert driver.screen.question.key == "path.mirror1_gap"
        await entered(driver, "99")
        assert driver.screen.question is None
        assert driver.screen.highlighted_question().key == "path.mirror1_gap"
        await driver.press("d")
        assert "mirror 1 to 2: 150.0 mm, guessed" in driver.part("#choices")
        driver.screen.ask("mounts.1.shape")
        await driver.press("4")
        assert driver.screen.question.key == "mounts.1.arm"
        await entered(driver, "35")
        assert driver.screen.question is None


BAD = {
    "bed.depth": ("4,000", "could mean 4000 or 4.000"),
    "path.mirror1_gap": ("3/8", "fractions are read in inches only"),
    "aperture.head": ("0", "is not a size"),
    "tolerance": ("30", "at most 20 mm"),
    "mounts.1.own": ("p 0 0; s 1 1; s 2 2", "one line"),
    "mounts.1.screw": ("M7", "not in the table"),
    "stations.places": ("a 1 1; b 700 2; c 3 300", "outside the travel"),
    "name": ("", "Nothing is entered"),
}


async def test_a_bad_answer_is_one_sentence_and_stays_in_the_field(tmp_path: Path) -> None:
    """The sentence stands there, the entry stands as typed, the question stays, and no answer was made."""
    async with running(tmp_path) as driver:
        await begun(driver)
        screen = driver.screen
        for needed, answer in (("shape", "own"), ("thread", "other")):
            screen.draft = drafts.Draft(
                screen.draft.path, screen.draft.description.answered(f"mounts.1.{needed}", answer)
            )
        screen.draft = drafts.Draft(screen.draft.path, screen.draft.description.answered("stations", "own"))
        answered = screen.draft.description
        for key, (typed, words) in BAD.items():
            screen.draft = drafts.Draft(screen.draft.path, answered.unanswered(key))
            screen.ask(key)
            await driver.settle()
            await entered(driver, typed)
            assert words in driver.part("#echo"), key
            assert screen.entry.value == typed
            assert (screen.question.key, key in screen.draft.description.answers) == (key, False)


async def test_an_unlikely_opening_is_asked_about(tmp_path: Path) -> None:
    """0.7 mm: 2 goes back to what was typed, 4 takes 17.8 mm, 3 keeps it; letters that are no unit are told."""
    async with running(tmp_path) as driver:
        await begun(driver)
        await driver.press("f12", "f12", "f12", "f12", "t")
        assert "'t' was dropped: only a length belongs here" in driver.part("#keys")
        await entered(driver, "0,7")
        assert "Did you mean inches: 0.700 in" in driver.part(".body")
        await driver.press("2")
        assert driver.screen.entry.value == "0,7"
        await driver.press("enter", "5")
        assert driver.screen.question.key == "tape.radius"
        assert driver.screen.draft.description.length("aperture.head") == pytest.approx(17.78)
        await driver.press("shift+tab", *["backspace"] * 12)
        await entered(driver, "2")
        await driver.press("3")
        assert driver.screen.draft.description.length("aperture.head") == 2.0


async def test_a_bed_in_millimetres_while_inches_are_set_is_asked_about(tmp_path: Path) -> None:
    """600 in cannot be kept, so that is not offered: again, or 600 mm; nothing is answered before."""
    async with running(tmp_path) as driver:
        await driver.press("1", "f12", "f9")
        await entered(driver, "600")
        assert "Did you mean mm: 600.0 mm?" in driver.part(".body")
        assert "Keep it" not in driver.text()
        assert "bed.width" not in driver.app.screen_stack[-2].draft.description.answers
        await driver.press("3", "5")
        assert driver.screen.draft.description.length("bed.width") == 600.0
        assert driver.screen.question.key == "bed.depth"


async def test_the_unit_changes_what_a_bare_number_means(tmp_path: Path) -> None:
    """After F9 a number without a unit is inches, and stays so when the unit is changed back."""
    async with running(tmp_path) as driver:
        await driver.press("1", "f12", "f9")
        await driver.type("23.6")
        assert "Understood: 23.600 in (typed 23.6 in)" in driver.part("#echo")
        await driver.press("enter", "f9")
        assert "mm" in driver.part("#where")
        assert driver.screen.draft.description.length("bed.width") == pytest.approx(599.44)
        await entered(driver, "400")
        assert driver.screen.draft.description.length("bed.depth") == 400.0
        await driver.press("f9")


async def test_half_a_description_survives_leaving(tmp_path: Path) -> None:
    """Left in the middle of a number: the first screen offers it as it was; it can be thrown away."""
    async with running(tmp_path) as driver:
        await begun(driver)
        await driver.type("14")
        await driver.press("f4")
        await driver.settle()
        assert isinstance(driver.screen, HomeScreen)
    async with running(tmp_path) as driver:
        assert "1 Go on describing Shed laser" in driver.text()
        await driver.press("enter", "2")
        assert len(drafts.drafts(tmp_path)[0]) == 1  # a digit alone throws nothing away
        await driver.press("1", "enter")
        assert driver.screen.question.key == "path.mirror1_gap"
        assert driver.screen.entry.value == "14"
        await driver.press("end")
        await driver.type("2")
        driver.app.leave()
    (draft,), _ = drafts.drafts(tmp_path)
    assert (draft.entry, draft.description.answers["bed.depth"]) == ("142", "400")
    async with running(tmp_path) as driver:
        await driver.press("enter", "2", "enter")
        await driver.settle()
        assert "Go on describing" not in driver.text()
    assert drafts.drafts(tmp_path) == ((), ())


async def test_looking_in_and_leaving_writes_nothing(tmp_path: Path) -> None:
    """Opened and left without an answer, new or to change: no draft, no machine touched."""
    path = Store(tmp_path).save_machine(make_machine())
    before = path.read_bytes()
    async with running(tmp_path) as driver:
        await driver.press("2", "f4")
        await driver.settle()
        await driver.press("home", "e")
        assert isinstance(driver.screen, DescribeScreen)
        await driver.press("q")
        await driver.settle()
        await driver.press("down", "e")
        assert "Highlight a machine first" in driver.part("#keys")
    assert path.read_bytes() == before
    assert not (tmp_path / "drafts").exists()


async def test_a_change_later_harms_no_session(tmp_path: Path) -> None:
    """Through the machine's own row: the file is changed, the session that was begun goes on as it was."""
    store = Store(tmp_path)
    path = store.save_machine(make_machine(guessed=("path.mirror2_gap",)))
    session = Session.start(Machine.load(path))
    session.keep_in(tmp_path / "sessions" / "old.toml")
    session.mark("back-left", u=1.0, v=0.5)
    before = (tmp_path / "sessions" / "old.toml").read_bytes()
    async with running(tmp_path) as driver:
        await driver.press("2", "4")
        assert driver.screen.question is None
        assert "mirror 2 to head: 120.0 mm, guessed" in driver.part("#choices")
        await driver.press("8")
        await entered(driver, "131")
        assert driver.screen.rows()[0].label == "Keep these changes"
        await driver.press("1", "3")
        assert isinstance(driver.screen, HomeScreen)
        assert (tmp_path / "sessions" / "old.toml").read_bytes() == before
        await driver.settle()
        await driver.press("1")
        assert driver.session.machine.path.mirror2_gap == 120.0
    changed = Machine.load(path)
    assert (changed.path.mirror2_gap, changed.guessed) == (131.0, ("path.mirror1", "path.mirror2"))


async def test_what_cannot_be_kept_is_said_and_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A taken name or a full disk: the sentence, and everything as it was; a second try keeps the machine."""
    Store(tmp_path).save_machine(make_machine())
    async with running(tmp_path) as driver:
        await driver.press("down")
        await driver.press("2")
        for text in ("Shed laser", "600", "400"):
            await entered(driver, text)
        await driver.press("1", "f3", "1")
        assert "already a machine" in driver.part("#echo")
        await driver.press("2", "2", "enter")

        def full(path: Path, *rest: object) -> None:
            raise Unwritable(path, "could not be written (No space left on device)")

        with monkeypatch.context() as patch:
            patch.setattr("coach.files.write_text", full)
            await driver.press("1")
            assert "No space left" in driver.part("#echo")
        await driver.press("1")
        assert isinstance(driver.screen, Pick)
    assert (tmp_path / "machines" / "shed-laser2.toml").exists()


SIZES = [(40, 12), (20, 5), (1, 1), (60, 40), (80, 24), (100, 30), (140, 45)]


@pytest.mark.parametrize(
    "at",
    sampled(
        ["bed.width", "tolerance", "mounts.2.shape", "moves.tube.can", "lens.nozzle", "overview"],
    ),
)
async def test_every_size_at_every_kind_of_question(tmp_path: Path, at: str) -> None:
    """Resized at any moment: no crash; the question, the field or the first choice and a key stand there whole."""
    async with running(tmp_path, size=(100, 30)) as driver:
        await begun(driver)
        driver.screen.ask(at)
        for size in SIZES:
            await driver.resize(*size)
            if size[0] < 40:
                continue
            if driver.screen.entry is not None:
                assert driver.screen.entry.region.height == 1
            else:
                assert offered(driver, 1, driver.screen.rows()[0].label)
            large = driver.screen.query_one("#action")
            assert large.size.height == len(set_text(driver.screen.headline(), size[0] - 2, large.max_rows).rows)
            assert stands(driver, SUPPLY if "tube" in at else NOT_FIRING)
            assert "Help" in driver.part("#keys")
            if size[0] >= 80:
                assert driver.screen.query_one("#picture").size.height >= 9


def test_every_question_is_in_large_type_at_80_columns() -> None:
    """No question of the form is so long that it would have to be asked in plain letters."""
    plain = [q.ask for q in questions.EVERY if set_text(q.ask, 78, 3).size == "plain"]
    assert not plain


async def test_without_colour_guesses_and_choices_are_still_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With NO_COLOR nothing has a colour; the highlighted row has its sign and a guess its word."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with running(tmp_path) as driver:
        await begun(driver)
        await driver.press("f3", "down", "down")
        for strip in driver.screen._compositor.render_strips():
            for segment in strip:
                assert segment.style is None or segment.style.color is None or segment.style.color.is_default
        assert "▶ 3 travel, left to right: 600.0 mm" in driver.text()
        assert "mirror 1 to 2: 150.0 mm, guessed" in driver.part("#choices")


async def test_home_says_how_a_machine_stood(tmp_path: Path) -> None:
    """Behind a machine stand its newest finished session's result and age; practice does not count."""
    store = Store(tmp_path)
    machine = make_machine()
    store.save_machine(machine)
    now = datetime.now().astimezone()

    def closed(name: str, offset: float, days: int, practice: Practice | None = None) -> None:
        session = Session.start(machine, practice=practice)
        for station in machine.stations:
            session.mark(station.name, u=offset, v=0.0)
        session.finish()
        path = tmp_path / "sessions" / f"{name}.toml"
        session.keep_in(path)
        old = (now - timedelta(days=days)).isoformat()
        lines = [f"at = {old}" if line.startswith("at = ") else line for line in path.read_text().splitlines()]
        path.write_text("\n".join(lines))

    async with running(tmp_path) as driver:
        assert "1 Shed laser: no session finished yet" in driver.text()
    closed("older", 4.0, 30)
    closed("newer", 0.1, 3)
    closed("practice", 4.0, 0, Practice(seed=1))
    async with running(tmp_path) as driver:
        await driver.settle()
        text = driver.text()
        assert "1 Shed laser: centred, worst 0." in text
        assert "expected, 3 days ago" in text
    closed("written-last", 4.0, 40)
    async with running(tmp_path) as driver:
        await driver.settle()
        assert "expected, 3 days ago" in driver.text()  # when it was worked on counts, not when the file was written
    closed("newest", 4.0, 2)
    async with running(tmp_path) as driver:
        await driver.settle()
        assert "1 Shed laser: not centred, worst 4." in driver.text()
        assert "2 days ago" in driver.text()


async def test_a_broken_draft_is_told_on_the_first_screen(tmp_path: Path) -> None:
    """It is named like other broken files, and changing that machine says so too; nothing is overwritten."""
    path = Store(tmp_path).save_machine(make_machine())
    broken = tmp_path / "drafts" / f"change-{path.stem}.toml"
    broken.parent.mkdir()
    broken.write_text("schema = 1\nanswers = 3\n")
    async with running(tmp_path, size=(140, 45)) as driver:
        assert "change-shed-laser.toml" in driver.text()
        await driver.press("e")
        assert isinstance(driver.screen, Say)
    assert broken.read_text() == "schema = 1\nanswers = 3\n"


def test_the_drawing_follows_every_answer() -> None:
    """Each answer that has a size or a place changes the drawing of its own question."""
    from coach.scenes.of_description import scene_of

    start = Description().answered("bed.width", "600").answered("bed.depth", "400").answered("path.side", "left")
    changes = {
        "bed.width": "900", "bed.depth": "250", "path.side": "right", "path.mirror1_gap": "80",
        "path.mirror2_gap": "200", "path.mirror1": "20", "path.mirror2": "30", "moves.mirror2.can": "no",
        "moves.mirror2.right": "3", "moves.head.up": "0", "moves.tube.back": "2",
        "aperture.head": "25", "tape.radius": "15", "tolerance": "2",
        "mounts.1.shape": "up", "mounts.1.corner": "upper right", "mounts.1.arm": "60", "mounts.1.thread": "M6",
        "mounts.1.drive": "pull", "mounts.2.shape": "centre", "mounts.3.can": "no", "mounts.3.shape": "down",
        "mounts.3.drive": "pull", "lens.focal": "63.5", "lens.nozzle_distance": "6", "lens.nozzle": "4",
        "lens.curved": "down", "lens.mirror_distance": "90", "lens.can": "no", "lens.reach": "2",
    }  # fmt: skip
    asked = {q.key: q for q in questions.EVERY}
    for key, text in changes.items():
        assert scene_of(start.answered(key, text), asked[key], IN_MM) != scene_of(start, asked[key], IN_MM), key


async def test_the_thread_that_stands_is_the_one_that_enter_takes(tmp_path: Path) -> None:
    """Asked for the thread with nothing answered, the guess is highlighted: Enter in passing changes nothing."""
    async with running(tmp_path) as driver:
        await begun(driver)
        driver.screen.ask("mounts.1.thread")
        await driver.settle()
        choices = driver.screen.query_one("#choices")
        highlighted = choices.entries[choices.highlighted].key
        assert highlighted == screw(driver.screen.draft.description, 1)["thread"] == "M4"


async def test_enter_in_passing_never_says_that_a_part_is_fixed(tmp_path: Path) -> None:
    """Asked whether a part can be moved, "I do not know" is what Enter takes until something was answered."""
    async with running(tmp_path) as driver:
        await begun(driver)
        for key in ("moves.mirror2.can", "moves.head.can", "moves.mirror1.can", "moves.tube.can"):
            driver.screen.ask(key)
            await driver.press("enter")
            assert driver.screen.draft.description.answers[key] == "unknown"
        driver.screen.ask("moves.tube.can")
        await driver.press("1", "shift+tab")
        await driver.press("enter")
        assert driver.screen.draft.description.answers["moves.tube.can"] == "no"
