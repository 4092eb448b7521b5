"""Numbers that a person may type and a profile may hold, at their edges: refused in a sentence, or held."""

from pathlib import Path

import pytest
from extremes import played
from machines import machine_table
from sweeps import sampled

from coach import Machine, Session
from coach.advice.moves import movable
from coach.errors import OutOfReach
from coach.parts import FARTHEST_AT_ONCE


@pytest.mark.parametrize("seed", sampled(range(4), 0, 1))
def test_extreme_machines_and_contradictory_marks_hold(seed: int) -> None:
    """Belief finite, symmetric, positive; advice within what events take; lessons that a profile can hold."""
    assert played(seed).entries > 0


@pytest.mark.parametrize("sd", [1e-300, 1e-7, 0.0099])
def test_a_doubt_that_nobody_can_have_is_refused(sd: float, demo: Machine) -> None:
    """Finer than a hundredth of a millimetre nobody reads; below it matrices become singular."""
    session = Session.start(demo)
    with pytest.raises(OutOfReach, match=r"0\.01 to 100 mm"):
        session.mark("middle", u=1.0, v=0.5, sd=sd)
    assert session.events == ()


def test_such_a_doubt_in_an_older_file_counts_as_the_least(tmp_path: Path, demo: Machine) -> None:
    """It opens as before, and ends in no singular matrix."""
    session, least = Session.start(demo), Session.start(demo)
    for place in demo.stations:
        session.mark(place.name, u=1.0, v=0.5, sd=0.02)
        least.mark(place.name, u=1.0, v=0.5, sd=0.01)
    path = tmp_path / "a.toml"
    session.save(path)
    path.write_text(path.read_text().replace("sd = 0.02", "sd = 1e-7"))
    again = Session.load(path)
    assert again.events[0].sd == 1e-7
    assert again.advice() == least.advice()


def test_a_lesson_that_no_profile_holds_is_none() -> None:
    """Levers of half a millimetre and a pitch of five: the session ends in order, and the mount stays as it was."""
    table, arm = machine_table(), 0.5
    for mount in table["mounts"]:
        mount.pop("thread", None)
        mount["pitch"] = 5.0
        places = (("A", -arm, -arm, "pivot"), ("B", arm, -arm, "screw"), ("C", -arm, arm, "screw"))
        mount["points"] = [{"name": name, "x": x, "y": y, "kind": kind} for name, x, y, kind in places]
    session = Session.start(Machine.model_validate(table))
    session.mark("middle", u=1.0, v=1.0)
    session.turn(1, {"B": 0.01})
    session.mark("middle", u=1.0, v=1.5)
    assert session.learned() == session.machine


def test_no_part_is_told_farther_than_events_take(demo: Machine) -> None:
    """A profile may say 50 mm each way; nobody is told more than is entered without a question."""
    table = demo.to_table() | {"moves": [{"part": "tube", "up": 50.0, "back": 7.0}]}
    belief = Session.start(Machine.model_validate(table)).belief
    assert movable(belief, "tube", "up") == FARTHEST_AT_ONCE
    assert movable(belief, "tube", "back") == 7.0
