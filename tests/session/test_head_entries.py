"""What a session is told about lens, nozzle and pointer: as the public interface says, on disk, undone, replayed."""

from pathlib import Path

import pytest
from machines import machine_table, mount_table

from coach import Machine, Session
from coach.errors import InputError, Unreadable
from coach.session.document import read

LENS = {"focal": 50.8, "nozzle_distance": 8.0, "nozzle": 2.5, "curved": "up"}


def _machine() -> Machine:
    mounts = [mount_table(mirror) for mirror in (1, 2, 3)]
    return Machine.model_validate(machine_table(mounts=mounts) | {"lens": LENS})


def _told(session: Session) -> None:
    session.bed_mark(right=1.2, back=-0.4, lowered=0.0)
    session.bed_mark(right=2.9, back=-0.4, lowered=120.0)
    session.turn(3, {"B": 0.1})
    session.nozzle_mark(right=0.3, back=0.1)
    session.bed_mark(0.0, 0.0, lowered=20.0, lens=True)
    session.shift("lens", right=0.3, back=0.0)
    session.pointer(right=0.5, back=0.2, lowered=0.0)


def test_the_contract() -> None:
    """Every method of the map, and what its advice has to have."""
    session = Session.start(_machine())
    _told(session)
    advice = session.head_advice()
    assert advice.kind in ("shoot", "turn", "shift", "done", "stop")
    assert advice.target == "nozzle"
    assert len(advice.lean) == len(advice.lean_sd) == 2
    assert 0.0 <= advice.clipped <= 1.0
    assert advice.why.endswith(".")


def test_a_file_read_anew_advises_the_same(tmp_path: Path) -> None:
    """Replay is resume: the same belief and advice, event by event."""
    path = tmp_path / "s.toml"
    session = Session.start(_machine())
    session.keep_in(path)
    _told(session)
    again = Session.load(path)
    assert again.events == session.events
    assert read(path).events == session.events
    assert again.head_advice().now == session.head_advice().now


def test_undo_takes_back_what_was_learned() -> None:
    """The advice before an entry is that after it was taken back."""
    session = Session.start(_machine())
    session.nozzle_mark(0.4, 0.0)
    before = session.head_advice().now
    session.bed_mark(3.0, 0.0, lowered=20.0, lens=True)
    session.bed_mark(9.0, 0.0, lowered=120.0, lens=True)
    assert session.head_advice().now != before
    session.undo()
    session.undo()
    assert session.head_advice().now == before


def test_work_on_the_head_leaves_the_beams_path_as_it_is() -> None:
    """Mirror 3, lens, nozzle and pointer change nothing before the head."""
    session = Session.start(_machine())
    session.mark("middle", u=1.0, v=0.5)
    before = session.belief.bank.mixture
    _told(session)
    session.lock(3)
    session.refuse("lens")
    session.mended("nozzle")
    session.best("head coarse")
    after = session.belief.bank.mixture
    assert (after.mean == before.mean).all()
    assert (after.cov == before.cov).all()
    assert session.belief.rounds == 0


def test_it_works_alone() -> None:
    """Without a mark of the beam's path, without mirror 3's mount and without a lens in the profile."""
    session = Session.start(Machine.model_validate(machine_table()))
    assert session.head_advice().kind == "shoot"
    with pytest.raises(InputError, match="Mirror 3 has no mount"):
        session.turn(3, {"B": 0.1})


def test_a_turn_of_a_screw_that_mirror_3_does_not_have_is_found_in_a_file(tmp_path: Path) -> None:
    """A slip of a hand edit, with its line."""
    path = tmp_path / "s.toml"
    session = Session.start(_machine())
    session.turn(3, {"B": 0.1})
    session.save(path)
    path.write_text(path.read_text(encoding="utf-8").replace("B = 0.1", "Z = 0.1"), encoding="utf-8")
    with pytest.raises(Unreadable, match="no screw 'Z'"):
        Session.load(path)


def test_entries_are_said_in_words() -> None:
    """Lists of entries tell each of them, with height and side."""
    from coach.shown import IN_MM
    from coach.steps.entries import doing_words, entries_listed, entry_words

    session = Session.start(_machine())
    _told(session)
    session.nozzle_mark()
    said = [entry_words(event, IN_MM) for event, _ in entries_listed(session.events)]
    assert said[0] == "Mark on the card, bed at its usual height, lens out: 1.2 mm to the right, 0.4 mm to the front"
    assert said[1].startswith("Mark on the card, bed 120 mm lower")
    assert said[3] == "Mark at the nozzle: 0.3 mm to the right, 0.1 mm to the back"
    assert said[5] == "Lens moved 0.3 mm to the right"
    assert said[6].startswith("Pointer beside the mark")
    assert said[7] == "Pulse at the nozzle: nothing came through"
    assert doing_words(session.events) == "lens and nozzle"
