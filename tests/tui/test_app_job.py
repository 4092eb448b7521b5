"""A whole job on the practice bench, with the keyboard only."""

from pathlib import Path

import pytest
from app_driving import GATES, Driver, offered, plain, running, session_at, stands, stored_session
from sweeps import sampled

from coach.machine import Machine
from coach.practice.bench import Bench
from coach.practice.demo import demo_machine
from coach.session.document import Practice
from coach.session.events import Finish
from coach.session.session import Session
from coach.session.store import Store
from coach.steps.cautions import ALWAYS
from coach.steps.finish import keep_learned
from coach.steps.gates import GATES as ALL_GATES
from coach.steps.locks import loose_locks
from coach.tui.app import CoachApp
from coach.tui.screens.home import HomeScreen
from coach.tui.screens.measure import MeasureScreen
from coach.tui.screens.session import SessionScreen

GATE_NAMES = [gate.name for gate in ALL_GATES]


def assert_complete(driver: Driver) -> None:
    """Everything that belongs to the step stands on the screen, whole."""
    screen: SessionScreen = driver.screen
    step = screen.step
    shown = driver.part("#text")
    spare = screen._content().spare
    for paragraph in screen.texts(0)[: len(screen.texts(0)) - spare]:
        assert plain(paragraph) in shown, step.key
    for number, choice in enumerate(screen.choices, start=1):
        assert offered(driver, number, choice.label), step.key
    for caution in (step.cautions[0], *ALWAYS):
        assert stands(driver, caution), step.key
    assert plain(screen.said) == driver.part("#said")
    if screen.assist:
        assert driver.part("#where").endswith("PRACTICE")


@pytest.mark.parametrize("outcomes", [(), ("nothing",), ("flare",), ("mark",)])
@pytest.mark.parametrize("size", [(80, 24), pytest.param((100, 30), marks=pytest.mark.sweep)])
async def test_a_real_machine_s_pulse_is_whole(
    tmp_path: Path, size: tuple[int, int], outcomes: tuple[str, ...]
) -> None:
    """With all that can be said after a pulse, the screen is complete; nothing is said to be practice."""
    session = Session.start(demo_machine().model_copy(update={"name": "Shed laser"}))
    session.keep_in(tmp_path / "one.toml")
    session.opened()
    for gate in GATE_NAMES:
        session.gate(gate)
    shot = session.advice().stations[0]
    session.arrive(shot)
    for outcome in outcomes:
        session.pulse(shot, outcome)
    app = CoachApp(tmp_path)
    async with app.run_test(size=size) as pilot:
        driver = Driver(app, pilot)
        await driver.settle()
        app.push_screen(SessionScreen(session))
        await driver.settle()
        assert_complete(driver)
        assert "PRACTICE" not in driver.text()
        assert driver.screen.step.key == (outcomes or ("pulse",))[0].replace("mark", "measure")


async def do_the_job(driver: Driver, way: str, complete: bool) -> None:
    """From the first gate to the end of the job."""
    seen = set()
    for _ in range(150):
        screen = driver.screen
        if isinstance(screen, MeasureScreen):
            seen.add("measure")
            await driver.measure(way)
            continue
        assert isinstance(screen, SessionScreen), screen
        if complete:
            assert_complete(driver)
        seen.add(screen.step.key)
        if screen.step.key in ("done", "stop"):
            break
        await driver.press("enter")
    assert {"rules", "safety", "question", "clean", "tape", "go", "pulse", "measure", "done"} <= seen
    slack = loose_locks(driver.screen.session)
    await driver.press(str(len(driver.screen.step.choices)), "enter")  # the last one: finish
    if slack:  # which is read back
        assert "Leave it so all the same" in driver.text()
        await driver.press("1", "enter")


@pytest.mark.parametrize(
    ("size", "kind", "seed", "way"),
    sampled([((80, 24), "fine", 3, "offsets"), ((140, 45), "aligned", 1, "gaps")], ((140, 45), "aligned", 1, "gaps")),
)
async def test_a_whole_practice_job_by_keyboard(
    tmp_path: Path, size: tuple[int, int], kind: str, seed: int, way: str
) -> None:
    """From the first gate to Finish; the bench is then truly within tolerance, and every screen was whole."""
    practice = Practice(kind=kind, seed=seed)
    async with running(tmp_path, practice=practice, size=size) as driver:
        await do_the_job(driver, way, complete=True)
        assert "Practice finished" in driver.text()
        await driver.press("enter")
        await driver.settle()
        assert isinstance(driver.screen, HomeScreen)
    session = Session.load(stored_session(tmp_path))
    assert isinstance(session.events[-1], Finish)
    bench = Bench.after(session.machine, seed, kind, session.events)
    assert bench.worst() <= session.machine.tolerance
    assert not (tmp_path / "machines").exists()  # practice teaches no machine


async def test_the_same_events_make_the_same_marks(tmp_path: Path) -> None:
    """After an undo of the measurement, and after leaving and resuming, the bench shows the same mark."""
    practice = Practice(seed=5)
    path = session_at(tmp_path, "measure", practice)
    async with running(tmp_path, session=path) as driver:
        await driver.to_step("measure")
        first = driver.screen.bench
        await driver.press("enter")
        await driver.measure()
        await driver.press("u")
        assert driver.screen.step.key == "measure"
        assert driver.screen.bench == first
        assert "Taken back: Mark at back-left" in driver.text()
    async with running(tmp_path, session=path) as driver:
        await driver.to_step("measure")
        assert driver.screen.bench == first


def test_what_was_learned_is_kept_with_the_machine_unless_it_was_changed_meanwhile(tmp_path: Path) -> None:
    """Finishing writes what turns taught into the stored profile; a profile its owner edited since is left alone."""
    store = Store(tmp_path)
    machine = demo_machine().model_copy(update={"name": "Shed laser"})
    path = store.save_machine(machine)
    session = Session.start(machine)
    session.turn(1, {"B": 0.125})
    assert "kept in" in keep_learned(tmp_path, session)
    assert Machine.load(path).mount(1).learned is not None
    edited = machine.model_copy(update={"tolerance": 0.8})
    store.save_machine(edited, replace=True)
    assert "changed since" in keep_learned(tmp_path, session)
    assert Machine.load(path) == edited


async def test_the_gates_come_first_and_again_after_a_resume(tmp_path: Path) -> None:
    """Eight confirmations at the start; after a resume the safety ones and the tape again, not the rest."""
    async with running(tmp_path, practice=Practice(seed=2)) as driver:
        titles = []
        while driver.screen.step.gate:
            titles.append(driver.screen.step.gate)
            await driver.press("space")
        assert len(titles) == GATES
    async with running(tmp_path, session=stored_session(tmp_path)) as driver:
        again = []
        while driver.screen.step.gate:
            again.append(driver.screen.step.gate)
            await driver.press("1", "enter")
        assert again == [name for name in titles if name not in ("question", "clean")]
