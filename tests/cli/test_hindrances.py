"""What stands in the way, by the shell: refusals and their taking back, stops that go on, parts that were bumped."""

import json
import shutil

import pytest
from built_steps import built
from shellside import NEW, Shell

from coach.session.events import Disturbed, Refused
from coach.session.session import Session


def test_a_part_is_refused_and_taken_back_one_way_or_all(shell: Shell) -> None:
    """Refused in every direction and one taken back: the other stays refused."""
    path = shell.begun()
    assert shell.ok("refuse", "last", "Tube").splitlines()[0] == "Cannot be moved: the tube."
    back = shell.ok("refuse", "last", "tube", "--axis", "up", "--take-back")
    assert back.splitlines()[0] == "Taken back: the tube can be moved up or down, for all the coach knows."
    assert Session.load(path).belief.refused == {("tube", "back")}
    shell.ok("refuse", "last", "tube", "--take-back")
    assert not Session.load(path).belief.refused
    shell.ok("refuse", "last", "mirror2")
    assert isinstance(Session.load(path).effective[-1], Refused)


def test_a_profile_that_says_fixed_is_named_where_a_refusal_is_taken_back(shell: Shell) -> None:
    """Nobody refused it in the session: the profile did."""
    shell.ok(*NEW, "--moves", "tube no")
    shell.ok("new-session", "Shed laser")
    assert "its profile says that it is fixed" in shell("refuse", "last", "tube", "--take-back").err


def test_after_a_stop_it_goes_on(shell: Shell) -> None:
    """A gantry that yaws, from the practice bench: taken as it is, or mended."""
    path = shell.begun()
    stopped = shell.folder / "stopped.toml"
    built("stop").save(stopped)
    for action, kind in (("best", "best"), ("mended", "mended")):
        shutil.copy(stopped, path)
        assert "yaw" in shell.ok(action, str(path))
        assert Session.load(path).effective[-1].kind == kind
        assert Session.load(path).advice().cause != "yaw"


def test_a_head_that_was_described_since_is_told_to_the_session(shell: Shell) -> None:
    """From the stored machine of its name, or another; nothing new is one sentence."""
    path = shell.begun()
    nothing = shell("described", "last")
    assert (nothing.status, "what this session knows" in nothing.err) == (2, True)
    shell.ok("new-machine", "Second", *NEW[2:], "--drive3", "pull", "--focal", "2.5 in")
    assert "mirror 3, 2 screws; lens and nozzle" in shell.ok("described", "last", "--machine", "Second")
    session = Session.load(path)
    assert session.machine.lens is not None
    assert session.machine.lens.focal == pytest.approx(63.5)  # 2.5 of 25.4 mm
    assert session.machine.name == session.began_with.name
    assert "no machine" in shell("described", "last", "--machine", "Third").err.lower()


def test_what_was_bumped_and_what_can_be_moved(shell: Shell) -> None:
    """However the part is written; the list tells a script which parts move, and from where X and Y count."""
    path = shell.begun()
    assert "every station is marked again" in shell.ok("disturbed", "last", "Mirror2")
    last = Session.load(path).effective[-1]
    assert isinstance(last, Disturbed)
    assert last.part == "mirror 2"
    shell.ok("new-machine", "Second", *NEW[2:], "--moves", "head up 0 back 3; tube no", "--zero", "back-left")
    second = next(m for m in json.loads(shell.ok("list", "--json"))["machines"] if m["name"] == "Second")
    assert second["moves"] == [{"part": "head", "up": 0.0, "back": 3.0}, {"part": "tube", "up": 0.0, "back": 0.0}]
    assert second["zero"] == "back-left"
