"""The index of sessions: never needed for an answer, never trusted beyond what the files' stamps say."""

import os
import shutil
import sqlite3
import stat
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from machines import make_machine

from coach import Session
from coach.errors import CoachError
from coach.session.document import Practice, read
from coach.session.events import EVENT
from coach.session.found import Found
from coach.session.index import Facet, survey
from coach.session.shelf import NAME
from coach.session.store import Store, newest_first, summaries
from coach.session.summary import SUMMARY, TELLS_NOTHING, Summary, summary_of
from coach.steps.entries import doing_words

NOTES = Facet("notes", lambda document: [event.text for event in document.events if event.kind == "note"])
TICKS = 10_000
"""So often a file is written until its file system's clock has moved on."""


def later() -> int:
    """A clock by which every file was written long ago."""
    return time.time_ns() + 60_000_000_000


def noted(folder: Path, name: str, *notes: str, practice: bool = False) -> Path:
    """A session with these notes."""
    session = Session.start(make_machine(), practice=Practice(seed=7) if practice else None)
    for note in notes:
        session.note(note)
    path = folder / "sessions" / f"{name}.toml"
    session.save(path)
    return path


def from_files(folder: Path) -> list[Found[Summary]]:
    """What the files themselves say."""
    found: list[Found[Summary]] = []
    for each in survey_of(folder):
        try:
            found.append(each.holding(summary_of(read(each.path))))
        except CoachError as error:
            found.append(Found(each.path, None, str(error), getattr(error, "line", None), each.stamp))
    return newest_first(found)


def survey_of(folder: Path) -> tuple[Found, ...]:
    """Every file with its stamp, asked nothing."""
    return survey(folder, (), now=later).found


def listed(folder: Path) -> list[Found[Summary]]:
    """What the index says."""
    return summaries(survey(folder, (SUMMARY, NOTES), now=later).found)


def in_place(path: Path, text: str) -> None:
    """Another text of the same length in the same file, with the old time put back: as unnoticeable as can be."""
    before = path.stat()
    for _ in range(TICKS):
        path.write_text(text[: before.st_size].ljust(before.st_size))
        os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
        if path.stat().st_ctime_ns != before.st_ctime_ns:
            return
    raise AssertionError("the file system's clock stands still")


ACTS: dict[str, Callable[[Path, Path], object]] = {
    "written": lambda folder, path: noted(folder, path.stem, "dust", "more"),
    "written of practice": lambda folder, path: noted(folder, path.stem, practice=True),
    "one entry more": lambda _, path: Session.resume(path).note("more"),
    "cut short": lambda _, path: path.write_bytes(path.read_bytes()[: path.stat().st_size // 2]),
    "changed in place": lambda _, path: in_place(path, path.read_text().replace("Shed", "Barn")),
    "taken away": lambda _, path: path.unlink(),
    "copied over": lambda folder, path: shutil.copy2(noted(folder, "z", "copied"), path),
    "touched": lambda _, path: os.utime(path, (1, 1)),
    "a folder": lambda _, path: (path.unlink(missing_ok=True), path.mkdir()),
    "index gone": lambda folder, _: (folder / NAME).unlink(missing_ok=True),
    "index cut short": lambda folder, _: (folder / NAME).write_bytes((folder / NAME).read_bytes()[:5000]),
}


@settings(max_examples=12)
@given(st.lists(st.tuples(st.sampled_from(sorted(ACTS)), st.sampled_from("abc"), st.booleans()), max_size=12))
@example([("written", "a", True), ("changed in place", "a", False)])
def test_the_index_says_what_the_files_say(tmp_path_factory: pytest.TempPathFactory, acts: list) -> None:
    """Whatever is done to the files or to the index, between lists or unlisted."""
    folder = tmp_path_factory.mktemp("data")
    noted(folder, "a", "dust")
    for act, name, looks in acts:
        try:
            ACTS[act](folder, folder / "sessions" / f"{name}.toml")
        except (OSError, CoachError):
            continue  # nothing there to be done that to
        if looks:
            listed(folder)
    assert listed(folder) == from_files(folder)
    assert listed(folder) == from_files(folder)


def test_what_is_known_is_not_read_again(tmp_path: Path) -> None:
    """Only what changed since is; another question is asked of the files, and the answers to both are kept."""
    for name in "abc":
        noted(tmp_path, name)
    assert survey(tmp_path, (SUMMARY,), now=later).read == 3
    assert survey(tmp_path, (SUMMARY,), now=later).read == 0
    Session.resume(tmp_path / "sessions" / "b.toml").note("more")
    assert survey(tmp_path, (SUMMARY,), now=later).read == 1
    assert survey(tmp_path, (NOTES,), now=later).read == 3
    again = survey(tmp_path, (SUMMARY, NOTES), now=later)
    assert (again.read, again.index) == (0, "good")
    assert [each.content and each.content["notes"] for each in again.found] == [[], ["more"], []]


def test_who_reads_a_file_asks_for_the_others_too(tmp_path: Path) -> None:
    """The first screen then need not read it again; what is known is not read for that."""
    noted(tmp_path, "a", "dust")
    assert survey(tmp_path, (SUMMARY,), besides=lambda: (NOTES,), now=later).read == 1
    assert survey(tmp_path, (SUMMARY, NOTES), now=later).read == 0
    noted(tmp_path, "b")
    assert survey(tmp_path, (SUMMARY,), now=later).read == 1
    assert survey(tmp_path, (SUMMARY,), besides=lambda: (NOTES,), now=later).read == 0


def test_what_was_written_just_now_is_read_each_time(tmp_path: Path) -> None:
    """Within one tick of the file system's clock it could be written again without a sign of it."""
    noted(tmp_path, "a")
    assert [survey(tmp_path, (SUMMARY,)).read for _ in range(2)] == [1, 1]


def test_broken_files_are_listed_with_their_reason_from_the_index_too(tmp_path: Path) -> None:
    """The same sentence and line; a mended file is noticed."""
    path = noted(tmp_path, "a")
    whole = path.read_text()
    path.write_text(whole + "flavour = 1\n")
    first, again = listed(tmp_path), listed(tmp_path)
    assert first == again
    assert "flavour" in first[0].problem
    assert str(path) in first[0].problem
    assert first[0].line == whole.count("\n") + 1
    path.write_text(whole)
    assert listed(tmp_path)[0].content


def _sql(*statements: str) -> Callable[[Path], None]:
    def hurt(path: Path) -> None:
        with sqlite3.connect(path) as database:
            for statement in statements:
                database.execute(statement)
        database.close()

    return hurt


SPOILED: dict[str, Callable[[Path], object]] = {
    "empty": lambda path: path.write_bytes(b""),
    "no database": lambda path: path.write_bytes(b"schema = 3\n" * 500),
    "cut short": lambda path: path.write_bytes(path.read_bytes()[:6000]),
    "a page overwritten": lambda path: path.write_bytes(path.read_bytes()[:4096] + b"\x5a" * 4096),
    "of another program": _sql("PRAGMA application_id = 7"),
    "of a newer coach": _sql("PRAGMA user_version = 99", "DROP TABLE sessions"),
    "of another version": _sql("UPDATE made SET by = 'another'"),
    "a table missing": _sql("DROP TABLE sessions"),
    "an answer changed": _sql("""UPDATE sessions SET told = replace(told, 'Shed', 'Barn')"""),
    "an answer cut": _sql("UPDATE sessions SET told = substr(told, 1, 9)"),
}


@pytest.mark.parametrize("how", SPOILED)
def test_a_spoiled_index_is_noticed_and_made_anew(how: str, tmp_path: Path) -> None:
    """The answers are right at once, and the next list reads no file."""
    noted(tmp_path, "a", "dust")
    truth = listed(tmp_path)
    SPOILED[how](tmp_path / NAME)
    spoiled = survey(tmp_path, (SUMMARY, NOTES), now=later)
    assert (spoiled.read, summaries(spoiled.found)) == (1, truth)
    assert spoiled.index != "good"
    again = survey(tmp_path, (SUMMARY, NOTES), now=later)
    assert (again.read, again.index, summaries(again.found)) == (0, "good", truth)
    assert stat.S_IMODE((tmp_path / NAME).stat().st_mode) == 0o600


@pytest.mark.parametrize("how", ["a folder", "a pipe", "a link", "no SQLite"])
def test_without_an_index_the_answers_are_the_same(how: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where something else stands in its place that is left alone."""
    noted(tmp_path, "a", "dust")
    if how == "a folder":
        (tmp_path / NAME).mkdir()
    elif how == "a pipe":
        os.mkfifo(tmp_path / NAME)
    elif how == "a link":
        (tmp_path / NAME).symlink_to(tmp_path / "elsewhere")
    else:
        monkeypatch.setitem(sys.modules, "sqlite3", None)
    for _ in range(2):
        found = survey(tmp_path, (SUMMARY,), now=later)
        assert (found.read, [each.path.stem for each in found.found if each.content]) == (1, ["a"])
        assert found.index not in ("good", "not there yet")
    assert not (tmp_path / "elsewhere").exists()


def test_several_may_make_it_at_once(tmp_path: Path) -> None:
    """Each has the right answers, and what they leave is whole."""
    for number in range(12):
        noted(tmp_path, f"s{number}")
    with ThreadPoolExecutor(6) as pool:
        found = list(pool.map(lambda _: listed(tmp_path), range(12)))
    assert all(each == found[0] for each in found)
    assert survey(tmp_path, (SUMMARY, NOTES), now=later).index == "good"
    assert listed(tmp_path) == found[0]


def test_who_leaves_before_the_end_keeps_what_was_read(tmp_path: Path) -> None:
    """What hears how far it is may end it; the next reads only the others."""
    for name in "abcd":
        noted(tmp_path, name)

    def leave(number: int, of: int) -> None:
        assert of == 4
        if number == 3:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        survey(tmp_path, (SUMMARY,), told=leave, now=later)
    assert survey(tmp_path, (SUMMARY,), now=later).read == 1


@pytest.mark.parametrize("kind", get_args(get_args(EVENT._type)[0]), ids=lambda kind: kind.__name__)
def test_what_a_session_was_in_the_middle_of_is_known_from_one_entry(kind: type) -> None:
    """The entries that lists pass over are those that say nothing of it, and no others."""
    about = {"station": "middle", "outcome": "mark", "name": "lens", "optic": "lens", "part": "beam path"}
    said = doing_words((kind.model_construct(**about),))
    name = kind.model_fields["kind"].default
    assert (said == doing_words(())) == (name in TELLS_NOTHING), "doing_words and TELLS_NOTHING disagree"


def test_visits_are_those_to_one_machine_and_no_practice(tmp_path: Path) -> None:
    """Broken ones are left out, and each can be gone through more than once."""
    store = Store(tmp_path)
    noted(tmp_path, "a", "dust")
    noted(tmp_path, "b", practice=True)
    noted(tmp_path, "c").write_text("schema = ")
    Session.start(make_machine(name="Other")).save(tmp_path / "sessions" / "d.toml")
    visits = store.visits("Shed laser")
    assert [[len(each.events) for each in visits] for _ in range(2)] == [[1], [1]]
