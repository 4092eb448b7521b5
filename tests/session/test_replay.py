"""A session is its events: acting, replaying, undoing, amending and reloading come to the same."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule
from machines import make_machine
from strategies import entries, machines, marks, offsets, sds

from coach import Session
from coach.belief.belief import Belief
from coach.errors import NothingToUndo
from coach.session import replay as replaying
from coach.session.events import Amend, Mark, Opened, Undo, effective
from coach.session.replay import replay


def _same(one: Belief, other: Belief) -> None:
    """Equal to the last bit: hypotheses, means, covariances, weights, and what this round saw."""
    for a, b in ((one.bank, other.bank), (one.start, other.start)):
        assert a.hypotheses == b.hypotheses
        assert (a.mixture.mean == b.mixture.mean).all()
        assert (a.mixture.cov == b.mixture.cov).all()
        assert (a.mixture.log_weight == b.mixture.log_weight).all()
    assert one.round_sightings == other.round_sightings
    assert (one.last_direction == other.last_direction).all()
    assert one.adjustments == other.adjustments


@given(st.data())
@settings(max_examples=25)
def test_replaying_the_events_is_acting_live(data) -> None:
    """Whatever was entered, the belief built step by step is the belief of the events replayed."""
    session = Session.start(data.draw(machines()))
    for name, what in data.draw(st.lists(entries(session.machine), min_size=1, max_size=8)):
        getattr(session, name)(**what)
    _same(session.belief, replay(session.machine, session.events, session.created.date()))


def test_what_is_read_and_gone_on_with_is_replayed_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Reading a file checks its entries without reckoning, nor does a note reckon; a mark needs each entry once."""
    session = Session.start(make_machine())
    for turns in (0.1, -0.05):
        session.mark("middle", u=1.0, v=-0.5)
        session.turn(1, {"B": turns})
    path, seen, after = session.keep_new(tmp_path), list[int](), replaying.after
    monkeypatch.setattr(replaying, "after", lambda belief, event: seen.append(event.id) or after(belief, event))
    again = Session.resume(path)
    again.note("warm")
    assert seen == []
    again.mark("middle", u=0.2, v=0.1)
    assert seen == [1, 2, 3, 4, 5, 6]
    again.mark("middle", u=0.1, v=0.1)
    assert seen == [1, 2, 3, 4, 5, 6, 7]


def _reacted(session: Session) -> Session:
    """A new session in which only what still counts is entered, as it now reads."""
    fresh = Session.start(session.machine)
    for event in session.effective:
        what = event.model_dump(exclude={"id", "at", "kind"})
        if event.kind not in ("opened", "amend"):
            getattr(fresh, event.kind)(**what)
    return fresh


class EnteringAndUndoing(RuleBasedStateMachine):
    """Entries, undos, amendments, openings and reloads in any order, beside a plain list of what counts."""

    @initialize(machine=machines())
    def begin(self, machine) -> None:
        """An empty session, and nothing to go back to."""
        self.session = Session.start(machine)
        self.before: list[tuple[Belief, tuple]] = []

    def _remember(self) -> None:
        self.before.append((self.session.belief, self._counting()))

    def _counting(self) -> tuple:
        return tuple(event for event in self.session.effective if not isinstance(event, Opened))

    @rule(data=st.data())
    def enter(self, data) -> None:
        """Anything that may be entered."""
        name, what = data.draw(entries(self.session.machine))
        self._remember()
        getattr(self.session, name)(**what)

    @rule()
    def open_again(self) -> None:
        """An opening is no entry: undo passes over it, and it tells nothing about the beam."""
        belief = self.session.belief
        self.session.opened()
        _same(self.session.belief, belief)

    def _marks(self) -> list[Mark]:
        return [event for event in self.session.effective if isinstance(event, Mark)]

    @precondition(lambda self: self._marks())
    @rule(data=st.data(), u=offsets, v=offsets, sd=sds)
    def amend(self, data, u, v, sd) -> None:
        """A corrected mark is the mark that should have been entered."""
        of = data.draw(st.sampled_from(self._marks())).id
        self._remember()
        self.session.amend(of, u, v, sd=sd)
        (amended,) = (event for event in self._marks() if event.id == of)
        assert (amended.u, amended.v, amended.sd) == (u, v, sd)
        _same(self.session.belief, _reacted(self.session).belief)

    @precondition(lambda self: self.before)
    @rule()
    def undo(self) -> None:
        """Exactly as before the last entry, and the file remembers that it happened."""
        count = len(self.session.events)
        self.session.undo()
        belief, counting = self.before.pop()
        _same(self.session.belief, belief)
        assert self._counting() == counting
        assert len(self.session.events) == count + 1

    @precondition(lambda self: not self.before)
    @rule()
    def undo_nothing(self) -> None:
        """With nothing left it says so and changes nothing."""
        events = self.session.events
        with pytest.raises(NothingToUndo):
            self.session.undo()
        assert self.session.events == events

    @rule()
    def save_and_load(self) -> None:
        """A session that went through its file is the same session, whatever was typed into it."""
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "s.toml"
            self.session.save(path)
            loaded = Session.load(path)
        assert loaded.events == self.session.events
        assert loaded.machine == self.session.machine
        assert (loaded.title, loaded.created) == (self.session.title, self.session.created)
        _same(loaded.belief, self.session.belief)
        self.session = loaded

    def teardown(self) -> None:
        """What is believed in the end is what someone believes who entered only what still counts."""
        if hasattr(self, "session"):
            _same(self.session.belief, _reacted(self.session).belief)


TestEnteringAndUndoing = EnteringAndUndoing.TestCase
TestEnteringAndUndoing.settings = settings(max_examples=25, stateful_step_count=12)


@given(st.data())
@settings(max_examples=10)
def test_an_undone_amendment_gives_the_earlier_reading_back(data) -> None:
    """Two amendments of one mark, undone one by one, lead back through each reading to the first."""
    session = Session.start(data.draw(machines()))
    name, what = data.draw(marks(session.machine))
    getattr(session, name)(**what)
    session.amend(1, 1.0, 2.0)
    session.amend(1, 3.0, 4.0)
    readings = []
    for _ in range(3):
        readings.append(tuple((e.u, e.v) for e in session.effective if isinstance(e, Mark)))
        session.undo()
    assert readings == [((3.0, 4.0),), ((1.0, 2.0),), ((what["u"], what["v"]),)]
    assert session.effective == ()
    assert [type(event) for event in session.events] == [Mark, Amend, Amend, Undo, Undo, Undo]
    assert effective(session.events[:3])[0].u == 3.0


@pytest.mark.parametrize(("sd", "kept"), [(None, False), (0.6, True)])
def test_an_amended_mark_has_nothing_left_of_the_old_one_but_its_place(sd, kept) -> None:
    """Reading, doubt, whether it was kept in spite of a question, and what was typed are all the amendment's."""
    session = Session.start(make_machine())
    session.mark("middle", u=1.0, v=2.0, sd=0.3, kept=not kept, typed={"u": "1.0"})
    session.amend(1, 3.0, 4.0, sd=sd, kept=kept, typed={"u": "3,0"})
    (mark,) = (event for event in session.effective if isinstance(event, Mark))
    assert (mark.id, mark.station, mark.u, mark.v, mark.sd, mark.kept) == (1, "middle", 3.0, 4.0, sd, kept)
    assert mark.typed == {"u": "3,0"}
