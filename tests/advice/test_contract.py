"""The public interface, word for word as docs/guide.md has it."""

import pytest
from machines import ExactMachine, make_machine, obey_exactly, obey_while_shooting

import coach
from coach import Machine, Session
from coach.errors import InputError
from coach.optics.mounts import PlateMotion

PROFILE = {
    "name": "Shed laser",
    "bed": {"width": 600.0, "depth": 400.0},
    "path": {"side": "left", "mirror1_gap": 150.0, "mirror2_gap": 120.0},
    "aperture": {"head": 18.0},
    "tape": {"radius": 11.0},
    "tolerance": 1.0,
    "mounts": [
        {
            "mirror": 1,
            "pitch": 0.7,
            "drive": "push",
            "points": [
                {"name": "A", "x": -20.0, "y": -20.0, "kind": "pivot"},
                {"name": "B", "x": 20.0, "y": -20.0, "kind": "screw"},
                {"name": "C", "x": -20.0, "y": 20.0, "kind": "screw"},
            ],
        },
        {
            "mirror": 2,
            "thread": "M4",
            "drive": "unknown",
            "points": [
                {"name": "A", "x": -20.0, "y": -20.0, "kind": "pivot"},
                {"name": "B", "x": 20.0, "y": -20.0, "kind": "screw"},
                {"name": "C", "x": -20.0, "y": 20.0, "kind": "screw"},
            ],
        },
    ],
}


def test_the_contract_as_it_is_written(tmp_path) -> None:
    """Every call and attribute of docs/guide.md, in its order, on its own machine."""
    m = Machine.model_validate(PROFILE)
    assert [(s.name, s.x, s.y) for s in m.stations] == [
        ("back-left", 20.0, 380.0),
        ("back-right", 580.0, 380.0),
        ("middle", 300.0, 200.0),
        ("front-right", 580.0, 20.0),
        ("front-left", 20.0, 20.0),
    ]
    assert m.mount(2).pitch == 0.7  # M4 coarse, ISO 261
    s = Session.start(m)
    a = s.advice()
    assert a.kind == "shoot"
    assert isinstance(a.why, str)
    first = a.stations[0]
    assert (first.name, first.x, first.y, first.target) == ("back-left", 20.0, 380.0, "head")
    s.mark("back-left", u=1.2, v=-0.4)
    s.mark("P1", u=1.0, v=-0.3, x=300.0, y=300.0, target="head", sd=0.5)
    s.mark("mirror 2", u=0.2, v=0.1, x=0.0, y=400.0, target="mirror 2")
    s.miss("front-right")
    s.miss("P2", x=500.0, y=50.0, target="head")
    s.turn(1, {"B": -0.125, "C": 0.0625})
    s.shift("tube", up=1.2)
    assert [e.kind for e in s.events] == ["mark", "mark", "mark", "miss", "miss", "turn", "shift"]
    s.undo()
    assert [e.kind for e in s.effective][-1] == "turn"
    learned = s.learned()
    assert isinstance(learned, Machine)
    path = tmp_path / "session.toml"
    s.save(path)
    assert Session.load(path).events == s.events
    m.save(tmp_path / "machine.toml")
    assert Machine.load(tmp_path / "machine.toml") == m
    assert {"Machine", "Session"} <= set(coach.__all__)  # beside what came later


def test_the_fields_of_each_kind_of_advice() -> None:
    """turns: mirror and screws; shift: part, up, right, back, 0.0 where none; stop: a cause; the rest empty."""
    machine = make_machine()
    tilted = ExactMachine(machine, {1: "push", 2: "push"}, {"mirror1": PlateMotion(2.5, 0.0)})
    turn = obey_while_shooting(Session.start(machine), tilted)
    assert turn.kind == "turn"
    assert turn.turns[0].mirror == 1
    assert all(isinstance(name, str) and isinstance(n, float) for t in turn.turns for name, n in t.screws.items())
    assert (turn.stations, turn.part, turn.up, turn.right, turn.back, turn.cause) == ((), "", 0.0, 0.0, 0.0, "")
    low = ExactMachine(machine, {}, {"tube_up": -1.5})
    shift = obey_while_shooting(Session.start(machine), low)
    assert shift.kind == "shift"
    assert (shift.part, shift.right, shift.back) == ("head", 0.0, 0.0)  # of the tube nobody said that it moves
    assert shift.up == pytest.approx(-1.5, abs=0.2)  # head up 1 → v −1
    assert (shift.stations, shift.turns, shift.cause) == ((), (), "")


def test_unknown_keys_are_refused_and_stations_may_be_given() -> None:
    """A misspelt key is an error; own stations replace the default ones, at least three and not on one line."""
    with pytest.raises(ValueError, match="tolerence"):
        Machine.model_validate(PROFILE | {"tolerence": 1.0})
    own = [
        {"name": "a", "x": 0.0, "y": 0.0},
        {"name": "b", "x": 600.0, "y": 0.0},
        {"name": "c", "x": 0.0, "y": 400.0},
    ]
    assert [s.name for s in Machine.model_validate(PROFILE | {"stations": own}).stations] == ["a", "b", "c"]
    for bad in (own[:2], [*own[:2], {"name": "c", "x": 300.0, "y": 0.0}]):
        with pytest.raises(ValueError, match="three stations"):
            Machine.model_validate(PROFILE | {"stations": bad})


def test_marks_arrive_in_any_order_also_for_stations_not_asked_for() -> None:
    """The last station first is as good; an unknown one needs its place."""
    s = Session.start(Machine.model_validate(PROFILE))
    for name in ("front-left", "front-right", "back-left"):
        s.mark(name, u=0.1, v=0.1)
    assert s.advice().kind == "shoot"
    assert s.advice().stations[0].name in ("back-right", "middle")
    with pytest.raises(InputError, match="no station 'corner'"):
        s.mark("corner", u=0.0, v=0.0)


def test_what_was_learned_starts_the_next_session() -> None:
    """A drive nobody knew is known in the learned machine; the next session turns right away, without a probe."""
    machine = make_machine(drives=("unknown", "unknown"))
    really = {1: "pull", 2: "push"}
    truth = ExactMachine(machine, really, {"mirror1": PlateMotion(2.0, 1.0), "mirror2": PlateMotion(1.0, -1.5)})
    s = Session.start(machine)
    for step in ((1, {"B": 0.1}), (2, {"B": 0.1})):
        obey_while_shooting(s, truth)
        truth.turn(*step)
        s.turn(*step)
        for station in machine.stations:
            u, v = truth.mark(station.x, station.y)
            s.mark(station.name, u=u, v=v)
    learned = Machine.model_validate(s.learned().model_dump())
    following = Session.start(learned)
    assert following.belief.drive_push(1) < 0.02
    assert following.belief.drive_push(2) > 0.98
    again = ExactMachine(learned, really, {"mirror1": PlateMotion(-2.0, 2.0), "mirror2": PlateMotion(1.0, -1.5)})
    at_first = again.spread()
    turn = obey_while_shooting(following, again)
    assert turn.kind == "turn"
    obey_exactly(following, again, turn)
    assert again.spread() < at_first / 3
