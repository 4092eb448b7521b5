"""Mirror 3, lens and nozzle described in the middle of a session, in plain lines."""

from pathlib import Path

import pytest
from machines import make_machine

from coach import Machine
from coach.plain.describing_head import describe_head
from coach.plain.leaving import Home
from coach.plain.talk import Ended, Talk
from coach.session.session import Session
from coach.session.store import Store
from coach.shown import IN_MM
from coach.steps.cautions import LENS


def begun(folder: Path) -> Session:
    """A session on a stored machine of whose head nothing is known."""
    session = Session.start(Machine.load(Store(folder).save_machine(make_machine())))
    session.keep_in(folder / "sessions" / "s.toml")
    return session


def led(folder: Path, session: Session, *answers: str) -> str:
    """What is said on the way."""
    lines: list[str] = []
    talk = Talk(lines.append, iter(answers), echo=False, wording=IN_MM)
    try:
        describe_head(talk, folder, session, session.described)
    except (Ended, Home):
        lines.append("LEFT")
    return " ".join(lines)


def test_it_is_asked_kept_and_said(tmp_path: Path) -> None:
    """Seven questions, the lens's caution before the lens; what is not known is guessed and said so."""
    session = begun(tmp_path)
    said = led(tmp_path, session, "yes", "L of three", "upper right", "30", "M3", "pull", "guess", "7", *[""] * 4, "")
    assert "Question 1 of 7. Mirror 3: screws?" in said
    assert said.index(LENS.text.split(":")[0]) < said.index("Lens: focal length?")
    assert "Lens, focal length: 50.8 mm, guessed." in said
    assert "1: Keep it: on with the visit" in said
    assert f"kept with the machine in {Store(tmp_path).machine_path('Shed laser')}" in said
    assert session.machine.mount(3).drive == "pull"
    assert Store(tmp_path).find_machine("Shed laser").lens == session.machine.lens
    assert not list((tmp_path / "drafts").rglob("*.toml"))


@pytest.mark.parametrize("leave", ["home", None])
def test_half_of_it_waits_for_the_session(tmp_path: Path, leave: str | None) -> None:
    """Whether the person goes home or the answers end: nothing is entered, and it goes on where it stood."""
    session = begun(tmp_path)
    answers = ("no", "2 in", *([leave] if leave else []))
    assert led(tmp_path, session, *answers).endswith("LEFT")
    assert session.machine == session.began_with
    on = led(tmp_path, session, "6", "", "", "", "no", "")
    assert "Question 3 of 7. Nozzle to focus?" in on
    assert session.machine.mirror3 == "fixed"
    assert session.machine.lens is not None
    assert (session.machine.lens.nozzle_distance, session.machine.lens.reach) == (6.0, 0.0)
