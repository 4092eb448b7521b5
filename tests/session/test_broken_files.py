"""Files that something happened to: cut short, misspelt, impossible, newer, or no session at all."""

from pathlib import Path

import pytest

from coach import Machine, Session
from coach.errors import Unreadable
from coach.session.document import read
from coach.session.events import Event


def _saved(path: Path, demo: Machine) -> str:
    session = Session.start(demo)
    session.mark("back-left", u=1.2, v=-0.45, typed={"left": "4,2"})
    session.turn(1, {"B": -0.125})
    session.note("a note")
    session.undo()
    session.save(path)
    return path.read_text(encoding="utf-8")


def test_a_file_cut_anywhere_is_refused_or_holds_the_events_before_the_cut(tmp_path, demo) -> None:
    """Cut after any byte of the events, and many of the profile: either Unreadable, with the path and a line of
    the file, or the events before the cut.

    Of the event that was cut through, what stood after the cut may be missing (the coach itself never leaves
    half a file, see above); the cut file stays as it is.
    """
    path = tmp_path / "s.toml"
    whole = _saved(path, demo).encode()
    events = read(path).events
    loaded = 0
    for length in (*range(0, whole.index(b"[[events]]"), 29), *range(whole.index(b"[[events]]"), len(whole))):
        path.write_bytes(whole[:length])
        found, error = _read_or_error(path)
        if error is None:
            assert found[:-1] == events[: len(found[:-1])]
            assert [e.id for e in found] == [e.id for e in events[: len(found)]]
            loaded += 1
        else:
            assert error.path == path
            assert str(path) in str(error)
            assert error.line is None or 1 <= error.line <= whole[:length].count(b"\n") + 1
        assert path.read_bytes() == whole[:length]
    assert len(events) < loaded < 40


def _read_or_error(path: Path) -> tuple[tuple[Event, ...], Unreadable | None]:
    try:
        return read(path).events, None
    except Unreadable as error:
        return (), error


KEY, ADDED, ENTRY = "the key", "the line after the key", "the head of the entry"


@pytest.mark.parametrize(
    ("old", "new", "says", "where"),
    [
        ("v = -0.45", "v = ", "not valid TOML", KEY),
        ("v = -0.45", 'v = "far"', "far", KEY),
        ("v = -0.45", "v = nan", "finite", KEY),
        ("v = -0.45", "v = -0.45\nw = 1.0", "not known", ADDED),
        ("tolerance = 1.0", "tolerence = 1.0", "not known", KEY),
        ('side = "left"', 'side = "middle"', "middle", KEY),
        ('kind = "turn"', 'kind = "twist"', "twist", ENTRY),
        ("B = -0.125", "Z = -0.125", "'Z'", ENTRY),
        ("B = -0.125", "A = -0.125", "pivot", ENTRY),
        ("B = -0.125", "B = -12.5", "one turn", ENTRY),
        ("takes_back = 3", "takes_back = 7", "not an earlier one", ENTRY),
    ],
)
def test_a_broken_file_names_its_line_and_is_left_alone(old, new, says, where, tmp_path, demo) -> None:
    """Typing slips, unknown keys, wrong types, impossible turns: Unreadable with the reason and the line."""
    path = tmp_path / "s.toml"
    text = _saved(path, demo)
    assert text.count(old) == 1
    before = text[: text.index(old)].splitlines()
    key = len(before) + 1
    entry = max((n for n, line in enumerate(before, start=1) if line == "[[events]]"), default=0)
    path.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(Unreadable) as caught:
        Session.load(path)
    expected = {KEY: key, ADDED: key + 1, ENTRY: entry}[where]
    assert expected in [line for line, reason in caught.value.problems if says in reason]
    assert f"{path}, line {caught.value.line}: " in str(caught.value)
    assert caught.value.line is not None
    assert abs(caught.value.line - expected) <= 2  # a misspelt key is also a missing one, in the table around it
    assert path.read_text(encoding="utf-8") == text.replace(old, new)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "schema"),
        (b"schema = 1\n", "missing"),
        (b"schema = 99\n", "newer coach"),
        (b"schema = 0\n", "not known"),
        (b'schema = "1"\n', "schema"),
        (b"schema = 1\ntitle = \xff\n", "UTF-8"),
        (b"a = " + b"[" * 20_000, "nested"),
    ],
)
def test_what_is_no_session_file_is_refused(content, says, tmp_path) -> None:
    """Empty, newer, older than known, not text: Unreadable, and never a traceback."""
    path = tmp_path / "s.toml"
    path.write_bytes(content)
    with pytest.raises(Unreadable, match=says):
        Session.load(path)
    assert path.read_bytes() == content


def test_a_folder_or_nothing_at_all_is_no_session_file(tmp_path) -> None:
    """A missing file and a folder are told apart from broken ones."""
    with pytest.raises(Unreadable, match="no such file"):
        Session.load(tmp_path / "s.toml")
    with pytest.raises(Unreadable):
        Session.load(tmp_path)
