"""What a machine's visits say together: which part drifts is the geometry's word, told by the exact trace."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from drifting_visits import BEGAN, NOW, drifting, kept, lying, machine, session

from coach.errors import UnknownName
from coach.history.beam import TO_PARTS
from coach.history.found import named
from coach.history.of_machine import History, of_visits
from coach.history.stored import stored_history
from coach.history.visits import visit_of
from coach.optics.mounts import PlateMotion
from coach.session.document import Document, Practice
from coach.session.events import EVENT


def told(*documents: Document, now: datetime = NOW) -> History:
    """The history of these, oldest first or not."""
    visits = [visit_of(f"s{n}", each) for n, each in enumerate(documents)]
    return of_visits(machine().name, visits, None, now)


@pytest.mark.parametrize("part", ["mirror 1", "mirror 2", "centre"])
def test_the_part_that_drifts_is_named_and_measured(part: str) -> None:
    """Plates tilted by 3 mrad (or a head sunk by 3 mm) in half a year, by the exact trace: named, sized, counted."""
    history = told(*drifting(part))
    found = named(history.parts)
    assert [each.part for each in found] == [part]
    assert abs(found[0].size - 3.0) < 2.5 * found[0].size_sd
    assert found[0].size_sd < 0.5
    assert found[0].since == BEGAN.date()
    assert found[0].times >= 3


def test_what_does_not_drift_is_called_none() -> None:
    """A machine that stays as it is: three parts, none of them drifting; its tolerance is not left soon."""
    history = told(*drifting("none"))
    assert [each.state for each in history.parts] == ["none"] * 3
    assert history.forecast is not None
    assert history.forecast.soonest is None or history.forecast.soonest > NOW.date() - timedelta(days=120)


def test_nothing_is_forecast_of_two_visits() -> None:
    """Two visits, however far apart their marks: too few; with the third there is a forecast."""
    two = told(*drifting("mirror 2", 2, 3.0))
    assert {each.state for each in two.parts} == {"too few"}
    assert two.forecast is None
    assert told(*drifting("mirror 2", 3, 0.5)).forecast is not None


def test_a_forecast_follows_the_line() -> None:
    """The head sinks evenly; it stands 1 mm low, which is the tolerance, 150 days after day 0."""
    documents = [session(lying(head_up=0.5 - 0.01 * day), day) for day in range(0, 121, 20)]
    ahead = told(*documents).forecast
    assert ahead is not None
    left = BEGAN.date() + timedelta(days=150)
    assert ahead.soonest is not None
    assert ahead.latest is not None
    assert ahead.soonest <= left <= ahead.latest
    assert ahead.check <= left


def test_a_bump_is_no_drift() -> None:
    """Mirror 2 was hit between two visits, and that was said: nothing drifts; unsaid it would count as movement."""
    bump = {"kind": "disturbed", "part": "mirror 2"}
    hit = lying(mirror2=PlateMotion(3.0, 2.0))
    states = [lying()] * 3 + [hit] * 3
    said = told(*[session(s, 30.0 * k, *([bump] if k == 3 else [])) for k, s in enumerate(states)])
    assert not named(said.parts)
    mirror2 = said.parts[1]
    assert mirror2.visits == 5
    assert mirror2.size < 1.0
    unsaid = told(*[session(s, 30.0 * k) for k, s in enumerate(states)])
    assert unsaid.parts[1].size > 2.0


def test_a_new_mirror_has_no_past() -> None:
    """After "the mirror was changed" only what was seen since says something of it."""
    changed = {"kind": "answer", "question": "changed", "answer": "mirror"}
    before = drifting("mirror 2", 5)
    last = lying(mirror2=PlateMotion(0.3, 0.0))
    after = [session(last, 150.0, changed), session(last, 180.0), session(last, 210.0)]
    history = told(*before, *after)
    assert not named(history.parts)
    assert history.parts[1].since == (BEGAN + timedelta(days=150)).date()
    assert history.parts[1].visits == 3


def test_an_adjustment_is_no_drift() -> None:
    """Found far out, turned, left in the middle, found there again: the drift is what came after it was left."""
    touched = {"kind": "disturbed", "part": "machine"}
    out, good = lying(mirror2=PlateMotion(4.0, 0.0)), lying()
    first, after = session(out, 0.0), session(good, 0.1)
    events = (*first.events, EVENT.validate_python({"id": 7, "at": BEGAN + timedelta(minutes=8)} | touched))
    events += tuple(each.model_copy(update={"id": each.id + 10}) for each in after.events)
    adjusted = first.model_copy(update={"events": events})
    visit = visit_of("x", adjusted)
    assert visit.adjusted
    assert visit.found is not None
    assert visit.left is not None
    assert (TO_PARTS @ visit.found.mean)[2] == pytest.approx(-8.0, abs=1.0)  # −2·g_x: docs/model.md, "Mirrors"
    assert (TO_PARTS @ visit.left.mean)[2] == pytest.approx(0.0, abs=1.0)
    history = told(adjusted, session(good, 30.0), session(good, 60.0))
    assert not named(history.parts)
    assert history.parts[1].size < 1.5


# -- what cannot be used ----------------------------------------------------------------------------


def test_no_visit_and_one() -> None:
    """Nothing is said of nothing, and nothing of one visit beside itself."""
    for history in (told(), told(session(lying(), 0.0))):
        assert history.parts == ()
        assert history.forecast is None
        assert history.power is None
    assert told(session(lying(), 0.0)).visit("1").title == "Day 0"
    with pytest.raises(UnknownName, match="from 1 to 1"):
        told(session(lying(), 0.0)).visit("2")


def test_practice_and_others_are_no_visits_and_a_broken_file_is_said(tmp_path: Path) -> None:
    """Practice on a machine of the same name is left aside; a file that cannot be read is told, not hidden."""
    practice = session(lying(), 5.0, practice=Practice())
    other = session(lying(), 6.0, on=machine().model_copy(update={"name": "Another"}))
    kept(tmp_path, other, practice, session(lying(), 0.0))
    (tmp_path / "sessions" / "bad.toml").write_text("schema = ")
    history = stored_history(tmp_path, machine().name, NOW)
    assert [visit.title for visit in history.visits] == ["Day 0"]
    (problem,) = history.problems
    assert "bad.toml, line 1" in problem


def test_a_path_described_anew_is_not_compared() -> None:
    """Gaps measured anew make other slopes of the same marks: those visits are listed, said, and not compared."""
    old = machine(mirror1_gap=400.0)
    documents = [session(lying(), 30.0 * k, on=old) for k in range(3)]
    history = told(*documents, *[session(lying(), 90.0 + 30 * k) for k in range(3)])
    assert len(history.visits) == 6
    assert history.compared == 3
    assert "described otherwise" in history.problems[0]


def test_clocks_that_go_wrong() -> None:
    """A visit that is still to come is listed and compared with none; one whose clock went back is told."""
    ahead = session(lying(mirror2=PlateMotion(9.0, 0.0)), 4000.0)
    back = session(lying(), 30.0)
    jumped = (back.events[0].model_copy(update={"at": BEGAN - timedelta(days=3)}), *back.events[1:])
    history = told(session(lying(), 0.0), back.model_copy(update={"events": jumped}), session(lying(), 60.0), ahead)
    assert not named(history.parts)
    assert history.compared == 3
    said = " ".join(history.problems)
    assert "still to come" in said
    assert "went back" in said
    together = told(session(lying(), 0.0), session(lying(), 0.0), session(lying(), 0.0))
    assert not named(together.parts)


def test_of_many_visits_the_newest_are_replayed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those before are counted, and keep their numbers."""
    monkeypatch.setattr("coach.history.stored.MOST_READ", 3)
    kept(tmp_path, *drifting("none", 5))
    history = stored_history(tmp_path, machine().name, NOW)
    assert history.older == 2
    assert [number for number, _ in history.numbered] == [3, 4, 5]
    assert history.visit("4").title == "Day 90"
    with pytest.raises(UnknownName, match="from 3 to 5"):
        history.visit("1")
