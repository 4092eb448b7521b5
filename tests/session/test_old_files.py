"""Files of older shapes open as before: what they tell is kept, what is computed now is left out."""

from pathlib import Path

from machines import make_machine

from coach import Session
from coach.session.document import SCHEMA, read
from coach.session.events import Mark, Plan, Turn

OLD = Path(__file__).parent / "old"


def test_a_session_of_the_first_shape_is_lifted_whole() -> None:
    """Every entry of a schema 1 file is there; the sentence of its plan is not, and the file itself is untouched."""
    file = OLD / "schema1.toml"
    before = file.read_bytes()
    mark, plan, turn = read(file).events
    assert isinstance(mark, Mark)
    assert isinstance(plan, Plan)
    assert isinstance(turn, Turn)
    assert (mark.u, mark.v, plan.turns, turn.screws) == (1.2, -0.4, {"1": {"B": -0.125}}, {"B": -0.125})
    assert "why" not in plan.model_dump()
    session = Session.load(file)
    assert session.belief.rounds == 1
    assert session.machine.moves == ()
    assert file.read_bytes() == before


def test_a_session_of_the_second_shape_opens_as_it_is(tmp_path: Path) -> None:
    """Before marks under the head were known: nothing is changed but the number, with the next entry."""
    file = tmp_path / "s.toml"
    session = Session.start(make_machine())
    session.mark("middle", u=1.0, v=-0.5)
    session.turn(1, {"B": 0.1})
    session.save(file)
    file.write_text(file.read_text(encoding="utf-8").replace(f"schema = {SCHEMA}", "schema = 2"), encoding="utf-8")
    again = Session.resume(file)
    assert again.events == session.events
    assert (again.belief.bank.mixture.mean == session.belief.bank.mixture.mean).all()
    again.nozzle_mark(0.1, 0.0)
    assert file.read_text(encoding="utf-8").startswith(f"schema = {SCHEMA}")
