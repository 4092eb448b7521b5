"""What visits did counts as upkeep: read from their sessions, where it is also taken back."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from machines import make_machine

from coach import MachineLog, Session
from coach.session.document import Practice

TODAY = date.today()
STATIONS = [station.name for station in make_machine().stations]


def begun(folder: Path, **more) -> Session:
    """A session kept in that data folder."""
    session = Session.start(make_machine(), **more)
    session.keep_new(folder)
    return session


def done_by_visits(folder: Path) -> set[str]:
    """The items that stand as done by a visit, today."""
    log = MachineLog.open(make_machine(), folder)
    standing = [each for each in log.standing() if each.last is not None]
    assert {(each.by, each.last) for each in standing} <= {("visit", TODAY)}
    return {each.item.name for each in standing}


def cleaned(session: Session, *optics: str, result: str = "clean") -> None:
    for optic in optics:
        session.care(optic, result)


def check_up(session: Session, marks: list[str] = STATIONS, cuts: int = 3) -> None:
    for name in marks:
        session.mark(name, u=0.2, v=0.1)
    for name in STATIONS[:cuts]:
        session.cut(name, fastest=18.0, next=20.0, material="ply 6 mm, lot 3")


@pytest.mark.parametrize(
    ("visit", "items"),
    [
        (lambda s: s.check("lens", "bad"), {"lens"}),
        (lambda s: s.check("lens", "not checked"), set()),
        (lambda s: cleaned(s, "mirror 1", "mirror 2", "lens"), {"lens"}),
        (lambda s: cleaned(s, "mirror 1", "mirror 2", "mirror 3", "lens"), {"lens", "optics"}),
        (lambda s: cleaned(s, "mirror 1", "mirror 2", "mirror 3", "lens", result="not opened"), set()),
        (lambda s: s.gate("clean"), {"lens", "optics"}),
        (lambda s: s.lock(1), set()),
        (lambda s: (s.lock(1), s.lock(2)), {"lock nuts"}),
        (lambda s: s.item("close up", "locks", True), {"lock nuts"}),
        (lambda s: s.item("close up", "locks", False), set()),
        (check_up, {"check-up"}),
        (lambda s: check_up(s, STATIONS[1:]), set()),
        (lambda s: check_up(s, cuts=2), set()),
        (lambda s: (check_up(s), s.turn(1, {"B": 0.1})), set()),
    ],
)
def test_what_a_visit_did_counts(tmp_path: Path, visit, items: set[str]) -> None:
    """Whole deeds alone: every mirror and the lens opened, both mirrors' nuts, a mark at every station since the last
    turn and a cut check; "not checked", "not opened" and "stays open" are none."""
    visit(begun(tmp_path))
    assert done_by_visits(tmp_path) == items


def test_it_stands_in_the_session_alone(tmp_path: Path) -> None:
    """Taken back there it counts no more; the log's own file never held it."""
    session = begun(tmp_path)
    session.check("lens", "good")
    assert done_by_visits(tmp_path) == {"lens"}
    session.undo()
    assert done_by_visits(tmp_path) == set()
    assert not (tmp_path / "upkeep").exists()


def test_practice_and_other_machines_are_no_visits_here(tmp_path: Path) -> None:
    """An invented machine's clean lens says nothing of the own one."""
    begun(tmp_path, practice=Practice(seed=3)).check("lens", "good")
    other = Session.start(make_machine().model_copy(update={"name": "Other"}))
    other.keep_new(tmp_path)
    other.check("lens", "good")
    assert done_by_visits(tmp_path) == set()


def test_the_later_of_log_and_visit_counts(tmp_path: Path) -> None:
    """Noted yesterday, looked at in a visit today: today, by the visit; and the other way round on the day before."""
    log = MachineLog.open(make_machine(), tmp_path)
    log.done("lens", on=TODAY - timedelta(days=1))
    begun(tmp_path).check("lens", "good")
    log = MachineLog.open(make_machine(), tmp_path)
    lens = next(each for each in log.standing() if each.item.name == "lens")
    assert (lens.by, lens.last) == ("visit", TODAY)
    lens = next(each for each in log.standing(TODAY - timedelta(days=1)) if each.item.name == "lens")
    assert (lens.by, lens.last) == ("log", TODAY - timedelta(days=1))
