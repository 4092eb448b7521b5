"""Home, sizes, colours, and what happens when something goes wrong."""

from pathlib import Path

import pytest
from app_driving import offered, plain, running, session_at, stands
from stillness import until
from sweeps import sampled

from coach.errors import Unwritable
from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.events import Disturbed, Mark
from coach.session.session import Session
from coach.session.store import Store
from coach.shown import IN_MM
from coach.steps.cautions import ALWAYS, BEAM, EYEWEAR, HANDS
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.tui.app import CoachApp
from coach.tui.screens.arrangements import Content
from coach.tui.screens.dialogs import Say
from coach.tui.screens.fitting import choice_rows, fit
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.home_rows import PRACTISE
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.review import ReviewScreen
from coach.tui.screens.session import SessionScreen
from coach.tui.widgets.bigfont import set_text

BENCH = Practice(kind="fine", seed=3)
SIZES = [(40, 12), (20, 5), (1, 1), (60, 40), (80, 24)]


async def test_home_shows_the_machine_of_a_row(tmp_path: Path) -> None:
    """Its mirrors' side is the described one; that a session is open, and nothing of a result that is not there."""
    machine = demo_machine().model_copy(update={"name": "Shed laser"})
    turned = machine.model_copy(update={"path": machine.path.model_copy(update={"side": "right"})})
    Store(tmp_path).save_machine(turned)
    session = Session.start(turned)
    session.keep_in(tmp_path / "sessions" / "one.toml")
    session.opened()
    async with running(tmp_path, size=(120, 30)) as driver:
        await driver.press("down")
        assert driver.screen.query_one("#picture").scene.side == "right"
        told = driver.part("#about")
        for words in ("Shed laser", "No session finished yet.", "A session is open: go on.", "mirrors on the right"):
            assert plain(words) in told
        await driver.press("down")
        assert driver.screen.query_one("#picture").scene is None
        assert not driver.part("#about")


async def test_home_is_read_standing_where_there_is_room(tmp_path: Path) -> None:
    """At 140x45 every row is in letters three rows high, in fewer words, and so is how its machine stands; in a lower
    terminal all is said in plain letters."""
    Store(tmp_path).save_machine(demo_machine().model_copy(update={"name": "Shed laser"}))
    async with running(tmp_path, size=(140, 45)) as driver:
        assert offered(driver, 1, "Shed laser", "#list")
        assert plain(" ".join(set_text("No session finished yet.", 57, largest="small").rows)) in driver.part(
            "#about"
        )
        await driver.resize(140, 30)
        assert "1 Shed laser: no session finished yet" in driver.part("#list")
        assert "No session finished yet." in driver.part("#about")


async def test_what_was_bumped_is_said_at_a_gate_too(tmp_path: Path) -> None:
    """M, the row of mirror 2, Enter: a digit alone enters nothing; it is on disk, and what comes of it is said."""
    path = session_at(tmp_path, "go", BENCH)
    async with running(tmp_path, session=path) as driver:
        await driver.press("m", "3")
        assert not any(isinstance(event, Disturbed) for event in Session.load(path).effective)
        await driver.press("enter")
        await driver.settle()
        assert [e.part for e in Session.load(path).effective if isinstance(e, Disturbed)] == ["mirror 2"]
        assert "Out, or bumped: mirror 2." in driver.text()


async def test_who_is_new_is_told_what_to_do_first(tmp_path: Path) -> None:
    """An empty data folder: practise first, in the words of that row; nothing of a machine is shown."""
    async with running(tmp_path) as driver:
        assert plain(f"New here? First: {PRACTISE.label}") in driver.part("#subtitle")
        assert not driver.screen.query_one("#machine").display


async def test_home_lists_unfinished_first_and_broken_files_last(tmp_path: Path) -> None:
    """Resume is one Enter away; a machine begins a session; a broken file is told with its line and harms nothing."""
    store = Store(tmp_path)
    machine = demo_machine().model_copy(update={"name": "Shed laser"})
    store.save_machine(machine)
    (tmp_path / "machines" / "broken.toml").write_text('name = "x"\nbed = = 3\n', encoding="utf-8")
    session = Session.start(machine)
    session.keep_in(tmp_path / "sessions" / "one.toml")
    session.opened()
    for gate in ("rules", "eyewear", "fire", "air", "question", "clean", "tape"):
        session.gate(gate)
    session.arrive(session.advice().stations[0])
    async with running(tmp_path) as driver:
        assert isinstance(driver.screen, HomeScreen)
        text = driver.text()
        assert "1 Resume Shed laser: pulse at back-left, today" in text
        assert "2 Shed laser: no session finished yet" in text
        assert "3 Describe a machine" in text
        assert "4 Practise on the demo machine" in text
        assert "5 Rehearse a whole visit on it" in text
        assert "broken.toml, line 2" in text
        await driver.press("enter")
        assert isinstance(driver.screen, SessionScreen)
        assert driver.screen.session.path == tmp_path / "sessions" / "one.toml"
        await driver.press("f4")
        await driver.settle()
        await driver.press("2", "1")
        assert driver.session.machine.name == "Shed laser"
    assert len(list((tmp_path / "sessions").glob("*.toml"))) == 2


@pytest.mark.parametrize("key", sampled(["rules", "measure", "screw", "done"]))
async def test_every_size_at_every_kind_of_step(tmp_path: Path, key: str) -> None:
    """Resized at any moment: no crash; in a small terminal action, figure and choices stand there whole."""
    path = session_at(tmp_path, key, BENCH)
    async with running(tmp_path, session=path, size=(100, 30)) as driver:
        if key != "rules":
            await driver.pass_gates()
        screen = driver.screen
        assert screen.step.key == key
        for size in SIZES:
            await driver.resize(*size)
            if size == (40, 12):
                for number, choice in enumerate(screen.choices, start=1):
                    assert f"{number} {choice.label}" in driver.part("#choices")
                large = screen.query_one("#action")
                assert large.size.height == len(set_text(screen.step.action, 38, large.max_rows).rows)
                assert all(stands(driver, caution) for caution in (screen.step.cautions[0], *ALWAYS))
                assert plain(screen.step.figure) in driver.part("#figure")
        if key == "measure":
            await driver.press("enter")
            for size in SIZES:
                await driver.resize(*size)
            assert isinstance(driver.screen, MeasureScreen)


def test_a_terminal_of_any_size_is_fitted() -> None:
    """Down to one sign in one row, as while a window is dragged small: something is planned, nothing breaks."""
    content = Content(
        "TURN SCREW B", "1/8 TURN", ("Some words to read.",), ("Done",), (HANDS,), whole=False, picture=True
    )
    for width in range(1, 41):
        for height in (1, 2, 5, 12):
            assert fit(content, width, height).cautions, (width, height)


def test_fitting_never_needs_more_rows_than_there_are() -> None:
    """Whatever the texts' lengths: all parts together stay within the terminal from 80x24 on."""
    for words in (5, 20, 60):
        content = Content(
            "TURN C ↺ COUNTERCLOCKWISE",
            "a figure",
            ("word " * words,) * 2,
            ("one", "two"),
            (HANDS, BEAM, EYEWEAR),
            whole=True,
            picture=True,
        )
        for width, height in ((80, 24), (100, 30), (140, 45)):
            plan = fit(content, width, height)
            action = len(set_text(content.action, width - 2, plan.action_rows).rows)
            figure = len(set_text(content.figure, plan.left, plan.figure_rows).rows)
            choices = sum(len(choice_rows(1, label, plan.left, plan.large_choices)) for label in content.choices)
            rows = plan.where + action + figure + plan.text_rows + choices + len(plan.cautions) + plan.keys
            rows += 4 * plan.gap
            assert rows <= height
            assert plan.cautions


async def test_no_colour(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR nothing on the screen has a colour, and the highlighted row still has its sign."""
    monkeypatch.setenv("NO_COLOR", "1")
    async with running(tmp_path, practice=BENCH) as driver:
        await driver.to_step("go")
        for strip in driver.screen._compositor.render_strips():
            for segment in strip:
                style = segment.style
                assert style is None or style.color is None or style.color.is_default
        assert "▶ 1 There, fresh tape" in driver.text()
        assert "▶ Marks" in driver.text()


async def test_the_colours_are_remembered(tmp_path: Path) -> None:
    """T goes on to the next colours; the program begins with them the next time."""
    async with running(tmp_path) as driver:
        assert driver.app.theme == "coach-dark"
        await driver.press("t")
        assert driver.app.theme == "coach-light"
    assert CoachApp(tmp_path).theme == "coach-light"


async def test_what_cannot_be_written_is_said_and_nothing_moves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A full disk: the sentence in a box, the same step, the entry as it was; once there is room it goes on."""
    async with running(tmp_path, practice=BENCH) as driver:
        await driver.to_step("go")
        before = driver.session.events

        def full(path: Path, *rest: object) -> None:
            raise Unwritable(path, "could not be written (No space left on device)")

        with monkeypatch.context() as patch:
            patch.setattr("coach.files.write_if_unchanged", full)
            await driver.press("enter")
            assert isinstance(driver.screen, Say)
            assert "No space left on device" in driver.part(".body")
            await driver.press("enter")
            assert driver.session.events == before
            await driver.press("n")
            await driver.type("hello")
            await driver.press("enter")
            assert "No space left" in driver.part("#echo")
            assert driver.screen.typed == {"note": "hello"}
        await driver.press("enter")
        assert driver.session.events[-1].text == "hello"
        await driver.press("enter")
        assert driver.screen.step.key == "pulse"


async def test_what_the_picture_and_the_stages_tell(tmp_path: Path) -> None:
    """Where both mirrors are turned the picture singles out neither; a wide screen tells what remains."""
    path = session_at(tmp_path, "adjust", BENCH)
    async with running(tmp_path, session=path, size=(100, 30)) as driver:
        await driver.pass_gates()
        assert len(driver.screen.step.advice.turns) == 2
        assert "this one" not in driver.text()
        assert "pulse 5 of about" in driver.part("#where")
        assert driver.part("#where").endswith("PRACTICE")


async def test_an_unfinished_practice_of_the_same_seed_is_offered(tmp_path: Path) -> None:
    """Asking for the same practice again: Enter resumes it, 2 begins anew; another seed begins at once."""
    async with running(tmp_path, practice=Practice(seed=5)) as driver:
        await driver.to_step("pulse")
        first = driver.session.path
    async with running(tmp_path, practice=Practice(seed=5)) as driver:
        assert "practice, seed 5: pulse at back-left, today" in driver.text()
        await driver.press("enter")
        assert driver.session.path == first
    async with running(tmp_path, practice=Practice(seed=5)) as driver:
        await driver.press("2")
        assert driver.session.path != first
    async with running(tmp_path, practice=Practice(seed=6)) as driver:
        assert driver.session.practice == Practice(seed=6)
        await driver.press("q")
        await driver.settle()
        assert "Resume practice, seed 6: at the beginning, today" in driver.text()
        assert "Resume practice, seed 5: pulse at back-left, today" in driver.text()


async def test_a_finished_session_is_only_looked_at(tmp_path: Path) -> None:
    """Its entries stand there at once: no gate is asked, nothing is written; in the end it can be taken back."""
    path = session_at(tmp_path, "done", BENCH)
    session = Session.resume(path)
    session.finish()
    before = path.read_bytes()
    async with running(tmp_path) as driver:
        await driver.press("4")
        assert isinstance(driver.screen, ReviewScreen)
        assert "This session is finished" in driver.text()
        assert path.read_bytes() == before
        await driver.press("c")
        assert "Only marks that count can be corrected" in driver.part("#keys")
        await driver.press("u")
        assert "Taken back: Finished" in driver.text()
        await driver.press("q")
        await driver.settle()
        assert "1 Resume practice, seed 3" in driver.text()


async def test_an_old_mark_measured_again_shows_its_own_scorch(tmp_path: Path) -> None:
    """In practice the review's correction shows what the bench made with that mark's own pulse, not with the last."""
    path = session_at(tmp_path, "go", BENCH, marks=2)
    async with running(tmp_path, session=path) as driver:
        await driver.pass_gates()
        first = next(event for event in driver.session.effective if isinstance(event, Mark))
        await driver.press("r")
        choices = driver.screen.query_one("#list")
        choices.highlighted = next(i for i, e in enumerate(choices.entries) if e.key == f"event{first.id}")
        await driver.press("enter")
        bench = driver.screen.bench
        assert (f"{bench.u:.1f}", f"{bench.v:.1f}") == (first.typed["right"], first.typed["up"])
        assert bench.on("outer", IN_MM) in driver.part("#bench")


@pytest.mark.parametrize("key", ["go", "pulse", "nothing", "screw", "measure"])
async def test_cautions_in_the_smallest_terminal_and_at_a_glance(tmp_path: Path, key: str) -> None:
    """At 40x12 the step's own first caution and the three stand there, at least in brief; in Glance as well."""
    path = session_at(tmp_path, "pulse" if key == "nothing" else key, BENCH)
    if key == "nothing":
        session = Session.resume(path)
        perform(session, current_step(session, IN_MM), "nothing")
    async with running(tmp_path, session=path, size=(40, 12)) as driver:
        await driver.pass_gates()
        step = driver.screen.step
        assert step.key == key
        for caution in (step.cautions[0], *ALWAYS):
            assert stands(driver, caution)
        await driver.press("g")
        for caution in (step.cautions[0], *ALWAYS):
            assert stands(driver, caution)
        assert "G or Enter: back" in driver.text()
        await driver.press("g", "?")
        assert driver.text().endswith("Up, Down: scroll · ? or Q: back")
        await driver.press("q")
        if key == "measure":
            await driver.press("enter")
            for caution in (step.cautions[0], *ALWAYS):
                assert stands(driver, caution)


async def test_what_was_done_is_said_whole_and_hides_no_stage(tmp_path: Path) -> None:
    """A long sentence about what was taken back is wrapped, never cut; the stages stay in view."""
    path = session_at(tmp_path, "measure", BENCH, marks=4)
    async with running(tmp_path, session=path) as driver:
        await driver.pass_gates()
        await driver.press("enter")
        for _ in range(3):
            if driver.screen.method.key != "offsets":
                await driver.press("pagedown")
        await driver.type("-3,9")
        await driver.press("enter")
        await driver.type("-4,8")
        await driver.press("enter")
        await driver.keep()
        assert driver.part("#said").startswith("Saved: Mark at")
        await driver.press("u")
        mark = next(e for e in reversed(driver.session.events) if isinstance(e, Mark))
        said = f"Taken back: Mark at {mark.station}: 3.9 mm left, 4.8 mm down, kept although questioned."
        for size in ((80, 24), (100, 30), (40, 12)):
            await driver.resize(*size)
            assert driver.part("#said") == said
            if size != (40, 12):
                assert "▶ Marks" in driver.part("#where")


async def test_a_list_that_is_read_while_the_program_is_left_breaks_nothing(tmp_path: Path) -> None:
    """The folder is read aside; what comes back finds a screen of which some is gone already."""
    async with running(tmp_path) as driver:
        home = driver.screen
        await home.query_one("#subtitle").remove()
        home._offer(home._listing)


async def test_one_of_many_sessions_is_found_by_words(tmp_path: Path) -> None:
    """Only the newest are listed; F asks for words, shows what they fit, and opens what is chosen."""
    machine = demo_machine()
    for number in range(30):
        session = Session.start(machine, title=f"Evening {number}")
        session.note("dust")
        session.save(tmp_path / "sessions" / f"s{number}.toml")
    async with running(tmp_path, size=(100, 45)) as driver:
        assert sum(entry.label.startswith("Resume") for entry in driver.screen.query_one("#list").entries) == 20
        for size in ((80, 24), (60, 20), (100, 45)):
            await driver.resize(*size)
            assert driver.part("#find") == "F Find one of all 30 sessions"
            await driver.press("home", "end")
            assert driver.screen.query_one("#list").region.bottom <= driver.screen.query_one("#find").region.y
        await driver.press("f")
        await driver.type("evening 27")
        assert "1 session." in driver.text()
        await driver.press("enter", "enter")
        assert driver.session.title == "Evening 27"
        await driver.press("q", "dollar_sign")
        await driver.type("nowhere")
        await driver.press("enter")
        assert "No session is like that." in driver.text()


async def test_leaving_does_not_wait_for_the_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However many files there are still to be read: Q ends the reading with the file that is read just then."""
    import threading

    from coach.session import document

    for number in range(5):
        Session.start(demo_machine()).save(tmp_path / "sessions" / f"s{number}.toml")
    reading, go_on, read, opened = threading.Event(), threading.Event(), document.read, []

    def slowly(path: Path) -> object:
        opened.append(path)
        reading.set()
        assert go_on.wait(30)
        return read(path)

    monkeypatch.setattr(document, "read", slowly)
    app = CoachApp(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, reading.is_set)
        app.leave()
        app.workers.cancel_all()  # what Textual does next, once the screens are taken down
        go_on.set()
        await pilot.pause()
    assert len(opened) == 1
