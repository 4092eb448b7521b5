"""The head described when its part comes: the session knows it at once, the machine from then on, nothing is lost."""

from pathlib import Path

import pytest
from machines import machine_table, make_machine, mount_table

from coach import Machine, Session
from coach.describing import drafts
from coach.describing.at_need import begin_head, head_known, keep_described
from coach.describing.head_answers import LENS, TURNS
from coach.describing.profile import machine_of
from coach.describing.questions import questions
from coach.describing.walking import OVERVIEW, following, preceding, taken
from coach.errors import InputError, Unreadable
from coach.session.document import Practice
from coach.session.store import Store
from coach.shown import IN_MM
from coach.steps.entries import entry_words
from coach.steps.finish import keep_learned


def begun(folder: Path) -> Session:
    """A session on a stored machine of which nothing is known below mirror 2; one mark is made."""
    store = Store(folder)
    path = store.save_machine(make_machine(guessed=("path.mirror1",)))
    session = Session.start(Machine.load(path))
    session.keep_in(folder / "sessions" / "s.toml")
    session.mark("middle", u=0.4, v=0.2)
    session.bed_mark(0.0, 0.0)
    return session


def described(session: Session, **answers: str) -> Machine:
    """The session's machine with these answers about the head."""
    description = begin_head(Path("nowhere"), session).description
    for key, text in answers.items():
        description = description.answered(key.replace("__", "."), text)
    return machine_of(description)


SCREWS = {"mounts__3__can": "yes", "mounts__3__shape": "l", "mounts__3__drive": "push", "lens__focal": "63.5"}


def test_only_the_head_is_asked_about_from_its_first_question_to_its_last(tmp_path: Path) -> None:
    """Nothing of travel and other mirrors; what the machine said of them stays as it was."""
    session = begun(tmp_path)
    draft = begin_head(tmp_path, session)
    assert [question.key for question in questions(draft.description)] == [TURNS, *LENS[:-1]]
    assert (draft.at, preceding(draft.description, draft.at, listed=())) == (TURNS, None)
    description, at, heard = draft.description, draft.at, []
    while at != OVERVIEW:
        heard.append(at)
        if at == TURNS:
            description = taken(description, at, "no", "mm")
        at = following(description, at, listed=())
        assert len(heard) < 30
    assert heard == [TURNS, *LENS[:-1]]
    machine = machine_of(description)
    assert (machine.mirror3, machine.mounts, machine.bed) == ("fixed", session.machine.mounts, session.machine.bed)


def test_the_session_knows_it_at_once_and_what_was_seen_still_counts(tmp_path: Path) -> None:
    """On disk and read back; the beam's belief and the mark below stay, the screws can be turned."""
    session = begun(tmp_path)
    assert not head_known(session.machine)
    with pytest.raises(InputError):
        session.turn(3, {"B": 0.1})
    mean = session.belief.bank.mixture.mean
    session.described(described(session, **SCREWS))
    assert head_known(session.machine)
    assert session.head_belief.layout.screws == ("B", "C")
    assert session.head_belief.layout.lens.focal == 63.5
    assert len(session.head_belief.marks) == 1
    assert (session.belief.bank.mixture.mean == mean).all()
    session.turn(3, {"B": 0.1})
    again = Session.load(tmp_path / "sessions" / "s.toml")
    assert again.machine == session.machine
    assert again.events == session.events
    assert again.head_belief.last_direction.any()
    assert session.began_with == make_machine(guessed=("path.mirror1",))
    assert entry_words(session.effective[-2], IN_MM) == "Described: mirror 3, 2 screws; lens and nozzle"


def test_a_screw_that_was_turned_cannot_be_described_away(tmp_path: Path) -> None:
    """Neither by a new description nor by taking the first one back; once the turn is taken back, both can be."""
    session = begun(tmp_path)
    session.described(described(session, **SCREWS))
    first = session.effective[-1].id
    session.turn(3, {"B": 0.1})
    for way in (lambda: session.described(described(session, mounts__3__can="no")), lambda: session.undo(first)):
        with pytest.raises(InputError, match="Screw B of mirror 3 was turned"):
            way()
    turned = session.effective[-1].id
    session.described(described(session, **SCREWS, mounts__3__arm="30"))  # the same names
    assert session.machine.mount(3).points[1].x - session.machine.mount(3).points[0].x == 30
    with pytest.raises(InputError):
        session.undo(first)
    session.undo(turned)
    session.undo(first)
    session.described(described(session, mounts__3__can="no"))
    assert session.machine.mirror3 == "fixed"
    session.undo()
    session.undo()
    assert session.machine == session.began_with


def test_a_practice_machine_is_not_described_anew() -> None:
    """Its bench would not follow."""
    bench = Session.start(make_machine(), practice=Practice(seed=1))
    with pytest.raises(InputError, match="practice session"):
        bench.described(make_machine())


def test_a_file_whose_entries_contradict_is_told_with_its_line(tmp_path: Path) -> None:
    """A slip of a hand edit: a screw that was turned before it was described, or described away after."""
    session = begun(tmp_path)
    session.described(described(session, **SCREWS))
    session.turn(3, {"C": 0.1})
    file = tmp_path / "sessions" / "s.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('name = "C"', 'name = "D"', text.count('name = "C"')).replace("C = 0.1", "C = 0.2"))
    with pytest.raises(Unreadable, match="no screw 'C'") as caught:
        Session.load(file)
    assert caught.value.line is not None


def test_it_is_kept_with_the_machine_and_what_is_learned_too(tmp_path: Path) -> None:
    """The stored machine takes the head over, and nothing else; at the end of the job the lesson finds its mount."""
    session = begun(tmp_path)
    store = Store(tmp_path)
    store.save_machine(make_machine(guessed=("path.mirror1",), tolerance=0.7), replace=True)
    session.described(described(session, **SCREWS))
    said = keep_described(tmp_path, session)
    stored = store.find_machine("Shed laser")
    assert f"kept with the machine in {store.machine_path('Shed laser')}" in said
    assert (stored.tolerance, stored.lens, stored.mount(3)) == (0.7, session.machine.lens, session.machine.mount(3))
    assert set(stored.guessed) == set(session.machine.guessed)
    store.save_machine(stored.model_copy(update={"tolerance": 1.0}), replace=True)
    session.turn(3, {"B": 0.1})
    session.bed_mark(0.0, 0.0)
    assert "about the screws is kept in" in keep_learned(tmp_path, session)
    assert store.find_machine("Shed laser").mount(3).learned is not None


def test_a_machine_whose_owner_says_otherwise_is_left_as_it_is(tmp_path: Path) -> None:
    """Described in between from home, or not stored at all: the session knows it, the file stays."""
    session = begun(tmp_path)
    store = Store(tmp_path)
    other = Machine.model_validate(machine_table(mounts=[mount_table(mirror, arm=25) for mirror in (1, 2, 3)]))
    store.save_machine(other, replace=True)
    session.described(described(session, **SCREWS))
    assert "says otherwise of the head and was left as it is" in keep_described(tmp_path, session)
    assert store.find_machine("Shed laser") == other
    assert "left as it is" in keep_described(tmp_path / "elsewhere", session)
    assert session.machine.mount(3).points != other.mount(3).points


def test_half_a_description_waits_for_its_session(tmp_path: Path) -> None:
    """Left in the middle it goes on where it stood; it is no draft of a machine, and a broken one is let be."""
    session = begun(tmp_path)
    draft = begin_head(tmp_path, session)
    left = drafts.Draft(draft.path, draft.description.answered(TURNS, "no"), "lens.nozzle", "2,")
    drafts.keep(left)
    on = begin_head(tmp_path, session)
    assert (on.at, on.entry, on.description.answers[TURNS], on.path) == ("lens.nozzle", "2,", "no", left.path)
    assert on.description.before == session.machine
    assert drafts.drafts(tmp_path) == ((), ())
    left.path.write_text("schema = 1\nanswers = 3\n", encoding="utf-8")
    fresh = begin_head(tmp_path, session)
    assert fresh.path != left.path
    assert fresh.at == TURNS
    assert left.path.read_text(encoding="utf-8") == "schema = 1\nanswers = 3\n"
    drafts.keep(fresh)
    drafts.discard(fresh)
    assert not fresh.path.exists()
