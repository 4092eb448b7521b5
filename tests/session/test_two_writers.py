"""Several programs at once: who is told that an entry is kept can rely on it."""

import errno
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import filelock
import pytest
from machines import make_machine

from coach import Machine, MachineLog, Session, files
from coach.describing import drafts
from coach.describing.description import Description
from coach.describing.from_machine import describe
from coach.describing.saving import save
from coach.errors import Changed, CoachError, InputError, Taken, Unwritable
from coach.parts import PartMove
from coach.session.document import read
from coach.session.store import Store

WRITERS, EACH, TRIES = 8, 5, 400
AT_ONCE = 5
TUBE_FIXED = PartMove(part="tube", up=0.0, back=0.0)


def noted(path: Path, writer: int) -> list[str]:
    """The notes that this writer was told are kept."""
    kept = []
    for number in range(EACH):
        text = f"{writer} wrote {number}"
        for _ in range(TRIES):
            try:
                Session.resume(path).note(text)
            except Changed:
                continue
            kept.append(text)
            break
    return kept


def test_no_note_of_many_writers_is_lost(tmp_path: Path, demo: Machine) -> None:
    """Eight writers at once on one file, each entry checked and renamed as one: all that were kept are there."""
    path = Session.start(demo).keep_new(tmp_path)
    with ThreadPoolExecutor(WRITERS) as pool:
        kept = [text for texts in pool.map(lambda writer: noted(path, writer), range(WRITERS)) for text in texts]
    assert len(kept) == WRITERS * EACH
    events = read(path).events
    assert sorted(event.text for event in events) == sorted(kept)
    assert [event.id for event in events] == list(range(1, len(kept) + 1))


def shell(folder: Path, *words: str) -> subprocess.Popen[str]:
    call = [sys.executable, "-m", "coach", "--data", str(folder), *words]
    return subprocess.Popen(call, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def test_shell_entries_at_once_all_come_through(tmp_path: Path, demo: Machine) -> None:
    """Five notes typed in five shells at the same moment: each says that it is noted, and is there."""
    path = Session.start(demo).keep_new(tmp_path)
    running = [shell(tmp_path, "note", str(path), f"note {number}") for number in range(AT_ONCE)]
    said = [(*process.communicate(timeout=120), process.returncode) for process in running]
    assert [status for _, _, status in said] == [0] * AT_ONCE, said
    assert {event.text for event in read(path).events} == {f"note {number}" for number in range(AT_ONCE)}


def test_sessions_begun_at_once_get_a_file_each(tmp_path: Path, demo: Machine) -> None:
    """Sixteen sessions of one name in one second, eight at a time: sixteen files."""
    with ThreadPoolExecutor(WRITERS) as pool:
        paths = list(pool.map(lambda _: Session.start(demo).keep_new(tmp_path), range(2 * WRITERS)))
    assert len(set(paths)) == len(Store(tmp_path).sessions()) == 2 * WRITERS


def test_a_new_file_never_replaces_one(tmp_path: Path) -> None:
    """Nor a link that leads nowhere; what was there stays."""
    path, link = tmp_path / "a.toml", tmp_path / "b.toml"
    path.write_text("of somebody else")
    link.symlink_to(tmp_path / "nowhere")
    for taken in (path, link):
        with pytest.raises(Taken, match="already"):
            files.create_toml(taken, {"a": 1})
    assert path.read_text() == "of somebody else"
    assert not (tmp_path / "nowhere").exists()


def test_a_file_of_the_same_size_and_time_is_still_another(tmp_path: Path) -> None:
    """Two writings within one tick of the file system's clock: the second is told that the file changed."""
    path = tmp_path / "a.toml"
    known = files.create_toml(path, {"a": 1})
    status = path.stat()
    files.write_toml(path, {"a": 2})
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))
    assert (path.stat().st_mtime_ns, path.stat().st_size) == (status.st_mtime_ns, status.st_size)
    with pytest.raises(Changed):
        files.write_if_unchanged(path, {"a": 3}, known)
    assert files.read_toml(path) == {"a": 2}


def test_one_that_never_ends_is_told_about(tmp_path: Path, demo: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another program holds the folder, an entry is refused in a sentence and can be made again."""
    session = Session.start(demo)
    path = session.keep_new(tmp_path)
    monkeypatch.setattr(files, "LONGEST_WAIT", 0.0)
    with files.locked(path), ThreadPoolExecutor(1) as another:
        refused = another.submit(session.note, "smoke").exception(timeout=60)
    assert isinstance(refused, Unwritable)
    assert "another program is writing" in str(refused)
    assert read(path).events == session.events == ()
    session.note("smoke")
    assert read(path).events == session.events != ()


def test_two_descriptions_begun_at_once_are_two_drafts(tmp_path: Path) -> None:
    """Both chose the same name before either was on disk; the later one takes another, and both go on."""
    one, other = drafts.begin(tmp_path), drafts.begin(tmp_path)
    assert one.path == other.path
    kept = [drafts.keep(replace(draft, entry=text)) for draft, text in ((one, "600"), (other, "400"))]
    again = [drafts.keep(replace(draft, at="bed.width")) for draft in kept]
    assert {draft.entry for draft in drafts.drafts(tmp_path)[0]} == {"600", "400"}
    assert len({draft.path for draft in again}) == 2


def test_a_draft_open_in_two_programs_is_told_to_the_second(tmp_path: Path) -> None:
    """Neither writes over the other's answers."""
    path = drafts.keep(drafts.begin(tmp_path)).path
    one, other = drafts.read(path), drafts.read(path)
    drafts.keep(replace(one, entry="600"))
    with pytest.raises(Changed, match="another program changed"):
        drafts.keep(replace(other, entry="400"))
    assert drafts.read(path).entry == "600"


def changed(machine: Machine, **answers: str) -> Description:
    description = describe(machine)
    for key, text in answers.items():
        description = description.answered(key.replace("__", "."), text)
    return description


def test_a_machine_changed_while_something_was_learned_keeps_both(tmp_path: Path, demo: Machine) -> None:
    """A session found the tube fixed while its owner was changing the opening; at the end both stand in the file."""
    store = Store(tmp_path)
    path = store.save_machine(demo)
    draft = replace(drafts.begin_change(tmp_path, path), description=changed(demo, aperture__head="16"))
    store.change_machine(demo.name, lambda now: now.model_copy(update={"moves": (TUBE_FIXED,)}))
    assert save(store, draft) == path
    kept = Machine.load(path)
    assert kept.aperture.head == 16.0
    assert kept.reach("tube", "up") == 0.0


def test_what_the_person_said_wins(tmp_path: Path, demo: Machine) -> None:
    """Both changed the same value: the one who answers now is asked last."""
    store = Store(tmp_path)
    path = store.save_machine(demo)
    draft = replace(drafts.begin_change(tmp_path, path), description=changed(demo, tolerance="0.5"))
    store.change_machine(demo.name, lambda now: now.model_copy(update={"tolerance": 2.0}))
    save(store, draft)
    assert Machine.load(path).tolerance == 0.5


def test_lessons_of_two_sessions_are_put_one_on_the_other(tmp_path: Path, demo: Machine) -> None:
    """Eight changes of one profile at once: none is lost."""
    store = Store(tmp_path)
    store.save_machine(demo)

    def wider(_: int) -> None:
        store.change_machine(demo.name, lambda now: now.model_copy(update={"tolerance": now.tolerance + 0.25}))

    with ThreadPoolExecutor(WRITERS) as pool:
        list(pool.map(wider, range(WRITERS)))
    assert store.find_machine(demo.name).tolerance == demo.tolerance + 0.25 * WRITERS


def test_a_change_that_is_refused_writes_nothing(tmp_path: Path, demo: Machine) -> None:
    """A rename to a name that is taken: both files as they were."""
    store = Store(tmp_path)
    path, other = store.save_machine(demo), store.save_machine(make_machine(name="Barn laser"))
    before = path.read_bytes(), other.read_bytes()
    draft = replace(drafts.begin_change(tmp_path, path), description=changed(demo, name="Barn laser"))
    with pytest.raises(InputError, match="already"):
        save(store, draft)
    with pytest.raises(CoachError):
        store.change_machine("Attic", lambda now: now)
    assert (path.read_bytes(), other.read_bytes()) == before


def test_no_entry_of_a_log_is_lost(tmp_path: Path) -> None:
    """Eight programs open one machine's log and each enters what was done: all of it stands there."""
    logs = [MachineLog.open("Shed laser", tmp_path) for _ in range(WRITERS)]
    with ThreadPoolExecutor(WRITERS) as pool:
        list(pool.map(lambda log: log.done("lens"), logs))
    assert [entry.id for entry in MachineLog.open("Shed laser", tmp_path).events] == list(range(1, WRITERS + 1))


@pytest.mark.parametrize("error", [OSError(errno.ENOTSUP, "Operation not supported"), NotImplementedError()])
def test_where_nothing_can_be_locked_it_is_written_all_the_same(
    error: Exception, tmp_path: Path, demo: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file system that knows no locks: every entry whole, and whoever comes second is still told."""

    def refused(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(filelock.FileLock, "acquire", refused)
    session = Session.start(demo)
    path = session.keep_new(tmp_path)
    session.note("smoke")
    Session.resume(path).note("of another")
    with pytest.raises(Changed):
        session.note("more")
    assert [event.text for event in read(path).events] == ["smoke", "of another"]
