"""What the index keeps of a visit is the visit: replayed once for each writing of its file, and told alike."""

import json
from datetime import timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from drifting_visits import machine

from coach.history import kept
from coach.history.beam import BeamState
from coach.history.stored import visits_of
from coach.history.visits import Visit, visit_of
from coach.session.session import Session
from coach.session.store import Store


def same(one: Any, other: Any) -> bool:
    """Whether two values are equal, arrays number by number."""
    if isinstance(one, BeamState) and isinstance(other, BeamState):
        return np.array_equal(one.mean, other.mean) and np.array_equal(one.cov, other.cov)
    return bool(one == other)


def test_a_visit_comes_back_as_it_was() -> None:
    """Through JSON and back every field is what replaying gives, to the last digit."""
    session = marked()
    for place in session.machine.stations:
        session.cut(place.name, fastest=12.0, next=13.2, material="ply 6 mm", power=60.0)
    session.disturbed("mirror 2")
    document = session._doc.model_copy(update={"created": session.created - timedelta(minutes=40)})
    told = json.loads(json.dumps(kept.told_by(document)))
    again, visit = kept.visit_from("one", told), visit_of("one", document)
    assert isinstance(again, Visit)
    assert [name for name, value in vars(visit).items() if not same(value, getattr(again, name))] == []
    assert visit.found is not None
    assert visit.ended - visit.begun >= timedelta(minutes=40)
    assert visit.happened
    assert visit.cut_left is not None


def marked() -> Session:
    """A session on a machine whose marks drift outwards."""
    session = Session.start(machine())
    for number, place in enumerate(session.machine.stations):
        session.mark(place.name, u=0.3 * number, v=-0.2)
    return session


def test_only_what_was_written_since_is_replayed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second time nothing is; after an entry in one file that one alone; the answers are those of the files."""
    replayed: list[str] = []
    real = kept.visit_of

    def counted(key: str, document: Any) -> Visit:
        replayed.append(document.title)
        return real(key, document)

    monkeypatch.setattr(kept, "visit_of", counted)
    monkeypatch.setattr("coach.session.index.SETTLED", -1)  # files of this moment are known by their stamp as well
    for name in ("a", "b"):
        session = marked()
        session.keep_in(tmp_path / "sessions" / f"{name}.toml")
        session.opened()
    store = Store(tmp_path)
    first = visits_of(store, machine().name)
    assert (len(first.visits), len(replayed)) == (2, 2)
    again = visits_of(store, machine().name)
    assert len(replayed) == 2
    for one, other in zip(first.visits, again.visits, strict=True):
        assert all(same(value, getattr(other, name)) for name, value in vars(one).items())
    session = Session.load(tmp_path / "sessions" / "a.toml")
    session.keep_in(tmp_path / "sessions" / "a.toml")
    session.mark(session.machine.stations[0].name, u=2.0, v=0.0)
    newest = {visit.key: visit for visit in visits_of(store, machine().name).visits}
    assert len(replayed) == 3
    assert newest["a"].marks == newest["b"].marks + 1
    assert newest["a"].ended - newest["a"].begun < timedelta(minutes=5)
