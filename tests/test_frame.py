"""Places in the controller's own numbers, wherever they are said or typed."""

from pathlib import Path

import pytest
from machines import make_machine

from coach.frame import ZEROS, Frame, Zero
from coach.machine import Machine
from coach.session.session import Session
from coach.shown import IN_MM, Wording
from coach.steps.current import current_step
from coach.steps.gates import GATES


@pytest.mark.parametrize(
    ("zero", "counted"),
    [("front-left", (20, 380)), ("back-left", (20, 20)), ("front-right", (580, 380)), ("back-right", (580, 20))],
)
def test_back_left_as_each_controller_counts_it(zero: Zero, counted: tuple[float, float]) -> None:
    """By hand: on a travel of 600 × 400 the station 20 mm inside the back left corner."""
    frame = Frame(zero, 600, 400)
    assert frame.counted(20, 380) == counted
    assert frame.counted(*counted) == (20, 380)


def test_a_step_sends_the_head_by_the_controllers_numbers() -> None:
    """The large type, the sentence and its 5 mm; in inches too."""
    session = Session.start(make_machine(zero="back-right"))
    for gate in GATES:
        session.gate(gate.name)
    step = current_step(session, IN_MM)
    assert step.key == "go"
    assert step.shot is not None
    assert (step.shot.x, step.shot.y) == (20, 380)
    assert step.figure == "X 580  Y 20"
    assert step.do[0] == "Move: head at X 580, Y 20 mm; within 5 mm is near enough."
    assert "X 22.83, Y 0.79 in; within 0.20 in" in current_step(session, Wording(unit="in")).do[0]


@pytest.mark.parametrize("zero", ZEROS)
def test_an_older_file_counts_from_the_front_left_and_a_told_corner_is_kept(tmp_path: Path, zero: Zero) -> None:
    """Left out it stays left out; written it comes back."""
    older = make_machine()
    assert older.zero == "front-left"
    assert "zero" not in older.to_table()
    path = tmp_path / "m.toml"
    make_machine(zero=zero).save(path)
    assert f'zero = "{zero}"' in path.read_text()
    assert Machine.load(path).zero == zero
