"""What was done otherwise than told, what cannot be done, how a stop goes on: said by a number, in plain lines."""

from pathlib import Path

import built_steps
from lineside import talk, until

from coach.session.events import Arrive, Best, Mended, Refused, Turn
from coach.session.session import Session
from coach.shown import IN_MM
from coach.steps import deeds
from coach.steps.current import current_step
from coach.steps.words import named


def test_what_cannot_be_moved_is_said_and_confirmed(tmp_path: Path) -> None:
    """The last answer at a move, read back with the part; "no, back" is the answer to Enter alone."""
    path = built_steps.stored("adjust-part", tmp_path)
    for answers, kept in ((("I cannot", ""), 0), (("I cannot", "1"), 1)):
        said = talk(tmp_path, until("Adjust", *answers), session=path)
        part = deeds.part_of(current_step(built_steps.built("adjust-part"), IN_MM))
        assert f"On this machine {named(part)} cannot be moved: the coach will not ask for it again." in said.text
        refused = [event.part for event in Session.load(path).effective if isinstance(event, Refused)]
        assert refused == [part] * kept


def test_half_of_it_and_the_other_way(tmp_path: Path) -> None:
    """Said by a number, without typing an amount; the other way is read back."""
    for answers, times in ((("Half",), 0.5), (("Twice",), 2.0), (("The other way", "1"), -1.0)):
        path = built_steps.stored("screw", tmp_path)
        talk(tmp_path, until("Mirror", *answers), session=path)
        turn = Session.load(path).effective[-1]
        assert isinstance(turn, Turn)
        task = current_step(built_steps.built("screw"), IN_MM).screw
        assert turn.screws == {task.screw: times * task.turns}


def test_a_stop_goes_on_in_plain_lines(tmp_path: Path) -> None:
    """Mended, or aligned to the best: the stop is entered with its cause and is no end."""
    for answer, kind in (("Mended", "mended"), ("Align to the best", "best")):
        path = built_steps.stored("stop", tmp_path)
        said = talk(tmp_path, until("No screw will", answer), session=path)
        event = Session.load(path).effective[-1]
        assert isinstance(event, Mended if kind == "mended" else Best)
        assert event.cause == "yaw"
        assert said.status == 0


def test_another_dose_is_typed_line_by_line(tmp_path: Path) -> None:
    """The dose that is told stands to be kept with Enter alone; seconds in place of ms are asked again at once."""
    path = built_steps.stored("pulse", tmp_path)
    said = talk(tmp_path, until("Pulse", "Set otherwise", "0.09", "90", "", "2", "1"), session=path)
    assert "in seconds it would be 90 ms" in said.text
    assert "Understood: 90 ms at 12 %, 2 layers of tape." in said.text
    assert "Set by you: 90 ms at 12 %, 2 layers of tape." in said.text
    event = Session.load(path).effective[-1]
    assert isinstance(event, Arrive)
    assert (event.ms, event.power, event.layers) == (90.0, 12.0, 2)
