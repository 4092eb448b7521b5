"""The numbers of entries: what amendments and undos lean on."""

from pathlib import Path

import pytest
from machines import make_machine

from coach import Session
from coach.errors import Unreadable


def _written(path: Path) -> str:
    session = Session.start(make_machine())
    session.mark("back-left", u=0.1, v=0.2)
    session.mark("middle", u=0.3, v=0.4)
    session.note("looked twice")
    session.save(path)
    return path.read_text(encoding="utf-8")


def test_entries_count_up_by_one_whatever_was_taken_back(tmp_path: Path) -> None:
    """1, 2, 3 …, undone entries and the undos themselves included, also after a resume: no number comes twice."""
    path = tmp_path / "s.toml"
    session = Session.start(make_machine())
    session.keep_in(path)
    session.mark("back-left", u=0.1, v=0.2)
    session.undo()
    session.mark("back-left", u=0.3, v=0.2)
    session.undo()
    session = Session.resume(path)
    session.opened()
    session.mark("middle", u=0.1, v=0.2)
    session.amend(6, u=0.2, v=0.2)
    assert [event.id for event in session.events] == [1, 2, 3, 4, 5, 6, 7]
    assert [event.id for event in Session.load(path).events] == [1, 2, 3, 4, 5, 6, 7]


@pytest.mark.parametrize("ids", [(2, 1, 3), (1, 3, 2), (1, 1, 2), (1, 2, 2), (3, 2, 1)])
def test_a_file_whose_entries_are_out_of_order_is_refused(tmp_path: Path, ids: tuple[int, ...]) -> None:
    """Moved or doubled by hand: which entry an undo or an amendment means could not be told.  The file stays."""
    path = tmp_path / "s.toml"
    text = _written(path)
    for number in (1, 2, 3):
        text = text.replace(f"\nid = {number}\n", f"\nid = @{ids[number - 1]}\n")
    path.write_text(text.replace("@", ""), encoding="utf-8")
    with pytest.raises(Unreadable, match="upwards"):
        Session.load(path)
    assert path.read_text(encoding="utf-8") == text.replace("@", "")


def test_numbers_may_be_left_out(tmp_path: Path) -> None:
    """Whoever takes an entry out of the file by hand need not count the others anew; the next one comes after."""
    path = tmp_path / "s.toml"
    path.write_text(_written(path).replace("\nid = 3\n", "\nid = 7\n"), encoding="utf-8")
    session = Session.load(path)
    session.note("on")
    assert [event.id for event in session.events] == [1, 2, 7, 8]
