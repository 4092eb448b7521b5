"""Half-described machines on disk, and what keeping a machine does to files that are there."""

from pathlib import Path

import pytest
from machines import make_machine

from coach import Machine, Session
from coach.describing import drafts
from coach.describing.drafts import Draft
from coach.describing.saving import save
from coach.errors import InputError, Unreadable
from coach.session.store import Store

ANSWERS = {"name": "Shed laser", "bed.width": "23,6 in", "bed.depth": "400", "path.side": "right"}


def draft_in(folder: Path, **more: str) -> Draft:
    draft = drafts.begin(folder)
    description = draft.description
    for key, text in (ANSWERS | more).items():
        description = description.answered(key, text)
    return Draft(draft.path, description, "path.mirror1_gap", "15")


def test_a_draft_comes_back_as_it_was_left(tmp_path: Path) -> None:
    """Answers, the question it stood at and what was half typed; a second one is begun beside it."""
    draft = draft_in(tmp_path)
    drafts.keep(draft)
    assert drafts.drafts(tmp_path) == ((draft,), ())
    assert drafts.begin(tmp_path).path != draft.path


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("schema = 1", "schema = 2", "schema"),
        ('"400"', '"wide"', "answers.bed.depth"),
        ("bed.depth", "bed.height", "not known"),
        ("[answers]", "[answers", "TOML"),
    ],
)
def test_a_broken_draft_is_told_and_left(tmp_path: Path, old: str, new: str, words: str) -> None:
    """One sentence names the file; the file stays, and a new description does not overwrite it."""
    drafts.keep(draft_in(tmp_path))
    path = tmp_path / "drafts" / "describe.toml"
    path.write_text(path.read_text().replace(old, new))
    broken = path.read_bytes()
    found, (problem,) = drafts.drafts(tmp_path)
    assert found == ()
    assert str(path) in problem
    assert words in problem
    with pytest.raises(Unreadable):
        drafts.read(path)
    drafts.keep(draft_in(tmp_path))
    assert path.read_bytes() == broken


def test_saving_makes_a_machine_of_the_draft(tmp_path: Path) -> None:
    """The machine is in the store, the draft is gone; a name that is taken is refused and harms neither."""
    store, draft = Store(tmp_path), draft_in(tmp_path)
    drafts.keep(draft)
    path = save(store, draft)
    assert Machine.load(path).name == "Shed laser"
    assert not draft.path.exists()
    before = path.read_bytes()
    again = draft_in(tmp_path, **{"bed.depth": "300"})
    drafts.keep(again)
    with pytest.raises(InputError, match="already a machine"):
        save(store, again)
    assert path.read_bytes() == before
    assert again.path.exists()


def test_a_change_writes_the_same_file_and_harms_no_session(tmp_path: Path) -> None:
    """Sessions carry the machine as it was: their bytes stay, and they replay to the same advice."""
    store = Store(tmp_path)
    path = store.save_machine(make_machine())
    session = Session.start(Machine.load(path))
    session.keep_in(tmp_path / "sessions" / "old.toml")
    for name, u, v in (("back-left", 1.2, -0.4), ("middle", 1.8, 1.0), ("front-right", 2.6, 2.9)):
        session.mark(name, u=u, v=v)
    before, advice = (tmp_path / "sessions" / "old.toml").read_bytes(), session.advice()
    draft = drafts.begin_change(tmp_path, path)
    changed = draft.description.answered("path.mirror1_gap", "300").answered("mounts.1.drive", "pull")
    assert save(store, Draft(draft.path, changed, machine=path)) == path
    assert Machine.load(path).path.mirror1_gap == 300.0
    assert (tmp_path / "sessions" / "old.toml").read_bytes() == before
    again = Session.load(tmp_path / "sessions" / "old.toml")
    assert again.machine.path.mirror1_gap == 150.0
    assert again.advice() == advice


def test_a_new_name_moves_the_machine(tmp_path: Path) -> None:
    """Renamed, it has a file of its new name and no second one; onto another machine's name it is refused."""
    store = Store(tmp_path)
    path = store.save_machine(make_machine())
    other = store.save_machine(make_machine(name="Other"))
    draft = drafts.begin_change(tmp_path, path)
    with pytest.raises(InputError, match="already"):
        save(store, Draft(draft.path, draft.description.answered("name", "Other"), machine=path))
    assert path.exists()
    moved = save(store, Draft(draft.path, draft.description.answered("name", "Barn"), machine=path))
    assert sorted(found.path for found in store.machines()) == sorted((moved, other))
    same = drafts.begin_change(tmp_path, moved)
    assert save(store, Draft(same.path, same.description.answered("name", "BARN"), machine=moved)) == moved
    assert Machine.load(moved).name == "BARN"


def test_a_changed_machine_that_is_gone_goes_on_as_a_new_one(tmp_path: Path) -> None:
    """Nothing that was answered is lost when the machine's file was removed meanwhile."""
    store = Store(tmp_path)
    path = store.save_machine(make_machine())
    draft = drafts.begin_change(tmp_path, path)
    drafts.keep(draft)
    path.unlink()
    (found,), problems = drafts.drafts(tmp_path)
    assert (found.machine, found.description.before, problems) == (None, None, ())
    machine = Machine.load(save(store, found))
    assert machine.model_copy(update={"guessed": ()}) == make_machine()
