"""A visit to practise, as it is begun, opened and left: in lines and on the screen."""

import asyncio
from pathlib import Path

import pytest

from coach.practice.assist import Assist
from coach.practice.begun import begun
from coach.session.document import Practice
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps.current import current_step
from coach.steps.perform import perform
from coach.tui.app import CoachApp

MOST = 50_000
"""Rounds after which what does not come is not waited for any more."""


def kept(folder: Path, kind: str) -> Path:
    session = begun(Practice(kind=kind, seed=2))
    path = folder / "sessions" / "one.toml"
    path.parent.mkdir(parents=True)
    session.keep_in(path)
    return path


def made_unknown(path: Path) -> None:
    """As a newer coach may have written it."""
    path.write_text(path.read_text(encoding="utf-8").replace("visit-bed", "visit-flood"), encoding="utf-8")


def test_a_visit_keeps_what_its_machine_once_cut(tmp_path: Path) -> None:
    """Kind, seed, baseline and first part stand in the file, and are read back."""
    session = Session.load(kept(tmp_path, "visit-bed"))
    assert session.practice == Practice(kind="visit-bed", seed=2)
    assert [event.kind for event in session.effective] == ["baseline", "baseline", "begin"]
    assert session.is_visit


def test_an_unknown_kind_is_refused_on_the_screen_too(tmp_path: Path) -> None:
    """A sentence in a box, and the file stays as it is."""
    path = kept(tmp_path, "visit-bed")
    made_unknown(path)
    before = path.read_bytes()
    told: list[str] = []

    class Watched(CoachApp):
        def tell(self, sentence: str, title: str = "") -> None:
            told.append(sentence)

    async def drive() -> None:
        app = Watched(tmp_path)
        async with app.run_test() as pilot:
            app.open_session(path)
            for _ in range(MOST):
                if told:
                    return
                await pilot.pause(0)
        raise AssertionError("nothing was told")

    asyncio.run(drive())
    assert "There is no practice kind 'visit-flood'" in told[0]
    assert path.read_bytes() == before


@pytest.mark.parametrize("kind", ["visit-bed", "visit-weak", "visit"])
def test_the_beams_bench_of_a_visit_fires(kind: str) -> None:
    """Through the gates to the first pulse: it leaves a mark or nothing, as the machine of that kind does."""
    session = begun(Practice(kind=kind, seed=2))
    assist = Assist(session)
    session.begin("beam path")
    for _ in range(40):
        step = current_step(session, IN_MM)
        if step.kind.fires:
            break
        assert step.gate or step.choices
        perform(session, step, step.choices[0].key)
    assert step.kind.fires
    assert assist.fire(step) == ("nothing" if kind == "visit-weak" else "mark")
